"""A drawing as SVG: in millimetres, letters as letters, nothing fetched, nothing that runs."""

from collections.abc import Iterator

from markupsafe import escape

from mendbook.card.drawing.inks import INKS, Hatch, Ink
from mendbook.card.drawing.shapes import POINT, Drawing, Ring, Shape, Words
from mendbook.card.lettering import plain

FONTS = "Roboto, Arial, 'Liberation Sans', Helvetica, 'DejaVu Sans', sans-serif"
# What one tile of a hatching holds: its side [mm] and the path on it.
_TILES: dict[Hatch, tuple[float, str]] = {
    "slant": (1.2, "M-.3 .3L.3 -.3M0 1.2L1.2 0M.9 1.5L1.5 .9"),
    "cross": (1.0, "M0 1L1 0M0 0L1 1"),
    "dots": (1.1, "M.25 .3h.25M.8 .85h.25"),
    "upright": (0.8, "M.4 0V.8"),
    "level": (0.8, "M0 .4H.8"),
}


def as_svg(drawing: Drawing, key: str = "drawing") -> str:
    """Return `drawing` as an SVG of its size; the same bytes for the same drawing.

    key : sets its names apart from those of other pictures on the page
    """
    body = "".join(_shape(shape, key) for shape in drawing.shapes)
    size = f'width="{drawing.width:g}mm" height="{drawing.height:g}mm"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {drawing.width:g} {drawing.height:g}" '
        f'role="img" aria-label="{escape(plain(drawing.title))}" font-family="{FONTS}">'
        f"{''.join(_defs(drawing, key))}{body}</svg>"
    )


def _defs(drawing: Drawing, key: str) -> Iterator[str]:
    used = dict.fromkeys(INKS[shape.look].hatch for shape in drawing.shapes)
    tiles = [hatch for hatch in used if hatch]
    if tiles:
        yield "<defs>"
        for hatch in tiles:
            side, path = _TILES[hatch]
            yield (
                f'<pattern id="{key}-{hatch}" width="{side:g}" height="{side:g}" patternUnits="userSpaceOnUse">'
                f'<path d="{path}" stroke="#000000" stroke-width=".18" fill="none"/></pattern>'
            )
        yield "</defs>"


def _shape(shape: Shape, key: str) -> str:
    ink = INKS[shape.look]
    if isinstance(shape, Words):
        return _words(shape, ink)
    if isinstance(shape, Ring):
        place = f'cx="{_figure(shape.centre[0])}" cy="{_figure(shape.centre[1])}" r="{_figure(shape.radius)}"'
        return "".join(f"<circle {place}{look}/>" for look in _looks(ink, key, is_area=True))
    steps = "L".join(f"{_figure(x)} {_figure(y)}" for x, y in shape.points)
    path = f'd="M{steps}{"Z" if shape.closed else ""}"'
    return "".join(f"<path {path}{look}/>" for look in _looks(ink, key, is_area=shape.closed))


def _looks(ink: Ink, key: str, *, is_area: bool) -> Iterator[str]:
    """Yield the attributes of each layer of paint: a hatched area is painted twice, colour first."""
    dashes = f' stroke-dasharray="{" ".join(f"{dash:g}" for dash in ink.dashes)}"' if ink.dashes else ""
    stroke = f' stroke="{ink.stroke}" stroke-width="{ink.width:g}"{dashes} stroke-linejoin="round"'
    if is_area and ink.hatch:
        yield f' fill="{ink.fill or "none"}"'
        yield f' fill="url(#{key}-{ink.hatch})"{stroke}'
        return
    yield f' fill="{(ink.fill if is_area else "") or "none"}"{stroke}'


def _words(words: Words, ink: Ink) -> str:
    anchor = f' text-anchor="{words.anchor}"' if words.anchor != "start" else ""
    weight = ' font-weight="bold"' if ink.bold else ""
    place = f'x="{_figure(words.at[0])}" y="{_figure(words.at[1])}"'
    size = f'font-size="{_figure(words.size * POINT)}"'
    return f'<text {place} {size}{anchor}{weight} fill="{ink.stroke}">{escape(plain(words.text))}</text>'


def _figure(number: float) -> str:
    """Return a length to a thousandth of a millimetre, without needless zeros."""
    return f"{round(number, 3) + 0.0:g}" if abs(number) < 1000 else f"{number:.1f}"
