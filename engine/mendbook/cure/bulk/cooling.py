"""The cool-down of many walls: power off, clamp and pads left on, heat leaving through the backs of the pads."""

from dataclasses import dataclass, fields

import numpy as np

from mendbook.cure.arrays import Array, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.bulk.heating import PERFECT
from mendbook.cure.bulk.walls import Modes, Walls, find_modes
from mendbook.cure.cooling import COLD, OVERSHOOT, QUICKER, WARMER

STEPS = 24  # intervals of the cool-down, each with its mid-point; they grow: time = end place^2
HOT_STEPS = 16  # of its hot part alone
ROUND = 12  # moments looked at in each round of the search for the release
ROUNDS = 5  # the time is then known to 4e-6 of the search's length
BARE = 1.0  # J/(m2 K), and W/(m2 K) to the shop, of the node that stands for no pad: nothing is linked to it


@dataclass(frozen=True)
class CoolDown:
    """How walls (rows) and their pads cool, from whatever profile they have at power-off."""

    walls: Walls
    rows: Indices  # which of them cool
    ambient: Array  # [°C]
    modes: Modes  # of a chain of pad, wall and pad
    point_shapes: Array  # [wall, point, mode]
    left: Array  # of each mode at each moment: [wall, mode, moment]
    stretch: Array  # seconds to an interval at each moment
    counted_above: float | None  # °C; what cures below is not counted

    def take(self, those: Indices) -> "CoolDown":
        """Return the same for `those` of the rows."""
        modes = Modes(*(getattr(self.modes, field.name)[those] for field in fields(Modes)))
        parts = (self.ambient, self.point_shapes, self.left, self.stretch)
        ambient, point_shapes, left, stretch = (part[those] for part in parts)
        return CoolDown(self.walls, self.rows[those], ambient, modes, point_shapes, left, stretch, self.counted_above)

    def start(self, profile: Array, pads: Array) -> Array:
        """Return the amplitudes of the modes above the shop, from temperatures of nodes and pads at power-off [°C]."""
        chain = np.concatenate([pads[:, :1], profile, pads[:, 1:]], axis=1) - self.ambient[:, None]
        return np.asarray((self.modes.weights @ chain[:, :, None])[:, :, 0])

    def temperatures(self, amplitudes: Array) -> Array:
        """Return point temperatures at the moments of the cool-down [°C]."""
        return np.asarray(self.point_shapes @ (self.left * amplitudes[:, :, None]) + self.ambient[:, None, None])

    def cure(self, temperatures: Array) -> Array:
        """Return the cure [multiples of t90] that each point gains at `temperatures` [°C]; Simpson's rule."""
        speed = self.walls.speed(temperatures, self.rows) * self.stretch[:, None]
        before, middle, after = speed[:, :, :-1:2], speed[:, :, 1::2], speed[:, :, 2::2]
        gains = (before + 4 * middle + after) / 6
        if self.counted_above is not None:
            gains = _cut(gains, temperatures[:, :, ::2] - self.counted_above, before, after)
        return np.asarray(gains.sum(axis=2))

    def release(self, amplitudes: Array, release: Array) -> Array:
        """Return when the hottest node of the wall falls to `release` [°C] for good: [s after power-off]."""
        shapes, above = self.modes.shapes[:, 1:-1], release - self.ambient
        hottest = (self.modes.shapes @ amplitudes[:, :, None]).max(axis=(1, 2)) + self.ambient
        low, high = np.zeros(len(release)), _time_about(self.modes.decay, self.ambient, release, hottest)
        was_hot = (shapes @ amplitudes[:, :, None]).max(axis=(1, 2)) > above
        places = np.linspace(0, 1, ROUND + 1)[1:]
        for _ in range(ROUNDS):
            moments = low[:, None] + (high - low)[:, None] * places
            left = np.exp(-self.modes.decay[:, :, None] * moments[:, None]) * amplitudes[:, :, None]
            hot = (shapes @ left).max(axis=1) > above[:, None]
            last = np.where(hot, np.arange(1, ROUND + 1), 0).max(axis=1)
            width = (high - low) / ROUND
            was_hot |= last > 0
            low = low + last * width
            high = np.where(last < ROUND, low + width, 2 * high)
        return np.asarray(np.where(was_hot, high, 0.0))


def _time_about(decay: Array, ambient: Array, temperature: Array, hottest: Array) -> Array:
    share = np.maximum((hottest - ambient) / (temperature - ambient), 1.0)
    return np.asarray(np.log(OVERSHOOT * share) / decay[:, 0])


def cool(walls: Walls, orders: OrderColumns, rows: Indices, counted_above: float | None = None) -> CoolDown:
    """Return the cool-down of `rows` as `orders` say.

    counted_above : only what cures while a point is hotter counts [°C], in a cool-down as quick as a draught or a
        light pad makes it
    """
    factor = 1.0 if counted_above is None else QUICKER
    there = orders.take(rows)
    loss = there.loss * factor
    pads = np.where(there.heated, there.capacity / factor, BARE)
    links = np.where(there.heated, np.minimum(there.conductance, PERFECT), 0.0)
    capacity = np.concatenate([pads[:, :1], walls.capacity[rows], pads[:, 1:]], axis=1)
    chain = np.concatenate([links[:, :1], walls.conductance[rows], links[:, 1:]], axis=1)
    exchange = np.zeros((*capacity.shape, 2))
    exchange[:, [0, -1], [0, 1]] = np.where(there.heated, loss, BARE)
    exchange[:, [1, -2], [0, 1]] = np.where(there.heated, 0.0, loss)
    modes = find_modes(capacity, chain, exchange)

    steps = STEPS if counted_above is None else HOT_STEPS
    place = np.linspace(0, 1, 2 * steps + 1)
    over = np.maximum(COLD, there.ambient + WARMER) if counted_above is None else np.full(len(rows), counted_above)
    end = _time_about(modes.decay, there.ambient, over, _hottest(there))[:, None]
    return CoolDown(
        walls=walls,
        rows=rows,
        ambient=there.ambient,
        modes=modes,
        point_shapes=np.take_along_axis(modes.shapes, walls.nodes[rows, :, None] + 1, axis=1),
        left=np.exp(-modes.decay[:, :, None] * (end * place**2)[:, None]),
        stretch=2 * place * end / steps,
        counted_above=counted_above,
    )


def _hottest(orders: OrderColumns) -> Array:
    return np.asarray(np.maximum(orders.tyre, orders.readings.max(axis=(1, 2))))


def _cut(gains: Array, above: Array, before: Array, after: Array) -> Array:
    """Return the gains [.., interval] of what is `above` zero alone; `above` is known at the ends of intervals."""
    start, stop = above[..., :-1], above[..., 1:]
    through = (start > 0) != (stop > 0)
    span = np.where(through, stop - start, 1.0)
    share = np.where(start > 0, -start / span, stop / span)
    hot, cold = np.where(start > 0, before, after), np.where(start > 0, after, before)
    passing = share * (hot + (hot + (cold - hot) * share)) / 2
    return np.where(through, passing, np.where(start > 0, gains, 0.0))
