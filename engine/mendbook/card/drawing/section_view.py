"""The section to scale: zones, the band where nothing is repaired, injuries, and what is laid over one of them.

Along a rail beside the tyre every place stands as a tape on the surface would read it.
"""

from collections.abc import Iterator, Mapping, Sequence

from mendbook.card.drawing.contour import ContourError, contour_of
from mendbook.card.drawing.section_half import RAIL, Half, lay_out
from mendbook.card.drawing.section_labels import BAG, BRIDGE, PAD, PUFF, WITHIN_WALL, draw_foot, face_of, label_section
from mendbook.card.drawing.shapes import Drawing, Line, Shape
from mendbook.card.drawing.sites import (
    CROWN,
    counts_more,
    is_repaired,
    is_whole,
    known_edges,
    lies_on,
    middle_of,
    unplaced,
)
from mendbook.terms.plan import Patch, Repair
from mendbook.terms.tyre_map import Outline, Site, TyreMap

TITLE = "Section"
SIDES = ("serial side", "opposite side")
SINK: Mapping[str, float] = {"rubber": 0.3, "cord": 0.45, "plies": 0.7, "through": 1.0}  # of the wall: a sketch


def draw_section(
    tyre: TyreMap, marks: Mapping[str, str], repair: Repair | None = None, *, alone: bool = False
) -> Drawing | str:
    """Return the section with every injury at its place, and with what is laid over that of `repair`.

    marks : what each injury is called on the drawing
    alone : show the injury of `repair` and no other
    Where no section can be drawn the reason is returned, as a sentence.
    """
    if tyre.outline is None:
        return f"The section is not drawn: {tyre.why_not}."
    try:
        contour = contour_of(tyre.outline)
    except ContourError as problem:
        return f"The section is not drawn: {problem}."
    shown = [site for site in tyre.sites if not alone or is_repaired(site, repair)]
    sides = [side for side in SIDES if any(site.side == side for site in shown)] or [CROWN]
    halves, width, height = lay_out(contour, tyre.outline, sides)
    shapes: list[Shape] = []
    for half in halves:
        shapes += _half(half, tyre.outline, [site for site in shown if lies_on(site, half.side)], marks, repair)
        shapes += label_section(half, tyre.outline, shown, marks, repair, height)
    shapes += draw_foot(halves, tyre.outline, height)
    left_out = tuple(words for site in shown if (words := unplaced(site, marks[site.key])))
    return Drawing(TITLE, width, height, tuple(shapes), halves[0].scale, left_out)


def _half(
    half: Half, outline: Outline, sites: Sequence[Site], marks: Mapping[str, str], repair: Repair | None
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
    middle = middle_of(sites, repair)
    for site in sites:
        is_opened = "opening" in patches and is_repaired(site, repair)
        yield from _site(half, site, marks[site.key], opened=is_opened)
    if middle is not None:
        yield from _patches(half, patches, middle)


def _site(half: Half, site: Site, mark: str, *, opened: bool) -> Iterator[Shape]:
    """Yield an injury, or an earlier repair, at its place."""
    known = known_edges(site)
    if not known:
        return
    start, end = half.kept(known[0], known[-1])
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
    if site.counted_mm and not opened and counts_more(site):
        low, high = half.kept(*site.counted_mm)
        yield Line(f"counted {mark}", half.outer(low, high) + half.inner(low, high)[::-1], "counted", closed=True)


def _patches(half: Half, patches: Mapping[str, Patch], middle: float) -> Iterator[Shape]:
    def ends(patch: Patch) -> tuple[float, float]:
        centre = middle + patch.shift_mm
        return half.kept(centre - patch.across_mm / 2, centre + patch.across_mm / 2)

    for what, patch in patches.items():
        start, end = ends(patch)
        if what == "opening":
            level = patches.get("cord level", patches.get("inside opening", patch))
            for edge, floor in zip((start, end), ends(level), strict=True):
                yield Line("opening", (half.beside(edge, 0.0), half.inner(floor, floor)[0]), "opening")
        elif what == "reinforcement":
            yield Line(what, half.inner(start, end, BRIDGE), "reinforcement")
        elif what.endswith("bag"):
            face = face_of(what)
            run, off = half.outer if face == "outside" else half.inner, BAG[face]
            yield Line(what, run(start, end, off) + run(start, end, off + PUFF)[::-1], f"{face} bag", closed=True)
        elif what not in WITHIN_WALL:
            face = face_of(what)
            run = half.outer if face == "outside" else half.inner
            yield Line(what, run(start, end, PAD[face]), f"{face} pad")
