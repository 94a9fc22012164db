"""Which pictures there are, each alone on its page or all on one sheet."""

from collections.abc import Callable
from typing import Literal, get_args

from matplotlib.figure import Figure

from mendbook.card.cure_pictures.by_thickness import draw_thicknesses
from mendbook.card.cure_pictures.page import MARGIN, Page, styled
from mendbook.card.cure_pictures.panel import Place
from mendbook.card.cure_pictures.temperatures import draw_temperatures
from mendbook.card.cure_pictures.through_wall import draw_profile
from mendbook.card.lettering import short
from mendbook.cure.thicknesses import vary_thickness
from mendbook.cure.traces import trace_profile, trace_temperatures
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

Picture = Literal["temperatures", "through_wall", "by_thickness", "all"]
PICTURES: tuple[Picture, ...] = get_args(Picture)

ALONE = 105.0  # mm high
SHEET = 267.0  # mm high: an A4 sheet between its margins
HEAD = 8.0  # mm, for the name of the case
LONGEST = 60  # letters of that name
GAP = 2.5  # mm between pictures

_DRAWN: dict[Picture, Callable[[Place, CureOrder, CureSheet], None]] = {
    "temperatures": lambda place, order, sheet: draw_temperatures(
        place, order, sheet, trace_temperatures(order, sheet)
    ),
    "through_wall": lambda place, order, sheet: draw_profile(place, sheet, trace_profile(order, sheet)),
    "by_thickness": lambda place, order, sheet: draw_thicknesses(place, sheet, vary_thickness(order, sheet)),
}


def draw_cure(picture: Picture, order: CureOrder, sheet: CureSheet) -> Figure:
    """Return a picture of the cure of `order`, whose answer is `sheet`; "all" is one sheet of the three."""
    with styled():
        if picture != "all":
            page = Page(ALONE)
            page.figure.set_label(_called(order))
            _DRAWN[picture](Place(page, MARGIN, ALONE - 2 * MARGIN), order, sheet)
            return page.figure
        page = Page(SHEET)
        page.figure.set_label(_called(order))
        page.write(MARGIN, MARGIN, _called(order), va="top", fontsize=11, fontweight="bold")
        height = (SHEET - 2 * MARGIN - HEAD - GAP * (len(_DRAWN) - 1)) / len(_DRAWN)
        for index, draw in enumerate(_DRAWN.values()):
            draw(Place(page, MARGIN + HEAD + index * (height + GAP), height), order, sheet)
        return page.figure


def _called(order: CureOrder) -> str:
    return f"Cure: {short(order.case, LONGEST)}" if order.case else "Cure"
