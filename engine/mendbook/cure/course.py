"""The course of a cure: heating up to a moment of power-off, then the cool-down that goes on curing."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.cooling import CoolDown, CoolingPhase, quicken
from mendbook.cure.faces import Face, meet
from mendbook.cure.heating import Heating, HeatingPhase
from mendbook.cure.kinetics import follow_points
from mendbook.cure.marched import MarchedHeating
from mendbook.cure.stack import ELEMENTS, build_stack
from mendbook.cure.varying import varies, vary
from mendbook.terms.cure_order import CureOrder

STEPS = 48  # quadrature intervals of a stretch of heating


@dataclass(frozen=True)
class Begun:
    """Where a cure stands when heating begins, or goes on: times of the faces are counted from there."""

    faces: tuple[Face, Face]
    profile: Array  # of the nodes [°C]
    cure: Array  # of the points [multiples of t90]


class Wall:
    """The wall of an order: its nodes, its faces, and the points at which cure is followed."""

    def __init__(self, order: CureOrder, elements: int = ELEMENTS, begun: Begun | None = None) -> None:
        """Lay it out from switch-on, or from where a cure that has `begun` stands."""
        self.order = order
        self.stack = build_stack(order.layers, elements)
        self.points = follow_points(order.layers, self.stack)
        if begun is None:
            begun = Begun(
                faces=(
                    meet(order.outside, order.ambient_C, order.cooling),
                    meet(order.inside, order.ambient_C, order.cooling),
                ),
                profile=np.full(len(self.stack.depth), order.ambient_C if order.tyre_C is None else order.tyre_C),
                cure=np.zeros(len(self.points.nodes)),
            )
        self.begun, self.faces = begun, begun.faces
        self.heating: HeatingPhase = (
            MarchedHeating(vary(order.layers, self.stack, self.points), self.faces, begun.profile, begun.cure)
            if varies(order)
            else Heating(self.stack, self.faces, begun.profile)
        )

    @property
    def timer_start(self) -> float:
        """When the last of the pads reads its setpoint less 20 K [s after switch-on]."""
        return max(face.timer_start for face in self.faces)

    @cached_property
    def cool_down(self) -> CoolDown:
        """The cool-down as ordered."""
        return CoolDown(self.stack, self.faces, self.order.ambient_C, self._hottest)

    @cached_property
    def quick_cool_down(self) -> CoolDown:
        """The cool-down in a draught, or under light pads: the least that may be counted on."""
        outside, inside = self.faces
        return CoolDown(self.stack, (quicken(outside), quicken(inside)), self.order.ambient_C, self._hottest)

    @property
    def _hottest(self) -> float:
        met = max(float(self.begun.profile.max()), *(reading for face in self.faces for reading in face.readings))
        return met + max(layer.reaction_rise for layer in self.order.layers)

    def slowest(self, cure: Array) -> int:
        """Return the point with the least of `cure` among those that must cure."""
        return int(np.argmin(np.where(self.points.must_cure, cure, np.inf)))

    def let_cool(self, power_off: float, cool_down: CoolDown) -> CoolingPhase:
        """Return the cool-down that begins `power_off` [s after switch-on]."""
        return self.heating.let_cool(power_off, cool_down)


@dataclass(frozen=True)
class Course:
    """A cure followed to its end, for one moment of power-off. Cure in [multiples of t90], point by point."""

    power_off: float  # [s after switch-on]
    at_power_off: Array
    after_cooling: Array
    profile: Array  # of the nodes at power-off [°C]
    slowest: int  # the point that has cured least, at power-off or after cooling, whichever was counted
    cooling: CoolingPhase


def follow(wall: Wall, power_off: float, heated: Array | None = None, *, coasting: bool = False) -> Course:
    """Return the course of the cure when power is switched off `power_off` [s after switch-on].

    heated : cure of every point at that moment, when it is known already [multiples of t90]
    coasting : the cool-down counts for the slowest point
    """
    if heated is None:
        heated = wall.begun.cure + wall.heating.cure(wall.points, wall.heating.ticks(0.0, power_off, STEPS))[:, -1]
    cooling = wall.let_cool(power_off, wall.cool_down)
    cooled = heated + cooling.cure(wall.points)
    return Course(
        power_off=power_off,
        at_power_off=heated,
        after_cooling=cooled,
        profile=wall.heating.temperatures(np.array([power_off]))[:, 0],
        slowest=wall.slowest(cooled if coasting else heated),
        cooling=cooling,
    )


def hottest(wall: Wall, course: Course) -> float:
    """Return the hottest that any rubber gets in all of the cure [°C]; heat of reaction takes it above its pads."""
    heated = wall.heating.temperatures(wall.heating.ticks(0.0, course.power_off, STEPS))
    return float(max(heated.max(), course.cooling.at_moments().max()))
