"""The section to scale: zones, the band where nothing is repaired, injuries, and what is laid over one of them.

Along a rail beside the tyre every place stands as a tape on the surface would read it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from mendbook.card.drawing.contour import Contour, ContourError, contour_of
from mendbook.card.drawing.labels import Label, column
from mendbook.card.drawing.shapes import Drawing, Line, Point, Shape, Words
from mendbook.card.drawing.sites import is_whole, lies_on, spread_words, unplaced
from mendbook.terms.plan import Patch, Repair
from mendbook.terms.tyre_map import Outline, Site, TyreMap

TITLE = "Section"
SERIAL, OPPOSITE, CROWN = "serial side", "opposite side", "crown"
SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 7.5, 8, 9, 10, 12.5, 15, 20, 25)
HIGH, WIDE = 66.0, 58.0  # mm of paper for half a section, without what is laid round it
PAST = 0.14  # of the section width, shown past the centreline of a half section
RAIL = 7.5  # mm of paper from the surface to the rail
GUTTER = 37.0  # mm for labels beside the rail
AROUND, FOOT = 3.0, 11.0  # mm of paper above the rail and below the bead
PAD, BAG, PUFF = 1.2, 2.4, 2.2  # mm of paper from the wall to pad and bag, and how thick a bag is drawn
CLEAR = 11.0  # mm of paper from the inside of the wall to the words about it
BRIDGE = 0.7  # mm of paper from the wall to the reinforcement
SINK: Mapping[str, float] = {"rubber": 0.3, "cord": 0.45, "plies": 0.7, "through": 1.0}  # of the wall: a sketch
BAR_MM = (50, 100, 200, 500)
DEEP = ("plies", "through")


@dataclass(frozen=True, eq=False)
class _Half:
    """One half of the section on paper."""

    contour: Contour
    side: str
    sign: int  # 1 to the right of the middle plane, -1 to its left
    middle: float  # x of the middle plane on paper
    foot: float  # y of the rim diameter on paper
    scale: float
    past: float = 0.0  # mm of tyre that are shown past the centreline

    def paper(self, points: Sequence[Point]) -> tuple[Point, ...]:
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

    def kept(self, start: float, end: float, most: float) -> tuple[float, float]:
        return min(max(start, 0.0), most), max(0.0, min(end, most))


def draw_section(tyre: TyreMap, marks: Mapping[str, str], repair: Repair | None = None) -> Drawing | str:
    """Return the section with every injury at its place, and with what is laid over that of `repair`.

    marks : what each injury is called on the drawing
    Where no section can be drawn the reason is returned, as a sentence.
    """
    if tyre.outline is None:
        return f"The section is not drawn: {tyre.why_not}."
    try:
        contour = contour_of(tyre.outline)
    except ContourError as problem:
        return f"The section is not drawn: {problem}."
    shown = [site for site in tyre.sites if repair is None or repair.injury == site.name or len(tyre.sites) == 1]
    sides = [side for side in (SERIAL, OPPOSITE) if any(site.side == side for site in shown)] or [CROWN]
    halves, width, height = _laid_out(contour, tyre.outline, sides)
    shapes: list[Shape] = []
    for half in halves:
        shapes += _half(half, tyre.outline, [site for site in shown if lies_on(site, half.side)], marks, repair)
        shapes += _labels(half, tyre.outline, shown, marks, repair, height)
    shapes += _foot(halves, tyre.outline, height)
    left_out = tuple(words for site in shown if (words := unplaced(site, marks[site.name])))
    return Drawing(TITLE, width, height, tuple(shapes), halves[0].scale, left_out)


def _laid_out(contour: Contour, outline: Outline, sides: Sequence[str]) -> tuple[list[_Half], float, float]:
    """Return the halves at their places, and width and height of the drawing [mm]."""
    reach = float(contour.points[:, 0].max())
    past = PAST * outline.width_mm
    needed = max(outline.height_mm / HIGH, (reach + past) / WIDE)
    scale = next((one for one in SCALES if one >= needed), needed)
    foot = AROUND + RAIL + outline.height_mm / scale
    beside = reach / scale + RAIL + GUTTER
    if len(sides) == 1:
        middle = past / scale
        return [_Half(contour, sides[0], 1, middle, foot, scale, past)], middle + beside, foot + FOOT
    pair = [_Half(contour, side, sign, beside, foot, scale) for side, sign in zip(sides, (-1, 1), strict=True)]
    return pair, 2 * beside, foot + FOOT


def _half(
    half: _Half, outline: Outline, sites: Sequence[Site], marks: Mapping[str, str], repair: Repair | None
) -> Iterator[Shape]:
    girth = half.contour.half_girth
    most = girth + half.past
    bead = outline.zones[0].ends_mm
    yield Line("wall", half.outer(0, most) + half.inner(0, most)[::-1], "wall", closed=True)
    yield Line("surface", half.outer(0, girth), "edge")
    yield Line("no-repair band", half.outer(0, bead) + half.inner(0, bead)[::-1], "band", closed=True)
    yield Line("rail", half.outer(0, girth, RAIL), "thin")
    for ends in (0.0, *(zone.ends_mm for zone in outline.zones)):
        yield Line(f"tick {ends:g}", (half.beside(ends, 0.0), half.beside(ends, RAIL + 0.8)), "grid")
        yield Line(f"end {ends:g}", (half.beside(ends, 0.0), half.beside(ends, 0.9)), "tick")
    patches = {patch.what: patch for patch in repair.patches} if repair else {}
    middle = _middle(sites, repair)
    for site in sites:
        yield from _site(half, site, marks[site.name], most, opened="opening" in patches and middle is not None)
    if middle is not None and any(lies_on(site, half.side) and repair and site.name == repair.injury for site in sites):
        yield from _patches(half, patches, middle, most)


def _middle(sites: Sequence[Site], repair: Repair | None) -> float | None:
    """Return the middle of the injury that is repaired [mm from the bead toe], as the plan counts it."""
    site = next((one for one in sites if repair and one.name == repair.injury), None)
    return None if site is None or site.counted_mm is None else sum(site.counted_mm) / 2


def _site(half: _Half, site: Site, mark: str, most: float, *, opened: bool) -> Iterator[Shape]:
    """Yield an injury, or an earlier repair, at its place."""
    known = [edge for edge in (site.lower_mm, site.upper_mm) if edge is not None]
    if not known:
        return
    start, end = half.kept(known[0], known[-1], most)
    name = f"earlier repair {mark}" if site.is_repair else f"injury {mark}"
    if not is_whole(site):
        yield Line(name, (half.beside(start, 0.0), half.beside(start, -1.5)), "surface")
        return
    share = 0.5 if site.is_repair else SINK.get(site.reaches, 0.0)
    top = half.outer(start, end)
    if share:
        floor = half.sunk(start, end, share)
        yield Line(name, top + floor[::-1], "earlier" if site.is_repair else "injury", closed=True)
    else:
        yield Line(name, top, "surface")
    yield Line(f"rail {mark}", half.outer(start, end, RAIL), "surface")
    if site.counted_mm and not opened and _counts_more(site):
        low, high = half.kept(*site.counted_mm, most)
        yield Line(f"counted {mark}", half.outer(low, high) + half.inner(low, high)[::-1], "counted", closed=True)


def _patches(half: _Half, patches: Mapping[str, Patch], middle: float, most: float) -> Iterator[Shape]:
    def ends(patch: Patch) -> tuple[float, float]:
        centre = middle + patch.shift_mm
        return half.kept(centre - patch.across_mm / 2, centre + patch.across_mm / 2, most)

    for what, patch in patches.items():
        start, end = ends(patch)
        if what == "opening":
            level = patches.get("cord level", patches.get("inside opening", patch))
            for edge, floor in zip((start, end), ends(level), strict=True):
                yield Line("opening", (half.beside(edge, 0.0), half.inner(floor, floor)[0]), "opening")
        elif what == "reinforcement":
            yield Line(what, half.inner(start, end, BRIDGE), "reinforcement")
        elif what.endswith("bag"):
            run = half.outer if what.startswith("outside") else half.inner
            yield Line(what, run(start, end, BAG) + run(start, end, BAG + PUFF)[::-1], _ink(what), closed=True)
        elif what.startswith(("outside", "inside ")) and what != "inside opening":
            yield Line(what, (half.outer if what.startswith("outside") else half.inner)(start, end, PAD), _ink(what))


def _ink(what: str) -> str:
    face = "outside" if what.startswith("outside") else "inside"
    return f"{face} bag" if what.endswith("bag") else f"{face} pad"


def _labels(
    half: _Half,
    outline: Outline,
    sites: Sequence[Site],
    marks: Mapping[str, str],
    repair: Repair | None,
    height: float,
) -> Iterator[Shape]:
    opened = [repair.injury] if repair and repair.patches else []
    own = [site for site in sites if lies_on(site, half.side)]
    beside = list(_rail_labels(half, outline, own, marks, opened))
    within: list[Label] = []
    is_here = any(site.name == repair.injury and lies_on(site, half.side) for site in sites) if repair else False
    middle = _middle(sites, repair)
    for patch in repair.patches if repair and is_here else ():
        label = None if middle is None else _patch_label(half, patch, middle)
        if label:
            (within if patch.what.startswith(("inside", "reinforcement")) else beside).append(label)
    x = half.middle + half.sign * (float(half.contour.points[:, 0].max()) / half.scale + RAIL + 3.0)
    anchor = "start" if half.sign > 0 else "end"
    yield from column(beside, x, 0.0, height - 3, anchor=anchor)  # type: ignore[arg-type]  # one of the two anchors
    top = half.foot - outline.height_mm / half.scale * 0.75
    x = half.middle + half.sign * (float(half.contour.inside[:, 0].max()) / half.scale - CLEAR)
    yield from column(within, x, top, half.foot, anchor="end" if half.sign > 0 else "start")


def _counts_more(site: Site) -> bool:
    """Return whether it counts as larger than it was measured, by more than rounding."""
    if site.counted_mm is None or site.lower_mm is None or site.upper_mm is None:
        return False
    return max(site.lower_mm - site.counted_mm[0], site.counted_mm[1] - site.upper_mm) > 0.5


def _rail_labels(
    half: _Half, outline: Outline, sites: Sequence[Site], marks: Mapping[str, str], opened: Sequence[str]
) -> Iterator[Label]:
    begins = 0.0
    for zone in outline.zones:
        at = half.beside((begins + zone.ends_mm) / 2, RAIL)
        no = ": no repair" if zone.zone == "bead" else ""
        yield Label(f"zone {zone.zone}", at, f"{zone.zone}{no}, to {zone.ends_mm:.0f}")
        begins = zone.ends_mm
    for site in sites:
        known = [edge for edge in (site.lower_mm, site.upper_mm) if edge is not None]
        if known:
            middle = min(sum(known) / len(known), half.contour.half_girth)
            at = half.beside(middle, RAIL)
            yield Label(f"place {marks[site.name]}", at, f"{marks[site.name]}: {spread_words(site)}")
        if _counts_more(site) and site.counted_mm and site.name not in opened:
            low, high = site.counted_mm
            at = half.beside(min(high, half.contour.half_girth), 0.0)
            yield Label(f"counted {marks[site.name]}", at, f"{marks[site.name]} counts as {low:.0f} to {high:.0f}")


def _patch_label(half: _Half, patch: Patch, middle: float) -> Label | None:
    if patch.what in ("opening", "cord level", "inside opening"):
        return None
    is_bag, is_bridge = patch.what.endswith("bag"), patch.what == "reinforcement"
    out = BRIDGE if is_bridge else BAG + PUFF / 2 if is_bag else PAD
    # Labels lead to different heights of what they name, so that their lines do not cross.
    share = 0.5 if is_bridge else 0.82 if is_bag else 0.66
    along = middle + patch.shift_mm - patch.across_mm * (share - 0.5)
    along = min(max(along, 0.0), half.contour.half_girth)
    run = half.outer if patch.what.startswith("outside") else half.inner
    size = f"{patch.around_mm:.0f} x {patch.across_mm:.0f}"
    return Label(f"name {patch.what}", run(along, along, out)[0], f"{patch.what} {size}")


def _foot(halves: Sequence[_Half], outline: Outline, height: float) -> Iterator[Shape]:
    """Yield the rim line, the middle plane, which side is which, and the scale bar."""
    first = halves[0]
    top, foot = first.foot - outline.height_mm / first.scale - RAIL, first.foot
    crown = foot - 0.8 * outline.height_mm / first.scale
    yield Line("middle plane", ((first.middle, top), (first.middle, crown)), "centre")
    yield Line("middle plane", ((first.middle, foot - 3), (first.middle, foot + 1)), "centre")
    for half in halves:
        reach = half.middle + half.sign * outline.width_mm / 2 / half.scale
        yield Line("rim diameter", ((half.middle, foot), (reach, foot)), "centre")
        x = half.middle + half.sign * 0.36 * outline.width_mm / half.scale
        said = "either side of the crown" if half.side == CROWN else half.side
        yield Words(f"side {half.side}", (x, foot + 3.6), said, 7.0, "middle", "bold")
    length = next(bar for bar in BAR_MM if bar / first.scale >= 15 or bar == BAR_MM[-1])
    left, y = 0.5, height - 2.5
    ends = (left, left + length / first.scale)
    yield Line("scale bar", ((ends[0], y), (ends[1], y)), "slowest")
    for end in ends:
        yield Line("scale end", ((end, y - 0.9), (end, y + 0.9)), "tick")
    said = f"{length} mm on the tyre; 1 : {first.scale:g} as printed"
    yield Words("scale", (ends[1] + 1.5, y + 0.9), said)
