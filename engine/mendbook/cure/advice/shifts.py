"""The thickest wall whose heating and cool-down fit a shift."""

from functools import cache
from math import ceil

from mendbook.cure.advice.changes import attempt, heat_of
from mendbook.cure.advice.ladder import highest
from mendbook.terms.cure_advice import Counted, LongestWall
from mendbook.terms.cure_order import THICKEST, CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.cure_wall import Layer

SHIFT = 8.0  # h
THIN = 3.0  # mm; gum and skims of it are laid no thicker in a thicker wall


def longest_walls(order: CureOrder, hours: float) -> tuple[LongestWall, ...]:
    """Return the thickest wall that fits `hours` [h] from switch-on to release, for each schedule that may be followed.

    Layers over 3 mm grow or shrink together, in proportion; thinner ones stay as they are.
    """
    counted: tuple[Counted, ...] = ("safe", "economy") if order.cooling == "still air" else ("safe",)
    return tuple(_longest(order.model_copy(update={"schedule": schedule}), hours) for schedule in counted)


def _longest(order: CureOrder, hours: float) -> LongestWall:
    @cache
    def sheet_of(thickness: float) -> CureSheet | None:
        return attempt(order.model_copy(update={"layers": scale(order.layers, thickness)}))

    def fits(thickness: float) -> bool:
        sheet = sheet_of(thickness)
        return sheet is not None and sheet.minutes_from_switch_on + sheet.minutes_to_release <= 60 * hours

    least = float(ceil(sum(layer.thickness_mm for layer in order.layers if not _grows(layer, order.layers))) + 1)
    most = least
    while most < THICKEST and fits(most):
        most = min(2 * most, THICKEST)
    found = highest(fits, least, most, 1.0, stride=most)
    sheet = None if found is None else sheet_of(found)
    return LongestWall(
        schedule=order.schedule,
        thickness_mm=None if found is None else round(found),
        heat=heat_of(sheet) if sheet else None,
        grown=tuple(layer.name for layer in order.layers if _grows(layer, order.layers)),
        overcured=tuple(layer.layer for layer in sheet.layers if not layer.ok) if sheet else (),
    )


def scale(layers: tuple[Layer, ...], thickness_mm: float) -> tuple[Layer, ...]:
    """Return `layers` as those of a wall `thickness_mm` thick in all, which must be more than what does not grow."""
    growing = sum(layer.thickness_mm for layer in layers if _grows(layer, layers))
    staying = sum(layer.thickness_mm for layer in layers) - growing
    factor = (thickness_mm - staying) / growing
    return tuple(
        layer.model_copy(update={"thickness_mm": layer.thickness_mm * factor}) if _grows(layer, layers) else layer
        for layer in layers
    )


def _grows(layer: Layer, layers: tuple[Layer, ...]) -> bool:
    """Tell whether a layer grows with the wall; where all are thin, all do."""
    return layer.thickness_mm > THIN or all(other.thickness_mm <= THIN for other in layers)
