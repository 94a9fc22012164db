"""The slow path: the cure of a wall under pads that end, at every depth and every distance from the middle.

A round pad is computed in depth and radius, a straight-edged strip in depth and breadth. TR-BDF2 in time (Bank et
al. 1985, formula from memory): second order, L-stable, one factorisation for both its stages. Properties of rubber
hold still, as at 80 °C, and heat of reaction is left out.
"""

from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from math import ceil

import numpy as np
from scipy.sparse import diags
from scipy.sparse.linalg import splu

from mendbook.cure.arrays import Array
from mendbook.cure.cooling import COLD, WARMER
from mendbook.cure.course import Wall
from mendbook.cure.edge import beside_loss
from mendbook.cure.grid import Flow, Grid, Outline
from mendbook.cure.schedules import LONGEST, power_off_time, target_of
from mendbook.cure.sideways import look_along
from mendbook.cure.varying import hold_still
from mendbook.terms.cure_order import CureOrder

ELEMENTS = 40  # across the depth
STEPS = 160  # of the time in which a wall without edges cures
COOLING = ((0.05, 12), (0.25, 12), (1.0, 24))  # share of the cool-down: steps up to it
PATIENCE = 4.0  # times as long as a wall without edges; a pad that takes longer is no pad for it

GAMMA = 2 - 2**0.5
_WEIGHTS = 1 / (GAMMA * (2 - GAMMA)), (1 - GAMMA) ** 2 / (GAMMA * (2 - GAMMA)), (1 - GAMMA) / (2 - GAMMA)


class TooSlowError(ValueError):
    """A place under the pads does not cure in a sensible time. The message says where it is."""


class Disc:
    """A wall under pads that end. It is heated as far as is asked for; what was computed is kept."""

    def __init__(
        self, order: CureOrder, outline: Outline, beside_W_m2K: float | None = None, fineness: float = 1.0
    ) -> None:
        """Lay it out at switch-on.

        beside_W_m2K : what the bare wall beside a pad loses to the shop; as the quick path takes it when left out
        fineness : of the grid and of the steps in time, 1 for use
        """
        order = hold_still(order)
        self.wall = Wall(order, ceil(ELEMENTS * fineness))
        self.outline = outline
        loss = beside_loss(order) if beside_W_m2K is None else beside_W_m2K
        self.grid = Grid(self.wall, outline, look_along(order).unit_mm / 1e3, fineness, loss)
        self._fineness = fineness
        self._march = self._heat()
        self.times: list[float] = []  # [s after switch-on]
        self.temperatures: list[Array] = []  # of nodes (rows) by places [°C]
        self.cures: list[Array] = []  # of points (rows) by places [multiples of t90]
        self.go_on()

    @cached_property
    def flat_time(self) -> float:
        """When a wall without edges is done, on the same nodes [s after switch-on]."""
        return power_off_time(self.wall)

    @property
    def distances_mm(self) -> Array:
        """Places along the wall, from the middle [mm]."""
        return 1e3 * self.grid.places

    def go_on(self) -> None:
        """Heat for one step more; what it comes to stands last in `times`, `temperatures` and `cures`."""
        next(self._march)

    def power_off_time(self, from_middle_mm: float = 0.0) -> float:
        """Return when every depth at a place has its target by heating alone [s after switch-on].

        Raises TooSlowError when that takes several times as long as without edges.
        """
        target = target_of(self.wall, "safe")
        while (reached := self._slowest(self.cures[-1], from_middle_mm)) < target:
            if self.times[-1] > min(PATIENCE * self.flat_time, 0.99 * LONGEST):
                raise TooSlowError(
                    f"{from_middle_mm:.0f} mm from the middle of the pads the wall has {reached:.2g} x t90 after "
                    f"{self.times[-1] / 60:.0f} min, and {target:g} is asked for. Take larger pads."
                )
            self.go_on()
        after = next(at for at, cure in enumerate(self.cures) if self._slowest(cure, from_middle_mm) >= target)
        low, high = (np.log(self._slowest(cure, from_middle_mm)) for cure in self.cures[after - 1 : after + 1])
        share = (np.log(target) - low) / (high - low)
        return float(self.times[after - 1] + share * (self.times[after] - self.times[after - 1]))

    def time_factor(self, from_middle_mm: float = 0.0) -> float:
        """Return by how much longer a place needs than a wall without edges [-]. Raises TooSlowError."""
        return self.power_off_time(from_middle_mm) / self.flat_time

    def at_power_off(self, time: float) -> Array:
        """Return the cure of points (rows) by places when heated for `time` [s]: multiples of t90."""
        return self._between(self.cures, time, in_logarithm=True)

    def after_cooling(self, time: float) -> Array:
        """Return the same, with what the cool-down adds with the pads left on."""
        moment = np.array([time])
        pads = np.array([float(face.temperatures(moment)[0]) for face in self.wall.faces])
        temperatures = self._between(self.temperatures, time)
        cure = self.at_power_off(time)
        flow = self.grid.cooling()
        state = self.grid.with_pads(temperatures, pads)
        ambient = self.wall.order.ambient_C
        end, begin = self.wall.cool_down.time_about(max(COLD, ambient + WARMER)), 0.0
        for share, steps in COOLING:
            leg = _Leg(flow, (share - begin) * end / ceil(steps * self._fineness))
            for _ in range(ceil(steps * self._fineness)):
                state = leg.after(state, (np.array([0.0, 0.0, ambient]),) * 3)
                colder = state[: temperatures.size].reshape(temperatures.shape)
                cure = cure + self._gain(temperatures, colder, leg.step)
                temperatures = colder
            begin = share
        return cure

    def slowest(self, cure: Array) -> Array:
        """Return the least cure of what must cure at every place, from that of points by places."""
        return np.asarray(cure[self.wall.points.must_cure].min(axis=0))

    def reach_mm(self, cure: Array, share: float = 0.95, depth_mm: float | None = None) -> float:
        """Return how far inside the edge of the smaller pad the slowest depth has `share` of the middle's cure [mm].

        cure : of points by places, as the other methods return it
        depth_mm : look at the points nearest to this depth below the outside face, as for a seam, not at all
        """
        slowest = self.slowest(cure)
        if depth_mm is not None:
            away = abs(1e3 * self.wall.stack.depth[self.wall.points.nodes] - depth_mm)
            slowest = cure[away == away.min()].min(axis=0)
        ends = [
            end
            for end, face in zip((self.outline.outside_mm, self.outline.inside_mm), self.wall.faces, strict=True)
            if face.heated
        ]
        last = int(np.flatnonzero(slowest >= share * slowest[0])[-1])
        part = (slowest[last] - share * slowest[0]) / (slowest[last] - slowest[last + 1])
        place = self.distances_mm[last] + part * (self.distances_mm[last + 1] - self.distances_mm[last])
        return float(min(ends) - place)

    def _slowest(self, cure: Array, from_middle_mm: float) -> float:
        return float(np.interp(from_middle_mm, self.distances_mm, self.slowest(cure)))

    def _between(self, kept: list[Array], time: float, *, in_logarithm: bool = False) -> Array:
        while self.times[-1] < time:
            self.go_on()
        after = max(1, int(np.searchsorted(self.times, time)))
        share = (time - self.times[after - 1]) / (self.times[after] - self.times[after - 1])
        low, high = kept[after - 1], kept[after]
        if in_logarithm and low.min() > 0:
            return np.asarray(np.exp((1 - share) * np.log(low) + share * np.log(high)))
        return np.asarray((1 - share) * low + share * high)

    def _gain(self, before: Array, after: Array, step: float) -> Array:
        """Return the cure that points gain in `step` [s]: the trapezoidal rule."""
        points = self.wall.points
        return np.asarray((points.speed(before) + points.speed(after)) * (step / 2))

    def _heat(self) -> Iterator[None]:
        """Follow the wall step by step from switch-on on, and keep what it comes to."""
        self.times.append(0.0)
        self.temperatures.append(np.full(self.grid.shape, self.wall.begun.profile[0]))
        self.cures.append(np.zeros((len(self.wall.points.nodes), self.grid.shape[1])))
        yield
        flow = self.grid.heating()
        longest_step = self.flat_time / ceil(STEPS * self._fineness)
        for start, end in pairwise([*self.wall.heating.bends.tolist(), LONGEST]):
            count = ceil((end - start) / longest_step)
            leg = _Leg(flow, (end - start) / count)
            for done in range(count):
                begin = start + done * leg.step
                state = leg.after(self.temperatures[-1].ravel(), self._met(begin, leg.step))
                hotter = state.reshape(self.grid.shape)
                self.cures.append(self.cures[-1] + self._gain(self.temperatures[-1], hotter, leg.step))
                self.temperatures.append(hotter)
                self.times.append(begin + leg.step)
                yield

    def _met(self, start: float, step: float) -> tuple[Array, Array, Array]:
        """Return what pads and shop are at the start of a step, at its inner stage and at its end [°C]."""
        moments = start + step * np.array([0.0, GAMMA, 1.0])
        outside, inside = (face.temperatures(moments) for face in self.wall.faces)
        shop = np.full(3, self.wall.order.ambient_C)
        first, inner, last = np.array([outside, inside, shop]).T
        return first, inner, last


class _Leg:
    """Steps of one length: C dT/dt = -K T + B u by TR-BDF2."""

    def __init__(self, flow: Flow, step: float) -> None:
        self.step = step
        self._flow = flow
        self._solve = splu((diags(flow.capacity) + GAMMA * step / 2 * flow.flow).tocsc()).solve

    def after(self, state: Array, inputs: tuple[Array, Array, Array]) -> Array:
        """Return the state one step on, with the inputs at its start, its inner stage and its end."""
        flow, (newer, older, own) = self._flow, _WEIGHTS
        driven = flow.drive @ (inputs[0] + inputs[1]) - flow.flow @ state
        inner = self._solve(flow.capacity * state + GAMMA * self.step / 2 * driven)
        return np.asarray(
            self._solve(flow.capacity * (newer * inner - older * state) + own * self.step * (flow.drive @ inputs[2]))
        )
