"""The skived injury as a shape: its openings, its depth, what lies over it inside, and where it sits."""

from dataclasses import dataclass
from math import pi, radians, sqrt, tan

from mendbook.plan.request import Wanted
from mendbook.plan.size import Size

BEVEL = 60.0  # deg; common practice is 45 to 60, no source: the steepest needs the least rubber
REINFORCED = ("reinforce", "section")
_SURFACE_POWER = 1.6075


@dataclass(frozen=True)
class Cavity:
    """What is filled [mm]. `inside` is the opening at the liner where a break seen from inside is larger."""

    opening: Size
    floor: Size
    depth: float
    is_through: bool
    inside: Size | None = None

    @property
    def middle(self) -> Size:
        """Its size half way through, where heat comes last [mm]."""
        lower = self.inside or self.floor
        return Size((self.opening.around + lower.around) / 2, (self.opening.across + lower.across) / 2)

    @property
    def widest_inside(self) -> Size:
        """What heat from inside must reach past [mm]: from half way through, where it comes last, to the inside."""
        return self.middle.joined(self.inside or self.floor)

    @property
    def volume(self) -> float:
        """Its volume [mm3].

        A frustum between two ellipses where it goes through (two, mouth to mouth, where it is wider inside),
        half an ellipsoid where it does not.
        """
        if not self.is_through:
            return 2 / 3 * ellipse(self.opening) * self.depth
        if self.inside is None:
            return frustum(self.opening, self.floor, self.depth)
        half = self.depth / 2
        return frustum(self.opening, self.floor, half) + frustum(self.floor, self.inside, half)

    @property
    def wall(self) -> float:
        """The area of its walls [mm2]: the mean girth of both ends times the slant, or half an ellipsoid."""
        if not self.is_through:
            return bowl(self.opening, self.depth)
        if self.inside is None:
            return flank(self.opening, self.floor, self.depth)
        half = self.depth / 2
        return flank(self.opening, self.floor, half) + flank(self.floor, self.inside, half)


def ellipse(size: Size) -> float:
    """Return the area of the ellipse in `size` [mm2]."""
    return pi / 4 * size.area


def girth(size: Size) -> float:
    """Return the perimeter of the ellipse in `size` [mm], Ramanujan's first formula (from memory)."""
    a, b = size.around / 2, size.across / 2
    return pi * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)))


def frustum(mouth: Size, floor: Size, height: float) -> float:
    """Return the volume between two ellipses `height` apart [mm3]."""
    top, bottom = ellipse(mouth), ellipse(floor)
    return height / 3 * (top + bottom + sqrt(top * bottom))


def flank(mouth: Size, floor: Size, height: float) -> float:
    """Return the area of the wall between two ellipses `height` apart [mm2]: mean girth times slant."""
    offset = (abs(mouth.around - floor.around) + abs(mouth.across - floor.across)) / 4
    return (girth(mouth) + girth(floor)) / 2 * sqrt(height**2 + offset**2)


def bowl(mouth: Size, depth: float) -> float:
    """Return the area of half an ellipsoid [mm2], Thomsen's formula, within 1.1 % (from memory)."""
    a, b, c = (semi**_SURFACE_POWER for semi in (mouth.around / 2, mouth.across / 2, depth))
    return float(2 * pi * ((a * b + a * c + b * c) / 3) ** (1 / _SURFACE_POWER))


def cavity_of(wanted: Wanted) -> Cavity:
    """Return the shape of the injury: as measured, else opened by its bevel from cord level to the surface.

    A nail hole that needs no reinforcement is reamed, not bevelled.
    """
    depth = number(wanted, "cavity depth")
    floor = Size(number(wanted, "deciding length"), number(wanted, "deciding width"))
    is_channel = wanted.verdict == "spot" and wanted.facts.get("kind") == "puncture"
    bevelled = floor if is_channel else floor.grown(depth / tan(radians(BEVEL)))
    opening = Size(max(bevelled.around, number(wanted, "outside length")), bevelled.across)
    seen = Size(number(wanted, "inside length"), number(wanted, "inside width"))
    measured = Size(number(wanted, "length"), number(wanted, "width"))
    is_through = wanted.facts.get("reaches") == "through"
    if is_through and not measured.covers(seen):
        # What decides is the larger of both; the waist is as wide as the break at cord level.
        return Cavity(opening, measured.joined(Size(1, 1)), depth, is_through, inside=floor)
    return Cavity(opening, floor, depth, is_through)


def reinforcement_of(wanted: Wanted) -> Size | None:
    """Return the least size of the reinforcement [mm], None where the repair has none.

    The injury at cord level and the reach of the reinforcement on every side, rounded up to 5 mm.
    """
    if wanted.verdict not in REINFORCED:
        return None
    floor = Size(number(wanted, "deciding length"), number(wanted, "deciding width"))
    return floor.grown(number(wanted, "reinforcement extra")).rounded_up(5)


def number(wanted: Wanted, fact: str, default: float = 0.0) -> float:
    """Return the measure `fact`, `default` where it is not known."""
    value = wanted.facts.get(fact)
    return float(value) if isinstance(value, int | float) else default
