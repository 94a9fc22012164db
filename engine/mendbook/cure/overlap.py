"""How far heated pads must reach past the injury, and what a pad that is too small costs.

The cure time is that of a wall without edges. At its edge a pad loses heat sideways, and rubber under the rim of
the pad cures later. How much later was computed in two dimensions (depth and radius) for a round pad on both faces
of filled rubber at 140 °C, 20 °C around, 10 W/(m2 K) lost beside the pad, heating only. The tests recompute it.
H below is half the thickness: how far heat has to go when both faces are heated.
"""

from math import sqrt

import numpy as np

# thickness [mm]: distance from the pad's edge, in H, at which rubber gets 95 % of the centre's cure
_EDGE = (
    (20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 120.0, 150.0),
    (2.74, 2.64, 2.54, 2.38, 2.27, 2.19, 2.13, 2.05),
)

# time of the centre under a pad of radius b against that under a wide one; columns b/H, rows thickness [mm]
_RADII = (1.5, 2.0, 2.5, 3.0, 4.0, 5.0)
_FACTORS = (
    (20.0, (2.21, 1.41, 1.17, 1.077, 1.017, 1.004)),
    (40.0, (1.84, 1.26, 1.09, 1.034, 1.005, 1.001)),
    (80.0, (1.46, 1.13, 1.04, 1.012, 1.002, 1.000)),
    (150.0, (1.27, 1.07, 1.02, 1.005, 1.001, 1.000)),
)


class PadTooSmallError(ValueError):
    """A pad under which even the centre of the injury does not cure in a sensible time."""


def overlap_needed(thickness_mm: float, in_plane_ratio: float = 1.0, one_sided: bool = False) -> float:
    """Return how far the heated area must reach past the injury on every side [mm].

    There the edge of the injury gets 95 % of the cure of its centre.

    thickness_mm : of the wall under the pads [mm]; computed for 20 to 150, the ends are held beyond
    in_plane_ratio : conductivity along the wall over that through it [-]; distances grow with its square root
    one_sided : one face heated: heat goes the whole thickness instead of half of it

    An edge strip of the pad that itself stays cool is to be added.
    """
    reach = thickness_mm if one_sided else thickness_mm / 2
    return float(np.interp(2 * reach, *_EDGE)) * reach * sqrt(in_plane_ratio)


def centre_factor(pad_radius_mm: float, thickness_mm: float, one_sided: bool = False) -> float:
    """Return by how much longer the centre under a round pad cures than the order says [-], 1 or more.

    pad_radius_mm : of the heated area, or half its shorter side [mm]
    thickness_mm : of the wall under the pads [mm]; computed for 20 to 150, the ends are held beyond

    Raises PadTooSmallError below 1.5 H.
    """
    reach = thickness_mm if one_sided else thickness_mm / 2
    if pad_radius_mm < _RADII[0] * reach:
        raise PadTooSmallError(
            f"a heated area {2 * pad_radius_mm:.0f} mm across does not cure a wall of {thickness_mm:.0f} mm. "
            f"Take one of {2 * _RADII[0] * reach:.0f} mm at the very least; with {8 * reach:.0f} mm no time is lost."
        )
    by_thickness = [float(np.interp(pad_radius_mm / reach, _RADII, row)) for _, row in _FACTORS]
    return float(np.interp(2 * reach, [thickness for thickness, _ in _FACTORS], by_thickness))
