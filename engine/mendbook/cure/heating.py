"""The heating phase: temperatures under pads that warm up and hold, and the cure they bring."""

from abc import ABC, abstractmethod
from itertools import pairwise
from math import ceil, isinf

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.cooling import CoolDown, Cooling, CoolingPhase
from mendbook.cure.faces import Face
from mendbook.cure.kinetics import Points
from mendbook.cure.modes import Modes
from mendbook.cure.stack import Stack

LEAST_STEPS = 16  # quadrature intervals between two bends of a pad's ramp
STRIDE = 2.5  # K that a pad may warm up in one of them; at 250 kJ/mol the speed of cure then grows by less than twice
EARLY = np.array([1 / 256, 1 / 64, 1 / 16, 1 / 4])  # of the first interval after a bend


class HeatingPhase(ABC):
    """A wall between two faces from switch-on on. Times in [s after switch-on], temperatures in [°C]."""

    def __init__(self, faces: tuple[Face, Face]) -> None:
        self.faces = faces
        # Where an input changes its slope. (numpy's own `unique` would load its masked arrays, a tenth of a second.)
        self.bends = np.array(sorted({0.0, *(bend for face in faces for bend in face.times)}))

    @abstractmethod
    def temperatures(self, times: Array) -> Array:
        """Return the temperature of every node (rows) at `times`, one column each."""

    @abstractmethod
    def let_cool(self, power_off: float, cool_down: CoolDown) -> CoolingPhase:
        """Return the cool-down that begins `power_off` [s after switch-on]."""

    def met(self, time: float) -> Array:
        """Return what the rubber meets on both faces at `time` [s after switch-on], in [°C]."""
        return np.array([float(face.temperatures(np.array(time))) for face in self.faces])

    def ticks(self, start: float, end: float, steps: int) -> Array:
        """Return at least `steps` or so even intervals from `start` to `end`, none of them across a bend of a ramp.

        Where a pad warms up fast they are as many as its rise in temperature asks for. The first after switch-on and
        after each bend is cut finer: what the rubber meets is no longer what it has settled to.
        """
        stops = [start, *(bend for bend in self.bends if start < bend < end), end]
        legs = [np.array([start])]
        for a, b in pairwise(stops):
            rise = float(np.abs(self.met(b) - self.met(a)).max())
            number = max(LEAST_STEPS, round(steps * (b - a) / (end - start)), ceil(rise / STRIDE))
            even = np.linspace(a, b, 1 + number)[1:]
            legs += [a + (even[0] - a) * EARLY, even] if a in self.bends else [even]
        return np.concatenate(legs)

    def cure(self, points: Points, ticks: Array) -> Array:
        """Return the cure [multiples of t90] of `points` gained since the first of `ticks`, one column each.

        Simpson's rule, with the temperature at every mid-point exact.
        """
        middles = (ticks[1:] + ticks[:-1]) / 2
        speed = points.speed(self.temperatures(np.concatenate([ticks, middles])))
        ends = speed[:, : len(ticks)]
        gains = (ends[:, :-1] + 4 * speed[:, len(ticks) :] + ends[:, 1:]) * np.diff(ticks) / 6
        return np.concatenate([np.zeros((len(gains), 1)), np.cumsum(gains, axis=1)], axis=1)


class Heating(HeatingPhase):
    """The heating of a wall whose properties stay as they are: exact, in the modes of the wall."""

    def __init__(self, stack: Stack, faces: tuple[Face, Face], tyre_C: float | Array) -> None:
        """Begin with the wall at `tyre_C` [°C]: of all its nodes, or one by one."""
        super().__init__(faces)
        self._held = tuple(isinf(face.conductance) for face in faces)
        nodes = len(stack.depth)
        self.free = slice(int(self._held[0]), nodes - int(self._held[1]))

        exchange = np.zeros((nodes, 2))
        for side, (node, neighbour) in enumerate(((0, 1), (-1, -2))):
            if self._held[side]:
                exchange[neighbour, side] = stack.conductance[node]
            else:
                exchange[node, side] = faces[side].conductance
        free = self.free
        links = stack.conductance[free.start : free.stop - 1]
        self.modes = Modes(stack.capacity[free], links, exchange[free])

        self._inputs = np.array([face.temperatures(self.bends) for face in faces])
        self._slopes = np.array([[face.slope(bend) for bend in self.bends.tolist()] for face in faces])
        start = np.broadcast_to(np.asarray(tyre_C, dtype=float), nodes)
        self._states = self.modes.follow(self.modes.amplitudes(start[free]), self._inputs, self.bends)

    def _run_on(self, state: Array, leg: int, elapsed: Array) -> Array:
        return self.modes.evolve(state, self._inputs[:, leg], self._slopes[:, leg], elapsed)

    def temperatures(self, times: Array) -> Array:
        """Return the temperature of every node (rows) at `times`, one column each."""
        legs = np.searchsorted(self.bends, times, side="right") - 1
        amplitudes = np.empty((len(self.modes.decay), len(times)))
        for leg in range(legs.min(), legs.max() + 1):
            now = legs == leg
            amplitudes[:, now] = self._run_on(self._states[:, leg], leg, times[now] - self.bends[leg])
        return self._nodes(amplitudes, times)

    def temperatures_at_bends(self) -> Array:
        """Return the temperature of every node (rows) at `bends`, one column each."""
        return self._nodes(self._states, self.bends)

    def _nodes(self, amplitudes: Array, times: Array) -> Array:
        rows = [self.modes.temperatures(amplitudes)]
        if any(self._held):
            met = np.array([face.temperatures(times) for face in self.faces])
            rows = [met[:1]] * self._held[0] + rows + [met[1:]] * self._held[1]
        return np.vstack(rows)

    def let_cool(self, power_off: float, cool_down: CoolDown) -> Cooling:
        """Return the cool-down that begins `power_off` [s after switch-on]."""
        wall = self.temperatures(np.array([power_off]))[:, 0]
        return Cooling(cool_down, cool_down.chain(wall, self.met(power_off)))
