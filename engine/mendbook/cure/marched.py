"""Heating and cool-down of a wall that has no modes, marched through in time."""

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.cooling import CoolDown, CoolingPhase
from mendbook.cure.faces import Face
from mendbook.cure.heating import HeatingPhase
from mendbook.cure.kinetics import Points
from mendbook.cure.march import March
from mendbook.cure.varying import PERFECT, Varying


class MarchedHeating(HeatingPhase):
    """The heating of a wall whose properties change, or that gives off heat."""

    def __init__(self, wall: Varying, faces: tuple[Face, Face], tyre_C: float | Array, cured: Array) -> None:
        """Begin with the wall at `tyre_C` [°C], of all its nodes or one by one, and the cure of its points."""
        super().__init__(faces)
        self._wall = wall
        nodes = np.full(len(wall.stack.depth), tyre_C)
        for end, face in zip((0, -1), faces, strict=True):
            if face.conductance >= PERFECT:  # the face jumps to its pad at once
                nodes[end] = face.readings[0]
        self._march = March(wall.between_pads(faces), nodes, cured[wall.reacting], self.met, self.bends[1:].tolist())

    def temperatures(self, times: Array) -> Array:
        """Return the temperature of every node (rows) at `times`, one column each."""
        return self._march.at(times)[0]

    def cure(self, points: Points, ticks: Array) -> Array:
        """Return the cure [multiples of t90] of `points` gained since the first of `ticks`, one column each.

        Simpson's rule from step to step of the march: heat of reaction may come faster than the ticks go.
        """
        steps = self._march.steps(float(ticks[0]), float(ticks[-1]))
        both = np.array(sorted({*ticks.tolist(), *steps}))
        return np.asarray(super().cure(points, both)[:, np.searchsorted(both, ticks)])

    def let_cool(self, power_off: float, cool_down: CoolDown) -> "MarchedCooling":
        """Return the cool-down that begins `power_off` [s after switch-on]."""
        nodes, cured = self._march.at(np.array([power_off]))
        return MarchedCooling(self._wall, cool_down, nodes[:, 0], self.met(power_off), cured[:, 0])


class MarchedCooling(CoolingPhase):
    """One cool-down of such a wall."""

    def __init__(self, wall: Varying, cool_down: CoolDown, nodes: Array, pads: Array, cured: Array) -> None:
        state = cool_down.chain(nodes, pads)
        super().__init__(cool_down, state)
        shop = np.full(2, cool_down.ambient_C)
        self._march = March(wall.cooling(cool_down.faces), state, cured, lambda _: shop, ())

    def _chain(self, times: Array) -> Array:
        return self._march.at(times)[0]
