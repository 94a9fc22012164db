"""A paper as one page of HTML: pictures inside, no scripts, nothing fetched; it prints without colour.

Whatever strangers wrote into their case stays text: the template escapes all but our own pictures.
"""

from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from mendbook.card.drawing.shapes import Drawing
from mendbook.card.drawing.svg import as_svg
from mendbook.card.job.blocks import Block, Paper
from mendbook.card.job.sizes import Size

TEMPLATE = "page.html"


def as_page(paper: Paper, size: Size) -> str:
    """Return `paper` as HTML for a size of sheet; the same bytes for the same paper."""
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    environment.filters |= {"kind": _kind, "svg": _svg}
    written = files(__package__).joinpath(TEMPLATE).read_text(encoding="utf-8")
    page = environment.from_string(written).render(
        paper=paper, size=size, identity=_quoted(paper.identity), foot=_quoted(paper.foot)
    )
    return f"{page}\n"


def _kind(block: Block) -> str:
    return type(block).__name__.casefold()


def _svg(drawing: Drawing, key: str) -> Markup:
    return Markup(as_svg(drawing, key))


def _quoted(text: str) -> Markup:
    """Return `text` for a quoted string of a style sheet: all but plain letters by their number, so nothing ends it."""
    return Markup("".join(c if c.isascii() and (c.isalnum() or c in " .,") else f"\\{ord(c):x} " for c in text))
