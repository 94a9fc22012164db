"""The clock maps: a side of the tyre unrolled round its axle, as seen from outside and, mirrored, from inside.

Along a spoke every place stands as a tape on the surface reads it, from the bead to the crown centreline; round the
tyre angles are true. Angles count from the mark as they are seen on the serial side from outside.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import cos, degrees, radians, sin
from typing import Literal

from mendbook.card.drawing.labels import Label, column
from mendbook.card.drawing.shapes import Anchor, Drawing, Line, Point, Ring, Shape, Words
from mendbook.card.drawing.sites import is_repaired, is_whole, lies_on, off_the_clock
from mendbook.terms.plan import Patch, Repair
from mendbook.terms.tyre_map import Outline, Site, TyreMap

SERIAL, OPPOSITE = "serial side", "opposite side"
Face = Literal["outside", "inside"]

WIDTH, HEIGHT = 60.0, 47.5  # mm
RADIUS = 16.5  # mm of paper, to the crown centreline
CENTRE = (WIDTH / 2, 27.0)
BESIDE = 24.6  # mm of paper from the axle to the marks
NUMBERED = (0, 90, 180, 270)  # deg
STEP = 30  # deg from tick to tick
FINE = 3.0  # deg from point to point of an arc
LEAST = 0.35  # mm of paper: a smaller injury is drawn so large, and never smaller than it is
PATCHES: Mapping[Face, tuple[str, ...]] = {
    "outside": ("outside pad", "outside bag"),
    "inside": ("reinforcement", "inside pad", "inside bag"),
}


@dataclass(frozen=True)
class _Dial:
    """A side as seen from one face: which way angles run, and how far out a place lies."""

    outline: Outline
    side: str
    face: Face

    @property
    def turn(self) -> int:
        """1 where angles run clockwise: from outside on the serial side, from inside on the other."""
        return 1 if (self.side == SERIAL) == (self.face == "outside") else -1

    @property
    def scale(self) -> float:
        """Millimetres of tyre to one of paper, along a spoke."""
        return (self.outline.rim_mm / 2 + self.outline.half_girth_mm) / RADIUS

    def out(self, along: float) -> float:
        """Return how far from the axle a place is drawn [mm of paper]."""
        kept = min(max(along, 0.0), self.outline.half_girth_mm)
        return (self.outline.rim_mm / 2 + kept) / self.scale

    def point(self, along: float, angle: float, beyond: float = 0.0) -> Point:
        """Return where a place at an angle [deg] is drawn, `beyond` it [mm of paper]."""
        out, turned = self.out(along) + beyond, radians(self.turn * angle)
        return CENTRE[0] + out * sin(turned), CENTRE[1] - out * cos(turned)

    def half_angle(self, along: float, length: float) -> float:
        """Return half the angle that a length along the tyre takes at a place [deg], at most 180."""
        share = min(max(along / self.outline.half_girth_mm, 0.0), 1.0)
        radius = self.outline.rim_mm / 2 + share * self.outline.height_mm
        return min(180.0, degrees(length / 2 / radius))

    def patch(self, lower: float, upper: float, angle: float, length: float) -> tuple[Point, ...]:
        """Return the outline of a piece of the surface: between two places, so long round the tyre."""
        half = self.half_angle((lower + upper) / 2, length)
        steps = max(1, round(2 * half / FINE))
        angles = [angle - half + 2 * half * step / steps for step in range(steps + 1)]
        return (*(self.point(lower, one) for one in angles), *(self.point(upper, one) for one in reversed(angles)))


def draw_clocks(tyre: TyreMap, marks: Mapping[str, str], repair: Repair | None = None) -> tuple[Drawing, ...]:
    """Return the clock maps of every side that has a site, from outside and from inside; none without an outline.

    marks : what each injury is called on the drawing
    """
    if tyre.outline is None:
        return ()
    sides = [side for side in (SERIAL, OPPOSITE) if any(site.side == side for site in tyre.sites)] or [SERIAL]
    drawn = [
        _draw(_Dial(tyre.outline, side, face), tyre.sites, marks, repair)
        for side in sides
        for face in ("outside", "inside")
    ]
    left_out = tuple(words for site in tyre.sites if (words := off_the_clock(site, marks[site.key])))
    first = drawn[0]
    return (Drawing(first.title, first.width, first.height, first.shapes, first.scale, left_out), *drawn[1:])


def _draw(dial: _Dial, sites: Sequence[Site], marks: Mapping[str, str], repair: Repair | None) -> Drawing:
    own = [site for site in sites if lies_on(site, dial.side)]
    shapes = [*_tyre(dial)]
    for site in own:
        if repair is not None and is_repaired(site, repair):
            shapes += _laid(dial, site, repair.patches)
    for site in own:
        shapes += _site(dial, site, marks[site.key])
    shapes += _names(dial, own, marks)
    title = f"{dial.side.capitalize()}, from {dial.face}"
    turning = "clockwise" if dial.turn > 0 else "anticlockwise"
    mirrored = f"mirror image: angles run {turning}" if dial.face == "inside" else f"angles run {turning}"
    shapes.append(Words("title", (WIDTH / 2, 2.6), title, 7.0, "middle", "bold"))
    shapes.append(Words("turn", (WIDTH / 2, 6.0), mirrored, 7.0, "middle"))
    return Drawing(f"{title}, {mirrored}", WIDTH, HEIGHT, tuple(shapes), dial.scale)


def _tyre(dial: _Dial) -> Iterator[Shape]:
    outline = dial.outline
    yield Ring("no-repair band", CENTRE, dial.out(outline.zones[0].ends_mm), "band")
    yield Ring("rim", CENTRE, dial.out(0.0), "hole")
    for zone in outline.zones[1:-1]:
        yield Ring(f"end of {zone.zone}", CENTRE, dial.out(zone.ends_mm), "grid")
    yield Ring("crown centreline", CENTRE, RADIUS, "edge")
    far = outline.half_girth_mm
    for angle in range(0, 360, STEP):
        yield Line(f"tick {angle}", (dial.point(far, angle, -0.9), dial.point(far, angle)), "tick")
    for angle in NUMBERED:
        x, y = dial.point(far, angle, 2.2 if angle % 180 == 0 else 1.0)
        anchor: Anchor = "middle" if angle % 180 == 0 else "start" if x > CENTRE[0] else "end"
        yield Words(f"angle {angle}", (x, y + 0.9), f"{angle}°", 7.0, anchor, "quiet")
    tip, left, right = dial.point(far, 0.0, -0.2), dial.point(far, -4.0, -2.4), dial.point(far, 4.0, -2.4)
    yield Line("mark", (tip, left, right), "injury", closed=True)


def _laid(dial: _Dial, site: Site, patches: Sequence[Patch]) -> Iterator[Shape]:
    if site.clock_deg is None or site.counted_mm is None:
        return
    middle = sum(site.counted_mm) / 2
    for patch in patches:
        rigid = patch.what.startswith(f"{dial.face} of ")
        if patch.what in PATCHES[dial.face] or rigid:
            centre, half = middle + patch.shift_mm, patch.across_mm / 2
            points = dial.patch(centre - half, centre + half, site.clock_deg, patch.around_mm)
            look = f"{dial.face} pad" if rigid or patch.what.endswith("pad") else patch.what
            yield Line(patch.what, points, look, closed=True)


def _site(dial: _Dial, site: Site, mark: str) -> Iterator[Shape]:
    name = f"earlier repair {mark}" if site.is_repair else f"injury {mark}"
    if site.clock_deg is None:
        return
    if site.lower_mm is None and site.upper_mm is None:
        far = dial.outline.half_girth_mm
        yield Line(name, (dial.point(far, site.clock_deg, -1.5), dial.point(far, site.clock_deg, 1.5)), "surface")
        return
    if not is_whole(site) or site.length_mm is None:
        edge = site.lower_mm if site.lower_mm is not None else site.upper_mm or 0.0
        yield Ring(name, dial.point(edge, site.clock_deg), 0.5, "injury")
        return
    assert site.lower_mm is not None  # both edges are known
    assert site.upper_mm is not None
    middle, half = (site.lower_mm + site.upper_mm) / 2, (site.upper_mm - site.lower_mm) / 2
    half = max(half, LEAST * dial.scale)
    least = radians(1) * dial.out(middle)
    length = site.length_mm * max(1.0, 2 * LEAST / max(1e-9, least * 2 * dial.half_angle(middle, site.length_mm)))
    points = dial.patch(middle - half, middle + half, site.clock_deg, length)
    yield Line(name, points, "earlier" if site.is_repair else "injury", closed=True)


def _names(dial: _Dial, sites: Sequence[Site], marks: Mapping[str, str]) -> Iterator[Shape]:
    right: list[Label] = []
    left: list[Label] = []
    for site in sites:
        if site.clock_deg is None:
            continue
        known = [edge for edge in (site.lower_mm, site.upper_mm) if edge is not None]
        along = sum(known) / len(known) if known else dial.outline.half_girth_mm
        at = dial.point(along, site.clock_deg)
        mark = marks[site.key]
        (right if at[0] >= CENTRE[0] else left).append(Label(f"name {mark}", at, mark))
    yield from column(right, CENTRE[0] + BESIDE, 7.5, HEIGHT, anchor="start")
    yield from column(left, CENTRE[0] - BESIDE, 7.5, HEIGHT, anchor="end")
