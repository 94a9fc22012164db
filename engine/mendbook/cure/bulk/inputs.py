"""What both faces of many walls meet, as straight lines between the bends of either pad."""

from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.faces import BELOW_SETPOINT


@dataclass(frozen=True)
class Inputs:
    """The course of both faces of every wall (rows)."""

    bends: Array  # of either pad, in order, the first 0 [s after switch-on]
    readings: Array  # [wall, bend, face], there [°C]
    slopes: Array  # same, from that bend to the next [K/s]; 0 after the last

    def at(self, rows: Indices, leg: Indices, elapsed: Array) -> Array:
        """Return the temperature of both pads of `rows`, `elapsed` [s] after the bend `leg`: [row, face]."""
        return np.asarray(self.readings[rows, leg] + self.slopes[rows, leg] * elapsed[:, None])


def _is_new(orders: OrderColumns) -> tuple[Array, Flags]:
    times = np.sort(orders.times.reshape(len(orders), -1), axis=1)
    new = np.ones(times.shape, dtype=bool)
    new[:, 1:] = times[:, 1:] > times[:, :-1]
    return times, new


def count_bends(orders: OrderColumns) -> Indices:
    """Return how many bends the pads of each order have between them, at different times."""
    return np.asarray(_is_new(orders)[1].sum(axis=1))


def follow_pads(orders: OrderColumns) -> Inputs:
    """Return what the faces of `orders` meet; all of them have the same number of bends."""
    times, new = _is_new(orders)
    bends = times[new].reshape(len(orders), -1)
    started = orders.times[:, :, None, :] <= bends[:, None, :, None]
    leg = started.sum(axis=-1) - 1
    last = np.minimum(leg + 1, orders.times.shape[-1] - 1)
    start, end = (np.take_along_axis(orders.times, index, axis=-1) for index in (leg, last))
    low, high = (np.take_along_axis(orders.readings, index, axis=-1) for index in (leg, last))
    slopes = (high - low) / np.where(end > start, end - start, 1.0)
    readings = low + slopes * (bends[:, None] - start)
    return Inputs(bends, np.swapaxes(readings, 1, 2), np.swapaxes(slopes, 1, 2))


def timer_starts(orders: OrderColumns) -> Array:
    """Return when the last pad of each order reads its setpoint less 20 K [s after switch-on]."""
    mark = orders.readings.max(axis=-1, keepdims=True) - BELOW_SETPOINT
    there = np.argmax(orders.readings >= mark, axis=-1)[..., None]
    before = np.maximum(there - 1, 0)
    start, end = (np.take_along_axis(orders.times, index, axis=-1)[..., 0] for index in (before, there))
    low, high = (np.take_along_axis(orders.readings, index, axis=-1)[..., 0] for index in (before, there))
    rise = np.where(high > low, high - low, 1.0)
    reached = start + np.where(high > low, (mark[..., 0] - low) / rise, 0.0) * (end - start)
    return np.asarray(np.where(orders.heated, reached, 0.0).max(axis=1))
