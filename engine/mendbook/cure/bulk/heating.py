"""The heating of many walls: temperatures, and the cure they bring."""

from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.bulk.inputs import Inputs, follow_pads
from mendbook.cure.bulk.walls import Walls, find_modes

PERFECT = 1e7  # W/(m2 K), of a contact called perfect: a quarter of a micrometre of rubber
STEPS = 20  # even quadrature intervals between two bends
EARLY = (1 / 256, 1 / 64, 1 / 16, 1 / 4)  # of the first of them, which is cut finer

_PLACES = np.array([0.0, *(part / STEPS for part in EARLY), *(step / STEPS for step in range(1, STEPS + 1))])
_MIDDLES = (_PLACES[1:] + _PLACES[:-1]) / 2
_WIDTHS = np.diff(_PLACES)
TICKS = len(_PLACES)  # between two bends, both among them


@dataclass(frozen=True)
class Heating:
    """Walls (rows) between their faces.

    From one bend of the pads to the next a mode runs as y(t) = start + (exp(-z t) - 1) fall + drift t.
    """

    walls: Walls
    inputs: Inputs
    decay: Array  # z of each mode [1/s]
    drive: Array  # [wall, mode, face]
    shapes: Array  # [wall, node, mode]
    point_shapes: Array  # [wall, point, mode]
    start: Array  # [wall, leg, mode]
    fall: Array
    drift: Array

    def profile(self, rows: Indices, leg: Indices, elapsed: Array) -> Array:
        """Return node temperatures of `rows`, `elapsed` [s] after the bend `leg` of each."""
        return np.asarray((self.shapes[rows] @ self._amplitudes(rows, leg, elapsed[:, None]))[:, :, 0])

    def temperatures(self, rows: Indices, leg: Indices, elapsed: Array) -> Array:
        """Return point temperatures of `rows`; `elapsed` [s] after the bend `leg` has a column a moment."""
        return np.asarray(self.point_shapes[rows] @ self._amplitudes(rows, leg, elapsed))

    def _amplitudes(self, rows: Indices, leg: Indices, elapsed: Array) -> Array:
        left = np.expm1(-self.decay[rows, :, None] * elapsed[:, None, :])
        left *= self.fall[rows, leg, :, None]
        left += self.start[rows, leg, :, None]
        left += self.drift[rows, leg, :, None] * elapsed[:, None, :]
        return np.asarray(left)

    def ticks(self, rows: Indices, end: Array) -> Array:
        """Return the ticks from switch-on to `end` [s] of `rows`: TICKS from bend to bend, all alike past the end."""
        bends = self.inputs.bends[rows]
        start = np.minimum(bends, end[:, None])
        stop = np.minimum(np.concatenate([bends[:, 1:], end[:, None]], axis=1), end[:, None])
        return np.asarray(start[:, :, None] + (stop - start)[:, :, None] * _PLACES).reshape(len(rows), -1)

    def cure(self, rows: Indices, ticks: Array) -> Array:
        """Return the cure [multiples of t90] of `rows` at `ticks`: [wall, point, tick]; Simpson's rule."""
        bends = self.inputs.bends[rows]
        legs = ticks.reshape(len(rows), bends.shape[1], TICKS)
        gained = np.zeros((len(rows), self.walls.nodes.shape[1], legs.shape[1], TICKS))
        for leg in range(legs.shape[1]):
            start, length = legs[:, leg, :1], legs[:, leg, -1:] - legs[:, leg, :1]
            past = np.maximum(start - bends[:, leg, None], 0.0)
            moments = past + length * np.concatenate([_PLACES, _MIDDLES])
            speed = self.walls.speed(self.temperatures(rows, np.full(len(rows), leg), moments), rows)
            ends, middles = speed[:, :, :TICKS], speed[:, :, TICKS:]
            gains = (ends[:, :, :-1] + 4 * middles + ends[:, :, 1:]) * (length[:, :, None] * (_WIDTHS / 6))
            gained[:, :, leg, 1:] = gains
        return np.cumsum(gained.reshape(len(rows), gained.shape[1], -1), axis=2)


@dataclass(frozen=True)
class Heated:
    """The cure of `rows` as they heat, at `ticks`, none of them before switch-on."""

    heating: Heating
    rows: Indices
    ticks: Array  # [row, tick], [s after switch-on]
    cure: Array  # [row, point, tick], [multiples of t90]

    def take(self, those: Indices) -> "Heated":
        """Return the same for `those` of the rows."""
        return Heated(self.heating, self.rows[those], self.ticks[those], self.cure[those])

    def leg(self, time: Array) -> tuple[Indices, Array]:
        """Return which bend of the pads lies last before `time` of each row [s], and how long before [s]."""
        return self._leg(self._tick(time), time)

    def at(self, time: Array) -> tuple[Array, Array]:
        """Return cure [multiples of t90] and speed of cure [1/s] of each point at `time` of each row [s]."""
        tick = self._tick(time)
        row = np.arange(len(self.rows))
        leg, elapsed = self._leg(tick, time)
        width = time - self.ticks[row, tick]
        moments = elapsed[:, None] - width[:, None] * np.array([1.0, 0.5, 0.0])
        speed = self.heating.walls.speed(self.heating.temperatures(self.rows, leg, np.maximum(moments, 0.0)), self.rows)
        gain = (speed[:, :, 0] + 4 * speed[:, :, 1] + speed[:, :, 2]) * width[:, None] / 6
        return self.cure[row, :, tick] + gain, speed[:, :, 2]

    def _tick(self, time: Array) -> Indices:
        return np.asarray(np.maximum((self.ticks < time[:, None]).sum(axis=1) - 1, 0))

    def _leg(self, tick: Indices, time: Array) -> tuple[Indices, Array]:
        leg = tick // TICKS
        return leg, time - self.heating.inputs.bends[self.rows, leg]


def heat(walls: Walls, orders: OrderColumns) -> Heating:
    """Return the heating of `walls` as `orders` say; all orders have as many bends of their pads."""
    inputs = follow_pads(orders)
    exchange = np.zeros((*walls.capacity.shape, 2))
    exchange[:, [0, -1], [0, 1]] = np.minimum(orders.conductance, PERFECT)
    modes = find_modes(walls.capacity, walls.conductance, exchange)
    push = np.swapaxes(modes.drive @ np.swapaxes(inputs.readings, 1, 2), 1, 2)
    drift = np.swapaxes(modes.drive @ np.swapaxes(inputs.slopes, 1, 2), 1, 2) / modes.decay[:, None]
    settled = (push - drift) / modes.decay[:, None]

    profile = np.broadcast_to(orders.tyre[:, None, None], (*walls.capacity.shape, 1))
    start = np.empty_like(push)
    start[:, 0] = (modes.weights @ profile)[:, :, 0]
    fall = np.empty_like(push)
    for leg in range(push.shape[1]):
        fall[:, leg] = start[:, leg] - settled[:, leg]
        if leg + 1 < push.shape[1]:
            elapsed = (inputs.bends[:, leg + 1] - inputs.bends[:, leg])[:, None]
            moved = np.expm1(-modes.decay * elapsed) * fall[:, leg] + drift[:, leg] * elapsed
            start[:, leg + 1] = start[:, leg] + moved
    return Heating(
        walls=walls,
        inputs=inputs,
        decay=modes.decay,
        drive=modes.drive,
        shapes=modes.shapes,
        point_shapes=np.take_along_axis(modes.shapes, walls.nodes[:, :, None], axis=1),
        start=start,
        fall=fall,
        drift=drift,
    )
