"""How far heated pads must reach past the injury, before anything else of its cure is known.

At its edge a pad loses heat sideways, and rubber under the rim of the pad cures later. The distance was computed in
two dimensions (`disc`) for wide round pads on both faces of filled rubber at 140 °C, 20 °C around, 10 W/(m2 K) lost
beside the pad, heating only; the tests recompute it, and say how far other walls are off. What the pads there are cost
in minutes is `reach`. H below is half the thickness: how far heat has to go when both faces are heated.
"""

from math import sqrt

import numpy as np

# thickness [mm]: distance from the pad's edge, in H, at which rubber gets 95 % of the centre's cure
_EDGE = (
    (20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 120.0, 150.0),
    (2.74, 2.64, 2.54, 2.38, 2.27, 2.19, 2.13, 2.05),
)


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
