"""The words of a section: zones and injuries along the rail, kit beside and within, which side, which scale."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from mendbook.card.drawing.labels import Label, column
from mendbook.card.drawing.section_half import CLEAR, RAIL, Half
from mendbook.card.drawing.shapes import Anchor, Line, Shape, Words
from mendbook.card.drawing.sites import CROWN, counts_more, known_edges, lies_on, middle_of, spread_words
from mendbook.terms.plan import Patch, Repair
from mendbook.terms.tyre_map import Outline, Site

PAD, BAG = {"outside": 1.2, "inside": 1.8}, {"outside": 2.4, "inside": 2.9}  # mm of paper from the wall
PUFF = 2.2  # mm of paper: how thick a bag is drawn
BRIDGE = 0.7  # mm of paper from the wall to the reinforcement
WITHIN_WALL = ("opening", "cord level", "inside opening")
BAR_MM = (50, 100, 200, 500)


def label_section(
    half: Half,
    outline: Outline,
    sites: Sequence[Site],
    marks: Mapping[str, str],
    repair: Repair | None,
    height: float,
) -> Iterator[Shape]:
    """Yield the labels of one half: beside it what lies on the rail and outside, in the cavity what lies inside."""
    opened = [repair.injury] if repair and repair.patches else []
    own = [site for site in sites if lies_on(site, half.side)]
    beside = list(_rail_labels(half, outline, own, marks, opened))
    within: list[Label] = []
    middle = middle_of(own, repair)
    for patch in repair.patches if repair and middle is not None else ():
        label = None if middle is None else _patch_label(half, patch, middle)
        if label:
            (within if patch.what.startswith(("inside", "reinforcement")) else beside).append(label)
    ends: tuple[Anchor, Anchor] = ("start", "end")
    outer, inner = ends[:: half.sign]
    yield from column(beside, half.middle + half.sign * (half.reach + RAIL + 3.0), 0.0, height - 5.5, anchor=outer)
    top = half.foot - outline.height_mm / half.scale * 0.75
    yield from column(within, half.middle + half.sign * (half.cavity - CLEAR), top, half.foot, anchor=inner)


def _rail_labels(
    half: Half, outline: Outline, sites: Sequence[Site], marks: Mapping[str, str], opened: Sequence[str]
) -> Iterator[Label]:
    yield Label("bead toe", half.beside(0.0, RAIL), "bead toe: 0")
    begins = 0.0
    for zone in outline.zones:
        at = half.beside((begins + zone.ends_mm) / 2, RAIL)
        no = ": no repair" if zone.zone == "bead" else ""
        yield Label(f"zone {zone.zone}", at, f"{zone.zone}{no}, to {zone.ends_mm:.0f}")
        begins = zone.ends_mm
    for site in sites:
        known = known_edges(site)
        if known:
            middle = min(sum(known) / len(known), half.contour.half_girth)
            at = half.beside(middle, RAIL)
            yield Label(f"place {marks[site.key]}", at, f"{marks[site.key]}: {spread_words(site)}")
        if counts_more(site) and site.counted_mm and site.name not in opened:
            low, high = site.counted_mm
            at = half.beside(min(high, half.contour.half_girth), 0.0)
            yield Label(f"counted {marks[site.key]}", at, f"{marks[site.key]} counts as {low:.0f} to {high:.0f}")


def face_of(what: str) -> Literal["outside", "inside"]:
    """Return on which face of the wall a piece of kit lies; a reinforcement lies inside."""
    return "outside" if what.startswith("outside") else "inside"


def _patch_label(half: Half, patch: Patch, middle: float) -> Label | None:
    if patch.what in WITHIN_WALL:
        return None
    is_bag, is_bridge = patch.what.endswith("bag"), patch.what == "reinforcement"
    face = face_of(patch.what)
    out = BRIDGE if is_bridge else BAG[face] + PUFF / 2 if is_bag else PAD[face]
    # Labels lead to different heights of what they name, so that their lines do not cross.
    share = 0.5 if is_bridge else 0.82 if is_bag else 0.66
    along = middle + patch.shift_mm - patch.across_mm * (share - 0.5)
    along = min(max(along, 0.0), half.contour.half_girth)
    run = half.outer if face == "outside" else half.inner
    size = f"{patch.around_mm:.0f} x {patch.across_mm:.0f}"
    return Label(f"name {patch.what}", run(along, along, out)[0], f"{patch.what} {size}")


def draw_foot(halves: Sequence[Half], outline: Outline, height: float) -> Iterator[Shape]:
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
