"""The cool-down: power off, clamp and pads left on, heat leaving through the backs of the pads."""

from math import isinf, log

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.faces import Face
from mendbook.cure.kinetics import Points
from mendbook.cure.modes import Modes
from mendbook.cure.stack import Stack

COLD = 75.0  # °C; what cures below it is not worth counting
WARMER = 15.0  # K above the shop, where COLD is never reached
STEPS = 48  # even: Simpson's rule takes them in pairs
OVERSHOOT = 1.5  # the slowest mode may begin above the wall's own temperature: by 4/pi in a slab
CLOSE = 0.1  # s
ROUND = 33  # moments looked at in each round of the search


class Cooling:
    """A wall from power-off on. Times in [s after power-off], temperatures in [°C]."""

    def __init__(self, stack: Stack, faces: tuple[Face, Face], ambient_C: float, wall: Array, pads: Array) -> None:
        """Start from the temperatures of the wall's nodes and of both pads at power-off [°C]."""
        capacity, links, state = [*stack.capacity], [*stack.conductance], [*wall]
        own_nodes = [face.heated and not isinf(face.conductance) for face in faces]
        for at_end, (face, pad) in enumerate(zip(faces, pads, strict=True)):
            if own_nodes[at_end]:
                capacity.insert(at_end * len(capacity), face.capacity)
                links.insert(at_end * len(links), face.conductance)
                state.insert(at_end * len(state), pad)
            else:  # a pad in perfect contact is one with the face; a bare face has no capacity to add
                capacity[-at_end] += face.capacity
        exchange = np.zeros((len(capacity), 2))
        exchange[0, 0], exchange[-1, 1] = (face.loss for face in faces)

        self._wall = slice(int(own_nodes[0]), len(capacity) - int(own_nodes[1]))
        self._modes = Modes(np.array(capacity), np.array(links), exchange)
        self._state = self._modes.amplitudes(np.array(state))
        self._ambient = np.full(2, ambient_C)
        self._hottest = max(state)

    def temperatures(self, times: Array) -> Array:
        """Return the temperature of every node of the wall (rows) at `times`, one column each."""
        amplitudes = self._modes.evolve(self._state, self._ambient, np.zeros(2), times)
        return self._modes.temperatures(amplitudes)[self._wall]

    def cure(self, points: Points) -> Array:
        """Return the cure [multiples of t90] that `points` gain until the wall is cold; Simpson's rule."""
        end = self._end(max(COLD, self._ambient[0] + WARMER))
        place = np.linspace(0, 1, STEPS + 1)
        weights = np.full(STEPS + 1, 2.0)
        weights[1::2] = 4.0
        weights[[0, -1]] = 1.0
        weights *= 2 * place * end / (3 * STEPS)  # moments lie closer at first: time = end place^2
        return np.asarray(points.speed(self.temperatures(end * place**2)) @ weights)

    def time_to(self, temperature_C: float) -> float:
        """Return when the hottest node falls to `temperature_C` [°C], which must be above ambient."""
        low, high = 0.0, self._end(temperature_C)
        while self.temperatures(np.array([high])).max() > temperature_C:
            high *= 2
        while high - low > CLOSE:
            moments = np.linspace(low, high, ROUND)
            above = np.flatnonzero(self.temperatures(moments).max(axis=0) > temperature_C)
            if not above.size:
                return low
            low, high = moments[above[-1]], moments[above[-1] + 1]
        return float(high)

    def peak(self, node: int) -> float:
        """Return the hottest that `node` gets from power-off on [°C]."""
        moments = self._end(max(COLD, self._ambient[0] + WARMER)) * np.linspace(0, 1, STEPS + 1) ** 2
        return float(self.temperatures(moments)[node].max())

    def _end(self, temperature_C: float) -> float:
        """Return about when [s] the slowest mode, and so the wall, is below `temperature_C` [°C]."""
        share = (self._hottest - self._ambient[0]) / (temperature_C - self._ambient[0])
        return float(log(OVERSHOOT * max(share, 1.0)) / self._modes.decay[0])
