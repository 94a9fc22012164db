"""The cool-down: power off, clamp and pads left on, heat leaving through the backs of the pads."""

from abc import ABC, abstractmethod
from dataclasses import replace
from math import log

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.faces import Face
from mendbook.cure.kinetics import Points
from mendbook.cure.modes import Modes
from mendbook.cure.stack import Stack

COLD = 40.0  # °C; what cures below it is not worth counting
WARMER = 5.0  # K above the shop, where COLD is never reached
STEPS = 32  # intervals of the cool-down, each with its mid-point
OVERSHOOT = 1.5  # the slowest mode may begin above the wall's own temperature: by 4/pi in a slab
CLOSE = 0.1  # s
ROUND = 33  # moments looked at in each round of the search
QUICKER = 2.0  # times the loss, with half the heat in the pads: a cool-down as poor as may be expected; house default


def quicken(face: Face) -> Face:
    """Return `face` as one that cools about as fast as a draught or a light pad makes it."""
    return replace(face, loss=face.loss * QUICKER, capacity=face.capacity / QUICKER)


class CoolDown:
    """How a wall and its pads cool, from whatever profile they have at power-off."""

    def __init__(self, stack: Stack, faces: tuple[Face, Face], ambient_C: float, hottest_C: float) -> None:
        """Prepare it for profiles no hotter than `hottest_C` [°C] anywhere."""
        capacity, links = [*stack.capacity], [*stack.conductance]
        self._own_nodes = tuple(face.stands_apart for face in faces)
        for at_end, face in enumerate(faces):
            if self._own_nodes[at_end]:
                capacity.insert(at_end * len(capacity), face.capacity)
                links.insert(at_end * len(links), face.conductance)
            else:  # a pad in perfect contact is one with the face; a bare face has no capacity to add
                capacity[-at_end] += face.capacity
        exchange = np.zeros((len(capacity), 2))
        exchange[0, 0], exchange[-1, 1] = (face.loss for face in faces)
        self.faces, self.ambient_C, self.hottest_C = faces, ambient_C, hottest_C
        self.wall = slice(int(self._own_nodes[0]), len(capacity) - int(self._own_nodes[1]))
        self.modes = Modes(np.array(capacity), np.array(links), exchange)

        # Moments lie closer at first: time = end place^2. They are the same for every profile.
        place = np.linspace(0, 1, 2 * STEPS + 1)
        self.end = self.time_about(max(COLD, ambient_C + WARMER))
        self.moments = self.end * place**2
        self.stretch = 2 * place * self.end / STEPS  # seconds to a step of place, there
        self._left = np.exp(-self.modes.decay[:, None] * self.moments)  # of each mode

    def time_about(self, temperature_C: float, from_C: float | None = None) -> float:
        """Return about when [s] the slowest mode, and so the wall, is below `temperature_C` [°C]."""
        hottest = self.hottest_C if from_C is None else from_C
        share = (hottest - self.ambient_C) / (temperature_C - self.ambient_C)
        return float(log(OVERSHOOT * max(share, 1.0)) / self.modes.decay[0])

    def chain(self, wall: Array, pads: Array) -> Array:
        """Return all nodes from those of the wall and of both pads (rows); only pads that stand apart are nodes."""
        parts = [pads[:1]] * self._own_nodes[0] + [wall] + [pads[1:]] * self._own_nodes[1]
        return np.concatenate(parts)

    def fade(self, amplitudes: Array) -> Array:
        """Return what is left in the wall at `moments` [K] of amplitudes [one column, or one for each moment]."""
        return self.modes.temperatures(self._left * amplitudes)[self.wall]


class CoolingPhase(ABC):
    """One cool-down of a wall. Times in [s after power-off], temperatures in [°C]."""

    def __init__(self, cool_down: CoolDown, state: Array) -> None:
        """Start from the temperatures of all nodes [°C], pads included."""
        self._cool_down = cool_down
        self._hottest = float(state.max())

    @abstractmethod
    def _chain(self, times: Array) -> Array:
        """Return the temperature of every node (rows), pads included, at `times`, one column each."""

    def temperatures(self, times: Array) -> Array:
        """Return the temperature of every node of the wall (rows) at `times`, one column each."""
        return np.asarray(self._chain(times)[self._cool_down.wall])

    def pads(self, times: Array) -> Array:
        """Return the temperature of both pads, or of a bare face, at `times`: two rows."""
        return np.asarray(self._chain(times)[[0, -1]])

    def at_moments(self) -> Array:
        """Return the temperature of every node of the wall at the moments of the cool-down."""
        return self.temperatures(self._cool_down.moments)

    def cure(self, points: Points, counted_above_C: float | None = None) -> Array:
        """Return the cure [multiples of t90] that `points` gain until the wall is cold; Simpson's rule.

        With `counted_above_C` [°C] only what cures while a point is hotter counts; the interval in which it passes
        that temperature is cut where a straight line would pass it.
        """
        down = self._cool_down
        temperatures = self.at_moments()
        speed = points.speed(temperatures) * down.stretch
        left, middle, right = speed[:, :-1:2], speed[:, 1::2], speed[:, 2::2]
        gains = (left + 4 * middle + right) / 6
        if counted_above_C is not None:
            gains = _cut(gains, temperatures[points.nodes], (left, right), counted_above_C)
        return np.asarray(gains.sum(axis=1))

    def time_to(self, temperature_C: float) -> float:
        """Return when the hottest node falls to `temperature_C` [°C], which must be above ambient."""
        low, high = 0.0, self._cool_down.time_about(temperature_C, self._hottest)
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
        return float(self.at_moments()[node].max())


class Cooling(CoolingPhase):
    """The cool-down of a wall whose properties stay as they are: exact, in the modes of wall and pads."""

    def __init__(self, cool_down: CoolDown, state: Array) -> None:
        super().__init__(cool_down, state)
        self._above = cool_down.modes.amplitudes(state - cool_down.ambient_C)

    def _chain(self, times: Array) -> Array:
        down = self._cool_down
        left = np.exp(-down.modes.decay[:, None] * times)
        return down.ambient_C + down.modes.temperatures(left * self._above[:, None])

    def at_moments(self) -> Array:
        """Return the temperature of every node of the wall at the moments of the cool-down."""
        return self._cool_down.ambient_C + self._cool_down.fade(self._above[:, None])


def _cut(gains: Array, temperatures: Array, ends: tuple[Array, Array], floor_C: float) -> Array:
    """Return the gains [rows: points, columns: intervals] of what is hotter than `floor_C` [°C] alone."""
    before, after = temperatures[:, :-1:2] - floor_C, temperatures[:, 2::2] - floor_C
    through = (before > 0) != (after > 0)
    span = np.where(through, after - before, 1.0)
    share = np.where(before > 0, -before / span, after / span)
    hot = np.where(before > 0, ends[0], ends[1])
    cold = np.where(before > 0, ends[1], ends[0])
    at_floor = hot + (cold - hot) * share
    passing = share * (hot + at_floor) / 2
    return np.where(through, passing, np.where(before > 0, gains, 0.0))
