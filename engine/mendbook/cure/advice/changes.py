"""Orders that differ in one thing from one that was checked, and what their cure comes to."""

from collections.abc import Callable

from mendbook.cure.course import Course, Wall
from mendbook.cure.reach import PadTooSmallError
from mendbook.cure.schedules import NeverCuredError, plan_courses
from mendbook.cure.sheet import compute
from mendbook.terms.cure_advice import Heat
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_sheet import CureSheet, ScheduleName

SIDES = ("outside", "inside")


def attempt(order: CureOrder) -> CureSheet | None:
    """Return the sheet of `order` for the schedule followed alone; None when it never cures, in its middle or edge."""
    try:
        return compute(order, beside=False)
    except (NeverCuredError, PadTooSmallError):
        return None


def is_within(sheet: CureSheet | None) -> bool:
    """Tell whether the cure passes no limit: of no layer, and not of the clamp."""
    return sheet is not None and sheet.porosity.ok and all(layer.ok for layer in sheet.layers)


def heat_of(sheet: CureSheet) -> Heat:
    """Return the two times of a sheet."""
    return Heat(minutes_from_switch_on=sheet.minutes_from_switch_on, minutes_to_release=sheet.minutes_to_release)


def course_of(wall: Wall) -> Course:
    """Return the course that the order of `wall` is cured by: economy where it is ordered and saves anything.

    Raises NeverCuredError.
    """
    is_economy = wall.order.schedule == "economy" and wall.order.cooling == "still air"
    names: tuple[ScheduleName, ...] = ("economy", "safe") if is_economy else ("safe",)
    return next(iter(plan_courses(wall, names).values()))


def pads(order: CureOrder) -> dict[str, Pad]:
    """Return the heated pads by their side."""
    return {side: pad for side, pad in zip(SIDES, (order.outside, order.inside), strict=True) if pad.present}


def hottest(order: CureOrder) -> float:
    """Return the setpoint of the hottest pad [°C]."""
    return max(pad.setpoint_C for pad in pads(order).values())


def has_both_pads(order: CureOrder) -> bool:
    """Tell whether both faces are heated."""
    return len(pads(order)) == len(SIDES)


def is_programmed(order: CureOrder) -> bool:
    """Tell whether a pad follows a programme: it has no setpoint or rate that could be changed by itself."""
    return any(pad.programme for pad in pads(order).values())


def change_pads(order: CureOrder, change: Callable[[Pad], Pad], *sides: str) -> CureOrder:
    """Return `order` with its heated pads changed; with those of `sides` alone, where any are named."""
    changed = {side: change(pad) for side, pad in pads(order).items() if not sides or side in sides}
    return order.model_copy(update=changed)


def at_setpoint(pad: Pad, setpoint_C: float) -> Pad:
    """Return `pad` with another setpoint [°C]; a preheated one is preheated to that."""
    start = pad.start_C
    if start is not None:
        start = setpoint_C if pad.heating_rate_C_min is None else min(start, setpoint_C)
    return pad.model_copy(update={"setpoint_C": setpoint_C, "start_C": start})


def at_setpoints(order: CureOrder, outside_C: float, inside_C: float) -> CureOrder:
    """Return `order` with other setpoints [°C]."""
    outside, inside = at_setpoint(order.outside, outside_C), at_setpoint(order.inside, inside_C)
    return order.model_copy(update={"outside": outside, "inside": inside})
