"""How heat goes along a wall while it goes through it.

Layers carry heat along the wall side by side. What decides is how well they do so where the wall is coldest: each
counts by the square of the slowest profile, a half wave between two pads, a quarter wave before a face without one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sin, sqrt

from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Layer


@dataclass(frozen=True)
class Sideways:
    """A wall as heat along it meets it."""

    thickness_mm: float
    one_sided: bool  # one face alone is heated
    through: float  # conductivity through the whole wall [W/(m K)]
    along: float  # conductivity along it [W/(m K)]
    heat: float  # capacity [J/(m3 K)]

    @property
    def way_mm(self) -> float:
        """How far heat has to go through the wall [mm]."""
        return self.thickness_mm if self.one_sided else self.thickness_mm / 2

    @property
    def in_plane_ratio(self) -> float:
        """Conductivity along the wall over that through it [-]."""
        return self.along / self.through

    @property
    def unit_mm(self) -> float:
        """The length along the wall that is to heat what its way through the wall is [mm]."""
        return self.way_mm * sqrt(self.in_plane_ratio)

    @property
    def diffusivity(self) -> float:
        """Along the wall [m2/s]."""
        return self.along / self.heat


def look_sideways(layers: Sequence[Layer], *, outside: bool = True, inside: bool = True) -> Sideways:
    """Return a wall of `layers` as heat along it meets it; `outside`, `inside`: which faces are heated."""
    total = sum(layer.thickness_mm for layer in layers)
    along = heat = resistance = above = 0.0
    for layer in layers:
        material, below = layer.material, above + layer.thickness_mm
        weight = _coldness(below / total, outside, inside) - _coldness(above / total, outside, inside)
        along += weight * material.conductivity_W_mK * material.in_plane_ratio
        heat += weight * material.density_kg_m3 * material.heat_capacity_J_kgK
        resistance += layer.thickness_mm / material.conductivity_W_mK
        above = below
    return Sideways(total, not (outside and inside), total / resistance, along, heat)


def _coldness(depth: float, outside: bool, inside: bool) -> float:
    """Return the share of the squared slowest profile from the outside face down to `depth` [shares]."""
    if outside and inside:
        return depth - sin(2 * pi * depth) / (2 * pi)
    return depth + (sin(pi * depth) if inside else -sin(pi * depth)) / pi


def look_along(order: CureOrder) -> Sideways:
    """Return the wall of `order` as heat along it meets it."""
    return look_sideways(order.layers, outside=order.outside.present, inside=order.inside.present)
