"""Orders of every kind that a picture must hold. Every figure is an example, none a measurement."""

from functools import cache
from typing import Any

from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from mendbook.card.cure_pictures import Picture, draw_cure
from mendbook.card.cure_pictures.page import styled
from mendbook.cure import compute
from mendbook.terms.cure_pad import Area, Bend, Pad
from mendbook.terms.cure_sheet import CureSheet
from tests.cure.walls import CLOTH, INSULATED, beside, cured, fill, gum, order, pad, step, through

PROGRAMME = Pad(programme=(Bend(at_min=0, temperature_C=20), Bend(at_min=20, temperature_C=120),
                           Bend(at_min=80, temperature_C=120), Bend(at_min=110, temperature_C=145)))  # fmt: skip
LATE = Pad(programme=(Bend(at_min=0, temperature_C=110), Bend(at_min=900, temperature_C=110),
                      Bend(at_min=910, temperature_C=150)))  # fmt: skip
BARE = Pad(present=False, loss_W_m2K=5)
NAMES = "$a_b$ 名 a long name of a layer & <more>"

ORDERS = {
    "usual": order(through(80), pad(), case="Invented 7, wall of 80 mm"),
    "thin": order(through(20), pad()),
    "thick": order(beside(150), pad()),
    "one-sided": order(through(60), pad(), INSULATED),
    "bare": order(through(24), pad(130), BARE),
    "preheated": order(through(45), step(), tyre_C=35),
    "programme": order(through(60), PROGRAMME, pad()),
    "late": order((fill(30),), LATE, INSULATED),
    "unequal": order(through(70), pad(120), pad(145, 3), schedule="economy"),
    "second stage": order((fill(40, cured_before=True), gum(), fill(7, name="reinforcement")), BARE, pad(130)),
    "small pads": order(
        through(60), pad(heated=Area(length_mm=260, width_mm=200)), injury=Area(length_mm=150, width_mm=100)
    ),
    "fan": order(through(50), pad(), cooling="fan"),
    "not judged": order((fill(30), gum(), cured("cloth", 9, CLOTH).model_copy(update={"compound": None})), pad()),
    "many layers": order(tuple(fill(5, name=f"layer of number {i}") for i in range(20)), pad()),
    "odd names": order((fill(30, name=NAMES), gum(), fill(5, name="x" * 200)), pad(), case=f"{NAMES} " * 9),
}


@cache
def sheet(name: str) -> CureSheet:
    """Return the answer to an order."""
    return compute(ORDERS[name])


@cache
def drawn(name: str, picture: Picture = "all") -> Figure:
    """Return the picture of an order, laid out."""
    figure = draw_cure(picture, ORDERS[name], sheet(name))
    with styled():
        figure.draw_without_rendering()
    return figure


def lines(figure: Figure, axes: int = 0) -> dict[str, Line2D]:
    """Return what is drawn in one of the axes, by name."""
    return {str(line.get_label()): line for line in figure.axes[axes].lines}


def data(line: Line2D) -> tuple[Any, Any]:
    """Return the figures that a line was drawn from."""
    return line.get_xdata(orig=True), line.get_ydata(orig=True)
