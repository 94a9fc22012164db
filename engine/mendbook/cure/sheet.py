"""From a cure order to its cure sheet."""

from math import ceil, floor

from mendbook.cure.course import Course, Wall, follow, power_off_time
from mendbook.cure.vapour import clamp_needed, highest_setpoint, saturation_pressure
from mendbook.cure.words import cautions, notes, warnings
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet, FaceCure, LayerCure, Porosity, SlowestPoint

HOTTEST = 200.0  # °C; no setpoint above it is looked at


def compute(order: CureOrder) -> CureSheet:
    """Return minutes, margins and limits of the cure that `order` asks for.

    The schedule counts heating only; overcure and release count the cool-down with the clamp on. Raises
    NeverCuredError when 72 h of heating do not suffice.
    """
    wall = Wall(order)
    course = follow(wall, power_off_time(wall))
    layers = _layers(wall, course)
    porosity = _porosity(order)
    minutes = _up(course.power_off)
    timer = floor(wall.timer_start / 6) / 10
    return CureSheet(
        case=order.case,
        minutes_from_switch_on=minutes,
        timer_starts_at_min=timer,
        minutes_from_timer=max(0.0, round(minutes - timer, 1)),
        minutes_to_release=_up(course.cooling.time_to(order.release_C)),
        release_C=order.release_C,
        target=order.target,
        slowest=_slowest(wall, course),
        outside=_face(wall, course, 0),
        inside=_face(wall, course, -1),
        layers=layers,
        porosity=porosity,
        warnings=warnings(order, layers, porosity),
        cautions=cautions(order),
        notes=notes(order),
    )


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
    highest = highest_setpoint(order.clamp_bar, moisture, altitude, HOTTEST)
    return Porosity(
        setpoint_C=setpoint,
        water_activity=moisture,
        vapour_bar=round(moisture * saturation_pressure(setpoint), 3),
        clamp_needed_bar=ceil(needed * 100 - 1e-6) / 100,
        clamp_given_bar=order.clamp_bar,
        highest_safe_setpoint_C=floor(highest * 10 + 1e-6) / 10,
        ok=order.clamp_bar >= needed,
    )
