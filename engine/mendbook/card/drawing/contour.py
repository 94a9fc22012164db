"""The curve of a section whose length along the surface is true: bead toe, widest point, tread edge, crown.

The zones are measured along the surface, so that length is what must be right. Where the bead sits, how high the
widest point lies and how flat the crown is are house defaults of the picture alone; the fullness of the side is
sought until bead toe and crown centreline lie as far apart along the curve as the outline says.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mendbook.card.drawing.shapes import Point
from mendbook.terms.tyre_map import Outline

Array = NDArray[np.float64]

TOE = 0.345  # of the section width, from the middle plane to the bead toe
WIDEST = 0.52  # of the height
CROWN = 2.2  # radius of the crown, of the section width
FULL, FULLEST = 0.55, 0.98  # how far the side leans into its corners
INNER = 0.8  # how far the inside leans into the shoulder
BROADEST = 0.85  # of the section width to one side: past it nothing fits
STEPS = 100  # points on each of the curves a side consists of
EXACT = 1e-6  # of the length
# Thickness of the wall as a share of the height at bead, side and crown: a sketch, as no tape reads it.
BEAD, SIDE, TREAD = 0.12, 0.085, 0.15


class ContourError(ValueError):
    """An outline whose measures no section can have together."""


@dataclass(frozen=True, eq=False)
class Contour:
    """The right half of a section, in [mm] of tyre: x from the middle plane, y up from the rim diameter."""

    along: Array  # from the bead toe [mm]
    points: Array
    outwards: Array  # unit vectors square to the surface
    inside: Array  # the nearest point of the inside of the wall to each
    inwards: Array  # unit vectors square to the inside

    @property
    def half_girth(self) -> float:
        """Bead toe to crown centreline along the surface [mm]."""
        return float(self.along[-1])

    def outer(self, start: float, end: float, out: float = 0.0) -> list[Point]:
        """Return the line along the outside from one place to another [mm from the bead toe], `out` from it [mm].

        Past the centreline it goes on in the other half, with a negative x.
        """
        return self._line(self.places(start, end), self.points + out * self.outwards)

    def inner(self, start: float, end: float, off: float = 0.0) -> list[Point]:
        """Return the line along the inside of the wall below those places, `off` from it into the tyre [mm]."""
        return self._line(self.places(start, end), self.inside + off * self.inwards)

    def sunk(self, start: float, end: float, share: float) -> list[Point]:
        """Return the line below those places at a share of the thickness of the wall."""
        return self._line(self.places(start, end), self.points + share * (self.inside - self.points))

    def _line(self, places: list[float], points: Array) -> list[Point]:
        halves = [min(place, 2 * self.half_girth - place) for place in places]
        xs, ys = (np.interp(halves, self.along, points[:, axis]).tolist() for axis in (0, 1))
        signs = (-1 if place > self.half_girth else 1 for place in places)
        return [(sign * x, y) for sign, x, y in zip(signs, xs, ys, strict=True)]

    def places(self, start: float, end: float) -> list[float]:
        """Return places from `start` to `end`, close enough for a curve."""
        every = np.concatenate([self.along, 2 * self.half_girth - self.along[-2::-1]])
        between = every[(every > start) & (every < end)]
        return [start, *between.tolist(), end]


def contour_of(outline: Outline) -> Contour:
    """Return the curve of `outline`. Raises ContourError where its measures do not fit one another."""
    half_tread = outline.tread_width_mm / 2
    side = outline.half_girth_mm - half_tread
    radius = max(CROWN * outline.width_mm, half_tread)
    turned = np.linspace(half_tread / radius, 0, STEPS)
    tread = np.column_stack([radius * np.sin(turned), outline.height_mm - radius * (1 - np.cos(turned))])
    flank = _flank(outline, tread[0], side)
    points = np.concatenate([flank, tread[1:]])
    along = np.concatenate([[0.0], np.cumsum(_steps(points))])
    # The curve is right to a millionth; what is left of it is spread evenly.
    inside, inwards = _inside(outline, points, flank)
    return Contour(along * (outline.half_girth_mm / along[-1]), points, _outwards(points), inside, inwards)


def _inside(outline: Outline, points: Array, flank: Array) -> tuple[Array, Array]:
    """Return for each point the nearest one on the inside of the wall, and what points away from the wall there.

    The cavity bulges everywhere, so the nearest points follow one another as those of the outside do.
    """
    height, widest = outline.height_mm, flank[np.argmax(flank[:, 0])]
    foot = np.array([flank[0, 0] - BEAD * height, 0.0])
    side = np.array([widest[0] - SIDE * height, widest[1]])
    foot[0] = min(foot[0], side[0])
    crown = np.array([0.0, (1 - TREAD) * height])
    lower = _bend(foot, np.array([side[0], 0.2 * height]), side, INNER)
    upper = _bend(side, np.array([side[0], crown[1]]), crown, INNER)
    curve = np.concatenate([lower, upper[1:]])
    nearest = ((points[:, None, :] - curve[None]) ** 2).sum(axis=2).argmin(axis=1)
    return curve[nearest], -_normals(curve)[nearest]


def _flank(outline: Outline, tread_edge: Array, length: float) -> Array:
    """Return the curve of a side with the given length, by halving how full it is."""
    if tread_edge[1] <= 0.2 * outline.height_mm:
        raise ContourError("the tread is as wide as the tyre is high")
    low, high = 0.0, 3.0
    shortest, longest = (_length(_side(outline, tread_edge, fullness)) for fullness in (low, high))
    if not shortest <= length <= longest:
        raise ContourError("height, width and girth do not fit one another")
    while high - low > EXACT:
        middle = (low + high) / 2
        low, high = (middle, high) if _length(_side(outline, tread_edge, middle)) < length else (low, middle)
    return _side(outline, tread_edge, (low + high) / 2)


def _side(outline: Outline, tread_edge: Array, fullness: float) -> Array:
    """Return a side: up to 1 its bulge grows, up to 2 its corners fill, up to 3 it is broader than the tyre."""
    toe = np.array([TOE * outline.width_mm, 0.0])
    high = WIDEST * outline.height_mm
    straight = toe[0] + (tread_edge[0] - toe[0]) * high / tread_edge[1]
    usual, broad = max(outline.width_mm / 2, straight), BROADEST * outline.width_mm
    bulge, corner, excess = (min(1.0, max(0.0, fullness - start)) for start in (0.0, 1.0, 2.0))
    wide = straight + (usual - straight) * bulge + max(0.0, broad - usual) * excess
    lean = FULL + (FULLEST - FULL) * corner
    widest = np.array([wide, high])
    below = np.array([wide, 0.25 * high * (1 - 0.5 * corner)])
    above = np.array([wide, high + (tread_edge[1] - high) * (0.8 + 0.18 * corner)])
    lower, upper = _bend(toe, below, widest, lean), _bend(widest, above, tread_edge, lean)
    return np.concatenate([lower, upper[1:]])


def _bend(start: Array, corner: Array, end: Array, lean: float) -> Array:
    """Return a cubic curve that leans into a corner."""
    first, second = start + lean * (corner - start), end + lean * (corner - end)
    t = np.linspace(0, 1, STEPS)[:, None]
    return np.asarray((1 - t) ** 3 * start + 3 * (1 - t) ** 2 * t * first + 3 * (1 - t) * t**2 * second + t**3 * end)


def _steps(points: Array) -> Array:
    return np.asarray(np.hypot(*np.diff(points, axis=0).T))


def _length(points: Array) -> float:
    return float(_steps(points).sum())


def _normals(points: Array) -> Array:
    along = np.gradient(points, axis=0)
    square = np.column_stack([along[:, 1], -along[:, 0]])
    return np.asarray(square / np.hypot(*square.T)[:, None])


def _outwards(points: Array) -> Array:
    """Return what points away from the tyre at each point, evened out where the tread edge turns sharply."""
    square = _normals(points)
    window = np.hanning(2 * (STEPS // 4) + 1)
    reach = len(window) // 2
    mirrored = square[-2 : -2 - reach : -1] * (-1, 1)  # the other half goes on past the centreline
    padded = np.concatenate([np.repeat(square[:1], reach, axis=0), square, mirrored])
    even = np.column_stack([np.convolve(padded[:, axis], window, mode="valid") for axis in (0, 1)])
    return np.asarray(even / np.hypot(*even.T)[:, None])
