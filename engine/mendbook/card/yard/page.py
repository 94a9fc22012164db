"""The summary of a review as one page of HTML: pictures inside, no scripts, nothing fetched; it prints without colour.

Whatever strangers wrote into their sheet stays text: the template escapes all but our own pictures.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup, escape
from matplotlib.figure import Figure

from mendbook.card.cure_pictures.rendering import as_svg
from mendbook.card.lettering import plain, short
from mendbook.card.yard.blocking import blocking
from mendbook.card.yard.note import CAUTIONS, Note
from mendbook.card.yard.parts import parts
from mendbook.card.yard.pictures import draw_counts, draw_limits, draw_verdicts
from mendbook.card.yard.tables import Part, Table
from mendbook.yard.summary import Summary, ranked

MANY = 60  # rows of a table
TEMPLATE = "page.html"
IS_NOT = (
    "No certificate, and no release of any tyre.",
    "No report of a tyre: reasons, sources, steps and limits stand in the report of each, which is made from its row.",
    "No inspection: it knows only what the sheet says, and counts what is left out as worst.",
    "No law: kinds of sources are named, and most limits off the road are house defaults that a site must own.",
)
_CAPTIONS = {
    "sizes": "Shares of the verdicts; the number of tyres stands at the right, and on the bars where it has room.",
    "zones": "Shares of the verdicts; the number of injuries stands at the right.",
    "causes": "Shares of the verdicts; the number of injuries stands at the right.",
    "duties": "Shares of the verdicts; the number of tyres stands at the right.",
    "blocks": "Tyres by the rule that blocks them.",
    "missing": "Tyres by what is to be measured next.",
    "near": "Each dot is a whole percent of the limit; its area is the number of injuries. White dots lie outside.",
}


@dataclass(frozen=True)
class _Shown:
    """A part as the template shows it."""

    key: str
    title: str
    says: tuple[str, ...]
    table: Table | None
    svg: Markup | None
    caption: str


def yard_page(summary: Summary, note: Note) -> str:
    """Return the page; the same bytes for the same summary."""
    environment = Environment(autoescape=True, undefined=StrictUndefined)
    written = files(__package__).joinpath(TEMPLATE).read_text(encoding="utf-8")
    drawn = _pictures(summary, note)
    page = environment.from_string(written).render(
        sheet=short(note.sheet), record=list(note.record()), places=list(note.places()),
        parts=[_show(part, drawn) for part in parts(summary, note)], cautions=CAUTIONS, is_not=IS_NOT,
    )  # fmt: skip
    return f"{page}\n"


def _pictures(summary: Summary, note: Note) -> Mapping[str, Callable[[], Figure]]:
    """Return how each picture is drawn, by the part that it goes with."""
    groups = {"sizes": summary.sizes, "zones": summary.zones, "causes": summary.causes, "duties": summary.duties}
    blocked = [(one.name, one.number, one.what) for one in blocking(summary, note.book)]
    missing = [(fact, number, "hold") for fact, number in ranked(summary.missing)]
    drawn: dict[str, Callable[[], Figure]] = {
        key: partial(draw_verdicts, found, note.book.verdicts) for key, found in groups.items() if found
    }
    if blocked:
        drawn["blocks"] = partial(draw_counts, blocked)
    if missing:
        drawn["missing"] = partial(draw_counts, missing)
    if summary.around:
        drawn["near"] = partial(draw_limits, summary.around)
    return drawn


def _show(part: Part, drawn: Mapping[str, Callable[[], Figure]]) -> _Shown:
    svg = inline(as_svg(drawn[part.key]()), part.key, part.title) if part.key in drawn else None
    table = _tidy(part.table.first(MANY)) if part.table else None
    return _Shown(part.key, part.title, tuple(map(plain, part.says)), table, svg, _CAPTIONS.get(part.key, ""))


def _tidy(table: Table) -> Table:
    """Return `table` with only characters that can be seen, whoever wrote them."""
    return replace(table, rows=tuple(tuple(map(plain, row)) for row in table.rows))


def inline(svg: str, key: str, title: str) -> Markup:
    """Return a picture to stand inside a page: named for those who hear it, its ids apart from other pictures'."""
    drawn = svg[svg.index("<svg") :].strip()
    drawn = re.sub(r"\s*<metadata>.*?</metadata>", "", drawn, flags=re.DOTALL)
    drawn = re.sub(r"\s*<title(/>|>.*?</title>)", "", drawn, count=1, flags=re.DOTALL)
    drawn = re.sub(r'<style type="text/css">\*', f'<style type="text/css">.{key}-picture *', drawn)
    drawn = re.sub(r'\bid="', f'id="{key}-', drawn)
    drawn = re.sub(r"url\(#", f"url(#{key}-", drawn)
    drawn = re.sub(r'href="#', f'href="#{key}-', drawn)
    said = escape(f"{title}, as a picture; the table beside it has the numbers")
    return Markup(drawn.replace("<svg ", f'<svg class="{key}-picture" role="img" aria-label="{said}" ', 1))
