"""A cure under other circumstances than ordered: what it would need, and what it gets with the minutes ordered."""

from dataclasses import dataclass
from math import ceil

from mendbook.cure.advice.changes import course_of
from mendbook.cure.arrays import Array
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import NeverCuredError
from mendbook.terms.cure_advice import Kept, WhatIf
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet


@dataclass(frozen=True)
class Situation:
    """A wall under certain circumstances. Times in [min after switch-on].

    The edge of the injury is taken to be behind its middle as ordered: what the middle has at a time, the edge has
    `longer` times later.
    """

    wall: Wall
    needed: float | None  # heating; None: it never cures
    timer: float | None  # when the timer starts; None: never
    longer: float = 1.0
    passed: float = 0.0  # before `wall` begins

    def keep(self, minutes: float) -> Kept:
        """Return what the slowest point has after `minutes` of heating [min from switch-on]."""
        heating = 60 * max(0.0, minutes - self.passed) / self.longer
        course = follow(self.wall, heating)
        return kept(
            self.wall, course.at_power_off, course.after_cooling, is_short=self.needed is None or minutes < self.needed
        )


def meet_with(order: CureOrder, longer: float) -> Situation:
    """Return the situation in which `order` is carried out as it stands."""
    wall = Wall(order)
    return Situation(wall, needed_by(wall, longer), wall.timer_start / 60, longer)


def needed_by(wall: Wall, longer: float) -> float | None:
    """Return the heating that `wall` needs by the schedule of its order [min]; None when it never cures."""
    try:
        return longer * course_of(wall).power_off / 60
    except NeverCuredError:
        return None


def kept(wall: Wall, at_power_off: Array, after_cooling: Array, *, is_short: bool) -> Kept:
    """Return what the slowest point has of the cure of all points [multiples of t90]."""
    new = wall.points.must_cure
    return Kept(
        at_power_off=round(float(at_power_off[new].min()), 3),
        after_cooling=round(float(after_cooling[new].min()), 3),
        is_short=is_short,
    )


def tell(name: str, then: Situation, ordered: CureSheet, remark: str = "") -> WhatIf:
    """Return what comes of `then` beside the sheet of what was ordered."""
    needed, timer = then.needed, then.timer
    return WhatIf(
        name=name,
        minutes_from_switch_on=None if needed is None else round_up(needed),
        minutes_from_timer=None if needed is None or timer is None else max(0.0, round_up(needed - timer)),
        more_minutes=None if needed is None else round(round_up(needed) - ordered.minutes_from_switch_on, 1),
        by_clock=then.keep(ordered.minutes_from_switch_on),
        by_timer=None if timer is None else then.keep(timer + ordered.minutes_from_timer),
        remark=remark,
    )


def round_up(minutes: float) -> float:
    """Return tenths of a minute, rounded up."""
    return ceil(minutes * 10 - 1e-6) / 10
