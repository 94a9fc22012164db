"""The course of a cure: heating until the slowest point has cured, then the cool-down that goes on curing it."""

from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.cooling import Cooling
from mendbook.cure.faces import meet
from mendbook.cure.heating import Heating
from mendbook.cure.kinetics import follow_points
from mendbook.cure.stack import ELEMENTS, build_stack
from mendbook.terms.cure_order import CureOrder

LONGEST = 72 * 3600.0  # s of heating; nobody waits longer
STEPS = 48  # quadrature intervals of a stretch of heating
CROSSINGS = 0.225  # of the crossing time squared: about when a wall heated from both faces has cured
ALLOWANCE = 3600.0  # s, for the cure itself
GROWTH = 1.5  # of the stretches that follow
SOON = 0.5  # of the stretch looked at; a cure that is over sooner is looked at again, more closely
EXACT = 1e-10  # of the power-off time


class NeverCuredError(ValueError):
    """The slowest point does not reach its target. The message says where it is and what to write instead."""


class Wall:
    """The wall of an order: its nodes, its faces, and the points at which cure is followed."""

    def __init__(self, order: CureOrder, elements: int = ELEMENTS) -> None:
        self.order = order
        self.stack = build_stack(order.layers, elements)
        self.faces = (meet(order.outside, order.ambient_C), meet(order.inside, order.ambient_C))
        self.points = follow_points(order.layers, self.stack)
        tyre_C = order.ambient_C if order.tyre_C is None else order.tyre_C
        self.heating = Heating(self.stack, self.faces, tyre_C)

    @property
    def timer_start(self) -> float:
        """When the last of the pads reads its setpoint less 20 K [s after switch-on]."""
        return max(face.timer_start for face in self.faces)

    def slowest(self, cure: Array) -> int:
        """Return the point with the least of `cure` among those that must cure."""
        return int(np.argmin(np.where(self.points.must_cure, cure, np.inf)))


@dataclass(frozen=True)
class Course:
    """A cure followed to its end, for one moment of power-off. Cure in [multiples of t90], point by point."""

    power_off: float  # [s after switch-on]
    at_power_off: Array
    after_cooling: Array
    profile: Array  # of the nodes at power-off [°C]
    slowest: int  # the point that has cured least at power-off
    cooling: Cooling


def power_off_time(wall: Wall) -> float:
    """Return the least heating [s after switch-on] that brings every point that must cure to the target.

    What cures after power-off is not counted. Raises NeverCuredError when 72 h do not suffice.
    """
    target, heating = wall.order.target, wall.heating
    reached = np.zeros(len(wall.points.nodes))
    start = 0.0
    end = float(heating.bends[-1]) + CROSSINGS * wall.stack.crossing**2 + ALLOWANCE
    while start < LONGEST:
        ticks = heating.ticks(start, min(end, LONGEST), STEPS)
        cure = reached[:, None] + heating.cure(wall.points, ticks)
        enough = cure[wall.points.must_cure].min(axis=0) >= target
        if not enough[-1]:
            reached, start, end = cure[:, -1], end, end * GROWTH
            continue
        first = int(np.argmax(enough))
        if start == 0 and ticks[first] < SOON * ticks[-1]:
            end = float(ticks[first])
            continue
        return _settle(wall, float(ticks[first - 1]), float(ticks[first]), cure[:, first - 1])
    point = wall.slowest(reached)
    layer = wall.order.layers[wall.points.layers[point]]
    depth = 1e3 * wall.stack.depth[wall.points.nodes[point]]
    raise NeverCuredError(
        f"after {LONGEST / 3600:g} h of heating '{layer.name}', {depth:.0f} mm below the outside face, has reached "
        f"{reached[point]:.2g} of the {target:g} x t90 asked for. Raise the setpoint, or heat both faces."
    )


def _settle(wall: Wall, start: float, end: float, reached: Array) -> float:
    """Return when the target is reached between `start`, with the cure `reached`, and `end`: Newton, bracketed."""
    low, high, time = start, end, end
    while True:
        cure = reached + wall.heating.cure(wall.points, np.array([start, time]))[:, -1]
        point = wall.slowest(cure)
        excess = float(cure[point]) - wall.order.target
        low, high = (low, time) if excess > 0 else (time, high)
        speed = wall.points.speed(wall.heating.temperatures(np.array([time])))[point, 0]
        better = time - excess / float(speed)
        if abs(better - time) < EXACT * time or high - low < EXACT * time:
            return time
        time = better if low < better < high else (low + high) / 2


def follow(wall: Wall, power_off: float) -> Course:
    """Return the course of the cure when power is switched off `power_off` [s after switch-on]."""
    ticks = wall.heating.ticks(0.0, power_off, STEPS)
    heated = wall.heating.cure(wall.points, ticks)[:, -1]
    profile = wall.heating.temperatures(ticks[-1:])[:, 0]
    pads = np.array([face.temperature(power_off) for face in wall.faces])
    cooling = Cooling(wall.stack, wall.faces, wall.order.ambient_C, profile, pads)
    return Course(
        power_off=power_off,
        at_power_off=heated,
        after_cooling=heated + cooling.cure(wall.points),
        profile=profile,
        slowest=wall.slowest(heated),
        cooling=cooling,
    )
