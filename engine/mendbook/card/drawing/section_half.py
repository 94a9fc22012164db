"""Half a section on paper: how large it is drawn, and where on the sheet a place of the tape lies."""

from collections.abc import Sequence
from dataclasses import dataclass

from mendbook.card.drawing.contour import Contour
from mendbook.card.drawing.shapes import Point
from mendbook.terms.tyre_map import Outline

SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 7.5, 8, 9, 10, 12.5, 15, 20, 25)
HIGH, WIDE = 66.0, 58.0  # mm of paper for half a section, without what is laid round it
PAST = 0.14  # of the section width, shown past the centreline of a half section
RAIL = 7.5  # mm of paper from the surface to the rail
GUTTER = 37.0  # mm for labels beside the rail
WITHIN = 35.0  # mm for labels in the cavity
CLEAR = 11.0  # mm of paper from the inside of the wall to the words about it
AROUND, FOOT = 3.0, 11.0  # mm of paper above the rail and below the bead


@dataclass(frozen=True, eq=False)
class Half:
    """One half of the section on paper."""

    contour: Contour
    side: str
    sign: int  # 1 to the right of the middle plane, -1 to its left
    middle: float  # x of the middle plane on paper
    foot: float  # y of the rim diameter on paper
    scale: float
    past: float = 0.0  # mm of tyre that are shown past the centreline

    def paper(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """Return points of the tyre as they lie on paper."""
        return tuple((self.middle + self.sign * x / self.scale, self.foot - y / self.scale) for x, y in points)

    def outer(self, start: float, end: float, out: float = 0.0) -> tuple[Point, ...]:
        """Return a line along the outside, `out` [mm of paper] from it."""
        return self.paper(self.contour.outer(start, end, out * self.scale))

    def inner(self, start: float, end: float, inwards: float = 0.0) -> tuple[Point, ...]:
        """Return a line along the inside, `inwards` [mm of paper] from it."""
        return self.paper(self.contour.inner(start, end, inwards * self.scale))

    def sunk(self, start: float, end: float, share: float) -> tuple[Point, ...]:
        """Return a line below the outside, at a share of the wall."""
        return self.paper(self.contour.sunk(start, end, share))

    def beside(self, along: float, out: float) -> Point:
        """Return a point beside the outside, `out` [mm of paper] from it."""
        return self.outer(along, along, out)[0]

    @property
    def reach(self) -> float:
        """How far the outside reaches from the middle plane [mm of paper]."""
        return float(self.contour.points[:, 0].max()) / self.scale

    @property
    def cavity(self) -> float:
        """How far the inside reaches from the middle plane [mm of paper]."""
        return float(self.contour.inside[:, 0].max()) / self.scale

    def kept(self, start: float, end: float) -> tuple[float, float]:
        """Return two places, kept on what is shown."""
        most = self.contour.half_girth + self.past
        return min(max(start, 0.0), most), max(0.0, min(end, most))


def lay_out(contour: Contour, outline: Outline, sides: Sequence[str]) -> tuple[list[Half], float, float]:
    """Return the halves at their places, and width and height of the drawing [mm]."""
    reach, cavity = (float(points[:, 0].max()) for points in (contour.points, contour.inside))
    past = PAST * outline.width_mm
    needed = max(outline.height_mm / HIGH, (reach + past) / WIDE)
    scale = next((one for one in SCALES if one >= needed), needed)
    foot = AROUND + RAIL + outline.height_mm / scale
    beside = reach / scale + RAIL + GUTTER
    if len(sides) == 1:
        middle = max(past / scale, WITHIN + CLEAR - cavity / scale)
        return [Half(contour, sides[0], 1, middle, foot, scale, past)], middle + beside, foot + FOOT
    pair = [Half(contour, side, sign, beside, foot, scale) for side, sign in zip(sides, (-1, 1), strict=True)]
    return pair, 2 * beside, foot + FOOT
