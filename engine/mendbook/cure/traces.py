"""A cure traced through time and through the wall: temperatures up to release, cure at power-off and when cold."""

from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.course import Course, Wall, follow
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

HEATING = 200  # moments of the heating, besides the bends of the pads
COOLING = 200  # moments of the cool-down
LINGER = 1.06  # times the minutes to release are shown


@dataclass(frozen=True)
class Temperatures:
    """Temperatures [°C] at `minutes` [min after switch-on]; of two sides the outside comes first."""

    minutes: Array
    pads: tuple[Array | None, Array | None]  # None where there is no pad
    faces: tuple[Array, Array]
    slowest: Array
    hottest: Array  # of all points of the wall
    peak: tuple[float, float]  # when the slowest point is hottest [min after switch-on], and how hot [°C]


@dataclass(frozen=True)
class Reached:
    """The cure of a layer, from its outer edge to its inner edge [multiples of t90]."""

    at_power_off: Array
    after_cooling: Array
    limit: float  # most it bears


@dataclass(frozen=True)
class LayerProfile:
    """One layer across the wall."""

    layer: str
    must_cure: bool
    depth_mm: Array  # below the outside face
    cure: Reached | None  # None where the order gives no compound


@dataclass(frozen=True)
class Profile:
    """The cure through the wall, and at its slowest point. Cure in [multiples of t90]."""

    layers: tuple[LayerProfile, ...]
    slowest_mm: float  # below the outside face
    slowest_at_power_off: float
    slowest_after_cooling: float


def trace_temperatures(order: CureOrder, sheet: CureSheet) -> Temperatures:
    """Return the temperatures of the cure of `order` when power goes off as `sheet` says."""
    wall = Wall(order)
    course = _course(wall, sheet)
    node = int(wall.points.nodes[course.slowest])

    heated = np.array(sorted({*np.linspace(0, course.power_off, HEATING).tolist(), *_bends(wall, course.power_off)}))
    cooled = LINGER * (60 * sheet.minutes_to_release + 60) * np.linspace(0, 1, COOLING)[1:] ** 2
    nodes = np.hstack([wall.heating.temperatures(heated), course.cooling.temperatures(cooled)])
    readings = [face.temperatures(heated) for face in wall.faces]
    met = np.hstack([np.array(readings), course.cooling.pads(cooled)])
    minutes = np.concatenate([heated, course.power_off + cooled]) / 60

    after = nodes[node, len(heated) - 1 :]
    hottest = int(np.argmax(after))
    return Temperatures(
        minutes=minutes,
        pads=(met[0] if order.outside.present else None, met[1] if order.inside.present else None),
        faces=(nodes[0], nodes[-1]),
        slowest=nodes[node],
        hottest=nodes.max(axis=0),
        peak=(float(minutes[len(heated) - 1 + hottest]), float(after[hottest])),
    )


def trace_profile(order: CureOrder, sheet: CureSheet) -> Profile:
    """Return the cure through the wall of `order` when power goes off as `sheet` says."""
    wall = Wall(order)
    course = _course(wall, sheet)
    return Profile(
        layers=tuple(_layer(wall, course, index) for index in range(len(order.layers))),
        slowest_mm=1e3 * float(wall.stack.depth[wall.points.nodes[course.slowest]]),
        slowest_at_power_off=float(course.at_power_off[course.slowest]),
        slowest_after_cooling=float(course.after_cooling[course.slowest]),
    )


def _course(wall: Wall, sheet: CureSheet) -> Course:
    return follow(wall, 60 * sheet.minutes_from_switch_on, coasting=sheet.schedule != "safe")


def _bends(wall: Wall, end: float) -> list[float]:
    return [bend for face in wall.faces for bend in face.times if bend < end]


def _layer(wall: Wall, course: Course, index: int) -> LayerProfile:
    layer, span = wall.order.layers[index], wall.stack.spans[index]
    here = wall.points.layers == index
    compound = layer.compound
    return LayerProfile(
        layer=layer.name,
        must_cure=not layer.cured_before,
        depth_mm=1e3 * wall.stack.depth[span.start : span.stop],
        cure=Reached(course.at_power_off[here], course.after_cooling[here], compound.face_limit) if compound else None,
    )
