"""The highest setpoint within every limit, the quickest pair of two, and what sparing the tread face costs."""

from functools import cache
from math import floor

from mendbook.cure.advice.changes import at_setpoints, attempt, has_both_pads, hottest, is_within
from mendbook.cure.advice.ladder import highest
from mendbook.terms.cure_advice import HighestSetpoint, Pair, QuickestPair
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

COOLEST = 105.0  # °C; below it a cure takes more than a day
USUAL_MOST = 150.0  # °C; house default: what cord and liner bear is not in an order
HALF, WHOLE = 0.5, 1.0  # °C, of a common setpoint and of a pair
STRIDE = 10.0  # °C of the first look
LEAST_SAVING = 0.02  # of the minutes: less is not worth two setpoints
COOLER = (10.0, 20.0)  # °C that the outside pad is set lower to spare the tread
LEAST_SETPOINT = 80.0  # °C, of any pad

OUTSIDE, INSIDE = 0, 1


def most_looked_at(order: CureOrder) -> float:
    """Return up to which setpoint one is looked for [°C]: 150, or what is ordered when that is hotter."""
    return max(USUAL_MOST, hottest(order))


def highest_setpoint(order: CureOrder, ordered: CureSheet, most_C: float) -> HighestSetpoint:
    """Return the highest setpoint up to `most_C` [°C] at which nothing passes its limit, to half a degree.

    ordered : the sheet of `order`
    """

    @cache
    def sheet_at(setpoint: float) -> CureSheet | None:
        return attempt(at_setpoints(order, setpoint, setpoint))

    found = highest(lambda setpoint: is_within(sheet_at(setpoint)), COOLEST, most_C, HALF, STRIDE)
    at_best = None if found is None else sheet_at(found)
    next_up = COOLEST if found is None else found + HALF
    above = sheet_at(next_up) if next_up <= most_C else None
    layers = tuple(layer.layer for layer in above.layers if not layer.ok) if above else ()
    return HighestSetpoint(
        setpoint_C=found,
        lowest_looked_at_C=COOLEST,
        minutes_from_switch_on=at_best.minutes_from_switch_on if at_best else None,
        binds="layer" if layers else "pressure" if above and not above.porosity.ok else "cap",
        layers=layers,
        ordered_C=hottest(order),
        ordered_minutes=ordered.minutes_from_switch_on,
        ordered_is_within=is_within(ordered),
    )


def quickest_pair(order: CureOrder, common: HighestSetpoint, most_C: float) -> QuickestPair | None:
    """Return the quickest pair of whole degrees within every limit, None where it saves less than 2 %.

    From the common setpoint on, one pad is raised as far as the limits let it, then the other, and so on in turn:
    a hotter pad shortens the cure, which gives the other face room. It is tried from either side.
    """
    if common.setpoint_C is None or common.minutes_from_switch_on is None or not has_both_pads(order):
        return None

    @cache
    def sheet_at(pair: tuple[float, float]) -> CureSheet | None:
        return attempt(at_setpoints(order, *pair))

    def raise_pad(pair: tuple[float, float], side: int) -> tuple[float, float]:
        def set_to(setpoint: float) -> tuple[float, float]:
            return (setpoint, pair[INSIDE]) if side == OUTSIDE else (pair[OUTSIDE], setpoint)

        found = highest(lambda setpoint: is_within(sheet_at(set_to(setpoint))), pair[side], most_C, WHOLE, STRIDE)
        return pair if found is None else set_to(found)

    def climb(pair: tuple[float, float], sides: tuple[int, int]) -> tuple[float, float]:
        while True:
            before = pair
            for side in sides:
                pair = raise_pad(pair, side)
            if pair == before:
                return pair

    start = float(floor(common.setpoint_C))
    ends = {climb((start, start), sides) for sides in ((OUTSIDE, INSIDE), (INSIDE, OUTSIDE))}
    found = [(sheet.minutes_from_switch_on, end, sheet) for end in ends if is_within(sheet := sheet_at(end)) and sheet]
    if not found:
        return None
    minutes, end, sheet = min(found, key=lambda one: one[:2])
    if minutes > (1 - LEAST_SAVING) * common.minutes_from_switch_on:
        return None
    return QuickestPair(pair=_pair(end, sheet), one_setpoint_minutes=common.minutes_from_switch_on)


def spare_the_tread(order: CureOrder) -> tuple[Pair, ...]:
    """Return what the cure is with the outside pad 10 and 20 °C cooler than ordered, the inside one as ordered."""
    if not has_both_pads(order):
        return ()
    cooler = [order.outside.setpoint_C - less for less in COOLER]
    pairs = [(outside, order.inside.setpoint_C) for outside in cooler if outside >= LEAST_SETPOINT]
    return tuple(_pair(pair, sheet) for pair in pairs if (sheet := attempt(at_setpoints(order, *pair))) is not None)


def _pair(pair: tuple[float, float], sheet: CureSheet) -> Pair:
    return Pair(
        outside_C=pair[OUTSIDE],
        inside_C=pair[INSIDE],
        minutes_from_switch_on=sheet.minutes_from_switch_on,
        outside_multiples=sheet.outside.multiples if sheet.outside else None,
        inside_multiples=sheet.inside.multiples if sheet.inside else None,
        within=is_within(sheet),
    )
