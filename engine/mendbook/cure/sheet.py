"""From a cure order to its cure sheet."""

from math import ceil, floor

from mendbook.cure.course import Course, Wall, hottest
from mendbook.cure.reach import judge_pads
from mendbook.cure.schedules import plan_courses, target_of
from mendbook.cure.vapour import clamp_needed, safe_setpoint, saturation_pressure
from mendbook.cure.varying import varies
from mendbook.cure.words import cautions, notes, warn_of_clock, warn_of_reaction, warnings
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet, FaceCure, LayerCure, Porosity, Schedule, ScheduleName, SlowestPoint


def compute(order: CureOrder, *, beside: bool = True) -> CureSheet:
    """Return minutes, margins and limits of the cure that `order` asks for.

    beside : work out the schedules that are not followed, too

    Overcure and release count the cool-down as ordered, whatever the schedule counts. Raises NeverCuredError when
    72 h of heating do not suffice, PadTooSmallError when the edge of the injury takes too long.
    """
    wall = Wall(order)
    names = _names(order, beside=beside)
    judged = judge_pads(order, names)
    courses = plan_courses(wall, names, judged.factors if judged else None)
    schedules = tuple(_schedule(wall, name, course) for name, course in courses.items())
    followed, course = schedules[0], next(iter(courses.values()))
    reach = judged.reach_of(followed.name) if judged else None
    layers = _layers(wall, course)
    porosity = _porosity(order)
    return CureSheet(
        case=order.case,
        schedule=followed.name,
        minutes_from_switch_on=followed.minutes_from_switch_on,
        timer_starts_at_min=_timer(wall),
        minutes_from_timer=followed.minutes_from_timer,
        minutes_to_release=followed.minutes_to_release,
        release_C=order.release_C,
        target=followed.target,
        schedules=schedules,
        slowest=followed.slowest,
        outside=followed.outside,
        inside=followed.inside,
        layers=layers,
        porosity=porosity,
        reach=reach,
        warnings=(
            *warnings(order, layers, porosity, reach),
            *warn_of_clock(order, followed, _timer(wall)),
            *_reaction(wall, course),
        ),
        cautions=cautions(order),
        notes=notes(order, followed, reach),
    )


def _reaction(wall: Wall, course: Course) -> tuple[str, ...]:
    return warn_of_reaction(wall.order, hottest(wall, course)) if varies(wall.order) else ()


def _names(order: CureOrder, *, beside: bool) -> tuple[ScheduleName, ...]:
    """Return the schedules to work out, the one to follow first; economy is followed only where it saves."""
    if order.cooling != "still air":
        return ("safe", "floor") if beside else ("safe",)
    if order.schedule == "economy":
        return ("economy", "safe", "floor") if beside else ("economy", "safe")
    return ("safe", "economy", "floor") if beside else ("safe",)


def _schedule(wall: Wall, name: ScheduleName, course: Course) -> Schedule:
    minutes = _up(course.power_off)
    point = course.slowest
    return Schedule(
        name=name,
        target=target_of(wall, name),
        minutes_from_switch_on=minutes,
        minutes_from_timer=max(0.0, round(minutes - _timer(wall), 1)),
        minutes_to_release=_up(course.cooling.time_to(wall.order.release_C)),
        slowest=_slowest(wall, course),
        after_power_off=round(1 - float(course.at_power_off[point] / course.after_cooling[point]), 3),
        outside=_face(wall, course, 0),
        inside=_face(wall, course, -1),
    )


def _timer(wall: Wall) -> float:
    return floor(wall.timer_start / 6) / 10


def _up(seconds: float) -> float:
    """Return tenths of a minute, rounded up: a cure is never cut short by rounding."""
    return ceil(seconds / 6 - 1e-6) / 10


def _slowest(wall: Wall, course: Course) -> SlowestPoint:
    node = wall.points.nodes[course.slowest]
    return SlowestPoint(
        layer=wall.order.layers[wall.points.layers[course.slowest]].name,
        depth_mm=round(1e3 * float(wall.stack.depth[node]), 1),
        temperature_C=round(float(course.profile[node]), 1),
        peak_C=round(course.cooling.peak(int(node)), 1),
    )


def _layers(wall: Wall, course: Course) -> tuple[LayerCure, ...]:
    found = []
    for index, layer in enumerate(wall.order.layers):
        if layer.compound is None:
            continue
        here = wall.points.layers == index
        most = float(course.after_cooling[here].max())
        found.append(
            LayerCure(
                layer=layer.name,
                least_at_power_off=round(float(course.at_power_off[here].min()), 3),
                least=round(float(course.after_cooling[here].min()), 3),
                most=round(most, 3),
                limit=layer.compound.face_limit,
                ok=most <= layer.compound.face_limit,
            )
        )
    return tuple(found)


def _face(wall: Wall, course: Course, end: int) -> FaceCure | None:
    layer = wall.order.layers[end]
    if layer.compound is None:
        return None
    multiples = float(course.after_cooling[end])  # points run from face to face, as the layers do
    return FaceCure(
        layer=layer.name,
        multiples=round(multiples, 3),
        limit=layer.compound.face_limit,
        ok=multiples <= layer.compound.face_limit,
    )


def _porosity(order: CureOrder) -> Porosity:
    setpoint = max(pad.setpoint_C for pad in (order.outside, order.inside) if pad.present)
    moisture, altitude = order.water_activity, order.altitude_m
    needed = clamp_needed(setpoint, moisture, altitude)
    return Porosity(
        setpoint_C=setpoint,
        water_activity=moisture,
        vapour_bar=round(moisture * saturation_pressure(setpoint), 3),
        clamp_needed_bar=ceil(needed * 100 - 1e-6) / 100,
        clamp_given_bar=order.clamp_bar,
        highest_safe_setpoint_C=safe_setpoint(order.clamp_bar, moisture, altitude),
        ok=order.clamp_bar >= needed,
    )
