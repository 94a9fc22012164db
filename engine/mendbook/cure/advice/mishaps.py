"""What comes of a pad that fails, of a power cut, and of a clamp let go or a fan put on after power-off."""

from collections.abc import Iterator
from math import ceil, floor, inf

from mendbook.cure.advice.changes import SIDES, has_both_pads, pads
from mendbook.cure.advice.programmes import cut_power
from mendbook.cure.advice.situations import Situation, kept, meet_with, needed_by, tell
from mendbook.cure.cooling import CoolDown
from mendbook.cure.course import Begun, Wall, follow
from mendbook.cure.faces import Face, meet
from mendbook.cure.vapour import air_pressure, boiling_temperature
from mendbook.terms.cure_advice import WhatIf
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_sheet import CureSheet

CUT = 20.0  # min
BARE = 10.0  # W/(m2 K), of a face in still air; from memory
LOSSES = {"bare": BARE, "insulated": 0.0}  # of the face that is heated no longer


def mishaps(order: CureOrder, ordered: CureSheet, longer: float = 1.0) -> Iterator[WhatIf]:
    """Yield what comes of each mishap.

    ordered : the sheet of `order`
    longer : factor on the minutes for the edge of the injury
    """
    half = ordered.minutes_from_switch_on / 2
    if has_both_pads(order):
        for state, loss in LOSSES.items():
            side, then = _worst({side: _dead_at_once(order, side, loss, longer) for side in SIDES})
            yield tell(f"{side} pad dead from switch-on, {state}", then, ordered)
        for state, loss in LOSSES.items():
            side, then = _worst({side: _dead_at(order, half, side, loss, longer) for side in SIDES})
            yield tell(f"{side} pad dead half-way, {state}", then, ordered)
    if (cut := cut_power(Wall(order), 60 * half / longer, 60 * CUT)) is not None:
        yield tell(f"power cut of {CUT:g} min half-way", meet_with(cut, longer), ordered)
    if order.cooling == "still air":
        yield tell("fan after power-off", meet_with(order.model_copy(update={"cooling": "fan"}), longer), ordered)
    yield _opened(order, ordered, longer)


def _worst(found: dict[str, Situation]) -> tuple[str, Situation]:
    """Return the side and the situation of the pad that is missed most."""
    return max(found.items(), key=lambda one: inf if one[1].needed is None else one[1].needed)


def _dead(order: CureOrder, side: str, loss: float) -> CureOrder:
    """Return `order` with the pad of `side` dead, and its face losing `loss` [W/(m2 K)]."""
    pad = pads(order)[side].model_copy(update={"present": False, "loss_W_m2K": loss})
    return order.model_copy(update={side: pad})


def _dead_at_once(order: CureOrder, side: str, loss: float, longer: float) -> Situation:
    """Return what comes of a pad that never heats. The timer never starts: it waits for both."""
    wall = Wall(_dead(order, side, loss))
    return Situation(wall, needed_by(wall, longer), None, longer)


def _dead_at(order: CureOrder, minutes: float, side: str, loss: float, longer: float) -> Situation:
    """Return what comes of a pad that fails `minutes` after switch-on."""
    before, changed = Wall(order), _dead(order, side, loss)
    after = Wall(changed, begun=_go_on(before, 60 * minutes / longer, Wall(changed).faces))
    needed, timer = needed_by(after, longer), before.timer_start / 60
    return Situation(
        after,
        needed=None if needed is None else minutes + needed,
        timer=timer if timer <= minutes else None,
        longer=longer,
        passed=minutes,
    )


def _go_on(wall: Wall, at: float, faces: tuple[Face, Face]) -> Begun:
    """Return where the cure of `wall` stands `at` [s after switch-on], to go on between `faces`."""
    so_far = follow(wall, at)
    return Begun((faces[0].later(at), faces[1].later(at)), so_far.profile, so_far.at_power_off)


def _opened(order: CureOrder, ordered: CureSheet, longer: float) -> WhatIf:
    """Return what comes of pads and clamp taken off at power-off: heating alone counts, and water boils."""
    wall = Wall(order.model_copy(update={"schedule": "safe"}))
    at = 60 * ordered.minutes_from_switch_on / longer
    heated = follow(wall, at)
    hottest = float(heated.profile.max())
    bare = meet(Pad(present=False, loss_W_m2K=BARE), order.ambient_C, order.cooling)
    cooled = heated.at_power_off + wall.let_cool(at, CoolDown(wall.stack, (bare, bare), order.ambient_C, hottest)).cure(
        wall.points
    )
    then = Situation(wall, needed_by(wall, longer), wall.timer_start / 60, longer)
    told = tell("pads and clamp off at power-off", then, ordered)
    what_is_left = kept(wall, heated.at_power_off, cooled, is_short=told.by_clock.is_short)
    boils = boiling_temperature(air_pressure(order.altitude_m))
    return told.model_copy(
        update={
            "by_clock": what_is_left,
            "by_timer": what_is_left,
            "remark": f"the rubber is at up to {ceil(hottest)} °C then, and water in it boils at {floor(boils)} °C: "
            "it may blister, and the bond may open. Never let the clamp go before release.",
        }
    )
