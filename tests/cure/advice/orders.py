"""Orders that the checks of advice share. Every figure is an example."""

from typing import Any

from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_wall import Layer
from tests.cure.walls import compound, order, pad, through

UNLIMITED = 100.0  # x t90


def limited(thickness: float, limit: float) -> tuple[Layer, ...]:
    """Return the column through an injury, of which the fill alone can overcure."""
    fill, gum, reinforcement = through(thickness)
    return (
        fill.model_copy(update={"compound": compound(12, limit)}),
        gum.model_copy(update={"compound": compound(8, UNLIMITED)}),
        reinforcement.model_copy(update={"compound": compound(15, UNLIMITED)}),
    )


def dry(layers: tuple[Layer, ...], outside: Pad | None = None, inside: Pad | None = None, **fields: Any) -> CureOrder:
    """Return an order of dry rubber, in which no water boils."""
    return order(layers, outside or pad(), inside, **{"water_activity": 0, **fields})
