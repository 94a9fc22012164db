"""What comes of a shop or of pads that are otherwise than ordered, and of minutes learned on slower pads."""

from collections.abc import Iterator
from itertools import combinations
from math import inf

from mendbook.cure.advice.changes import change_pads, has_both_pads
from mendbook.cure.advice.programmes import ramps
from mendbook.cure.advice.situations import Situation, meet_with, round_up, tell
from mendbook.terms.cure_advice import TimerSlip, WhatIf
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_sheet import CureSheet

COLD, WARM = 5.0, 35.0  # °C
SLOWER = 3.0  # times
POORER = 10.0  # times the contact resistance
GOOD = 5e-4  # m2 K/W, where the order counts on perfect contact


def shop_and_pads(order: CureOrder, ordered: CureSheet, longer: float = 1.0) -> Iterator[WhatIf]:
    """Yield what comes of another day, of pads that heat otherwise, and of poor contact.

    ordered : the sheet of `order`
    longer : factor on the minutes for the edge of the injury
    """
    if order.ambient_C > COLD:
        yield tell(f"cold day, {COLD:g} °C", meet_with(on_a_day(order, COLD), longer), ordered)
    if order.ambient_C < WARM:
        yield tell(f"warm day, {WARM:g} °C", meet_with(on_a_day(order, WARM), longer), ordered)
    if ramps(order):
        yield tell("preheated pads", meet_with(preheated(order), longer), ordered)
        yield tell("slow pads, a third as fast", meet_with(slowed(order), longer), ordered)
    if ramps(order) and has_both_pads(order):
        each = [(side, meet_with(slowed(order, side), longer)) for side in ramps(order)]
        side, slowest = max(each, key=lambda one: inf if one[1].needed is None else one[1].needed)
        yield tell(f"one slow pad, {side}", slowest, ordered)
    poor = change_pads(order, _in_poor_contact)
    yield tell("poor contact, ten times worse", meet_with(poor, longer), ordered)


def timer_slips(order: CureOrder, longer: float = 1.0) -> tuple[TimerSlip, ...]:
    """Return where minutes on the timer, learned on some pads, are too few for faster ones."""
    if not ramps(order):
        return ()
    kinds = {
        "slow pads, a third as fast": meet_with(slowed(order), longer),
        "the pads ordered": meet_with(order, longer),
        "preheated pads": meet_with(preheated(order), longer),
    }
    minutes = {name: found for name, then in kinds.items() if (found := _from_timer(then)) is not None}
    return tuple(
        TimerSlip(
            learned_on=slower,
            used_with=faster,
            minutes=minutes[slower],
            needed=minutes[faster],
            kept=kinds[faster].keep((kinds[faster].timer or 0.0) + minutes[slower]),
        )
        for slower, faster in combinations(minutes, 2)
        if minutes[slower] < minutes[faster]
    )


def on_a_day(order: CureOrder, ambient_C: float) -> CureOrder:
    """Return `order` in a shop, and on a tyre, at `ambient_C` [°C]."""
    return order.model_copy(update={"ambient_C": ambient_C, "tyre_C": ambient_C})


def preheated(order: CureOrder) -> CureOrder:
    """Return `order` with every pad that has a ramp at its setpoint from the start."""
    return change_pads(
        order,
        lambda pad: pad.model_copy(update={"start_C": pad.setpoint_C, "heating_rate_C_min": None}),
        *ramps(order),
    )


def slowed(order: CureOrder, side: str = "") -> CureOrder:
    """Return `order` with its ramps at a third of their rate; that of `side` alone, where one is named."""
    found = ramps(order)
    sides = (side,) if side else tuple(found)
    return change_pads(
        order, lambda pad: pad.model_copy(update={"heating_rate_C_min": (pad.heating_rate_C_min or 0) / SLOWER}), *sides
    )


def _in_poor_contact(pad: Pad) -> Pad:
    return pad.model_copy(update={"contact_resistance_m2K_W": POORER * (pad.contact_resistance_m2K_W or GOOD)})


def _from_timer(then: Situation) -> float | None:
    if then.needed is None or then.timer is None:
        return None
    return max(0.0, round_up(then.needed - then.timer))
