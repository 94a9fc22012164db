"""How hot rubber gets until it is half cured: after that a bubble no longer grows in it."""

from dataclasses import dataclass
from math import ceil

import numpy as np

from mendbook.cure.advice.changes import course_of
from mendbook.cure.arrays import Array, Indices
from mendbook.cure.course import Wall
from mendbook.cure.vapour import clamp_needed
from mendbook.terms.cure_advice import HalfCured
from mendbook.terms.cure_order import CureOrder

HALF = 0.5  # x t90; rubber cured further resists a bubble: from memory, no experiment
ELEMENTS = 96  # the temperature falls steeply below a face
STEPS = 192


@dataclass(frozen=True)
class HalfCure:
    """New rubber, point by point from the outside face inwards, and the hottest each gets until it is half cured."""

    order: CureOrder
    thickness: float  # of the wall [m]
    depth: Array  # below the outside face [m]
    nodes: Indices
    layers: Indices
    temperature: Array  # [°C]

    def at(self, share: float) -> HalfCured | None:
        """Return it at `share` of the thickness below the outside face (0 to 1); None where no new rubber lies."""
        depth = share * self.thickness
        below = int(np.searchsorted(self.depth, depth))
        above = max(0, below if below < len(self.depth) and self.depth[below] == depth else below - 1)
        if below == len(self.depth) or depth < self.depth[above] or self.nodes[below] - self.nodes[above] > 1:
            return None
        return self._told(depth, above, float(np.interp(depth, self.depth, self.temperature)))

    def hottest(self) -> HalfCured:
        """Return the point that asks for most pressure."""
        point = int(np.argmax(self.temperature))
        return self._told(float(self.depth[point]), point, float(self.temperature[point]))

    def _told(self, depth: float, point: int, temperature: float) -> HalfCured:
        needed = clamp_needed(temperature, self.order.water_activity, self.order.altitude_m)
        return HalfCured(
            depth_mm=round(1e3 * depth, 1),
            layer=self.order.layers[int(self.layers[point])].name,
            temperature_C=round(temperature, 1),
            needed_bar=round_up(needed),
        )


def follow_to_half(order: CureOrder) -> HalfCure:
    """Return how hot the new rubber of `order` gets until it is half cured. Raises NeverCuredError."""
    wall = Wall(order, ELEMENTS)
    course = course_of(wall)
    ticks = wall.heating.ticks(0.0, course.power_off, STEPS)
    cure = wall.heating.cure(wall.points, ticks)
    so_far = np.maximum.accumulate(wall.heating.temperatures(ticks)[wall.points.nodes], axis=1)
    new = np.flatnonzero(wall.points.must_cure)
    hottest = [
        float(np.interp(HALF, cure[point], so_far[point]))
        if cure[point, -1] >= HALF
        else max(float(so_far[point, -1]), course.cooling.peak(int(wall.points.nodes[point])))
        for point in new
    ]
    nodes = wall.points.nodes[new]
    depth = wall.stack.depth
    return HalfCure(order, float(depth[-1]), depth[nodes], nodes, wall.points.layers[new], np.array(hottest))


def round_up(bar: float) -> float:
    """Return hundredths of a bar, rounded up."""
    return ceil(bar * 100 - 1e-6) / 100
