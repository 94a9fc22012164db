"""Cure time against thickness, and the straight-line rule of so many minutes for each millimetre."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import NeverCuredError, plan_courses
from mendbook.terms.cure_order import THICKEST, CureOrder
from mendbook.terms.cure_sheet import CureSheet, ScheduleName

CALIBRATED = 40.0  # mm at which the straight-line rule is made to be right: house choice
WALLS = 13  # worked out
THINNEST = 10.0  # mm
WIDEST = 80.0  # mm that are shown at the least
BEYOND = 1.25  # times the wall ordered that is shown


@dataclass(frozen=True)
class Trial:
    """What the straight-line rule does to a wall. Minutes after switch-on, cure in [multiples of t90]."""

    thickness_mm: float
    given: float  # minutes by the rule
    needed: float  # minutes by the safe schedule
    at_power_off: float  # least cure of what must cure, by the rule
    after_cooling: float


@dataclass(frozen=True)
class StraightRule:
    """Minutes from the start of the timer in proportion to thickness, right for one thickness alone."""

    calibrated_mm: float
    minutes_per_mm: float
    timer_start: float  # [min after switch-on]
    trials: tuple[Trial, ...]  # this wall; a thin one is followed by one twice as thick as calibrated

    def minutes(self, thickness_mm: Array) -> Array:
        """Return when the rule switches off walls of `thickness_mm` [mm], in [min after switch-on]."""
        return self.timer_start + self.minutes_per_mm * thickness_mm


@dataclass(frozen=True)
class Thicknesses:
    """Minutes of heat from switch-on for walls of the same make-up, thinner and thicker in all layers alike."""

    ordered_mm: float
    thickness_mm: Array
    minutes: dict[ScheduleName, Array]  # nan where no heating suffices
    rule: StraightRule | None  # None where the timer starts too late, or 40 mm never cure


def vary_thickness(order: CureOrder, sheet: CureSheet) -> Thicknesses:
    """Return the cure times of walls like that of `order`, by every schedule of its `sheet`."""
    ordered = wall_thickness(order)
    thinnest = min(THINNEST, ordered / 2)
    thickest = max(ordered, min(THICKEST, max(WIDEST, BEYOND * ordered)))
    thickness = np.array(sorted({*np.linspace(thinnest, thickest, WALLS).tolist(), ordered, CALIBRATED}))
    names = tuple(schedule.name for schedule in sheet.schedules)
    times = [_power_off(scale_wall(order, size / ordered), names) for size in thickness.tolist()]
    return Thicknesses(
        ordered_mm=ordered,
        thickness_mm=thickness,
        minutes={name: np.array([found.get(name, np.nan) for found in times]) for name in names},
        rule=_rule(order),
    )


def wall_thickness(order: CureOrder) -> float:
    """Return the thickness of all layers of `order` [mm]."""
    return sum(layer.thickness_mm for layer in order.layers)


def scale_wall(order: CureOrder, factor: float) -> CureOrder:
    """Return `order` with every layer `factor` times as thick."""
    layers = tuple(layer.model_copy(update={"thickness_mm": factor * layer.thickness_mm}) for layer in order.layers)
    return order.model_copy(update={"layers": layers})


def _power_off(order: CureOrder, names: Sequence[ScheduleName]) -> dict[ScheduleName, float]:
    """Return the minutes from switch-on by each schedule that comes to an end."""
    try:
        return {name: course.power_off / 60 for name, course in plan_courses(Wall(order), names).items()}
    except NeverCuredError:
        return {}


def _rule(order: CureOrder) -> StraightRule | None:
    ordered = wall_thickness(order)
    timer = Wall(order).timer_start / 60
    by_timer = _power_off(scale_wall(order, CALIBRATED / ordered), ("safe",)).get("safe", timer) - timer
    if by_timer <= 0:
        return None
    rule = StraightRule(CALIBRATED, by_timer / CALIBRATED, timer, ())
    sizes = (ordered, 2 * CALIBRATED) if ordered < 1.5 * CALIBRATED else (ordered,)
    tried = (_try(scale_wall(order, size / ordered), size, rule) for size in sizes)
    return StraightRule(CALIBRATED, rule.minutes_per_mm, timer, tuple(trial for trial in tried if trial))


def _try(order: CureOrder, thickness_mm: float, rule: StraightRule) -> Trial | None:
    """Return what `rule` does to the wall of `order`; None where no heating cures it."""
    needed = _power_off(order, ("safe",))
    if not needed:
        return None
    given = float(rule.minutes(np.array([thickness_mm]))[0])
    wall = Wall(order)
    course = follow(wall, 60 * given)
    return Trial(
        thickness_mm=thickness_mm,
        given=given,
        needed=needed["safe"],
        at_power_off=float(course.at_power_off[wall.points.must_cure].min()),
        after_cooling=float(course.after_cooling[wall.points.must_cure].min()),
    )
