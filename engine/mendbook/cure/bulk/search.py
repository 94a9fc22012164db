"""When to switch off each of many walls: the search of `mendbook.cure.schedules`, all walls at once.

A step of the search moves those walls only that still need it, so that none is moved by its neighbours.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.bulk.cooling import CoolDown, cool
from mendbook.cure.bulk.heating import Heated, Heating
from mendbook.cure.bulk.walls import Walls
from mendbook.cure.cooling import OVERSHOOT
from mendbook.cure.kinetics import KELVIN
from mendbook.cure.reach import LONGEST as TOO_LONG
from mendbook.cure.schedules import COUNTED_ABOVE, FIRST, LONGEST, MARGIN

NEARLY = 10.0  # K below the setpoint, where cure begins in earnest
SOON = 0.3  # of the stretch looked at; a cure that is over sooner is looked at again, more closely
GROWTH = 2.5  # of a stretch that was too short
NEWTON = 4  # steps inside one interval of the heating, in which cure is all but straight
CLOSE = 1e-4  # of the power-off time, where the cool-down counts
MOST_STEPS = 60


@dataclass(frozen=True)
class Found:
    """Times of power-off [s after switch-on], NaN for what never cures, with the heating that leads there."""

    heated: Heated
    safe: Array  # by heating alone
    followed: Array  # by the schedule that is followed
    coasting: Flags  # it counts part of the cool-down; where that saves nothing it does not
    target: Array  # as it counts [multiples of t90]
    too_small: Flags  # the pads: the edge of the injury takes too long


def least(walls: Walls, rows: Indices, cure: Array) -> Array:
    """Return the least of `cure` [row, point, ..] among the points that must cure."""
    must = walls.must_cure[rows]
    return np.asarray(np.where(must.reshape(must.shape + (1,) * (cure.ndim - 2)), cure, np.inf).min(axis=1))


def find_power_off(walls: Walls, heating: Heating, orders: OrderColumns) -> Found:
    """Return when to switch off as each of `orders` counts."""
    safe_target = orders.target * np.where(orders.forced, MARGIN, 1.0)
    coasting = orders.economy & ~orders.forced
    target = np.where(coasting, orders.target * MARGIN, safe_target)
    heated = _heat_up(walls, heating, orders, target)
    safe = _time_of(walls, heated, safe_target)
    followed = safe.copy()
    economy = np.flatnonzero(coasting)
    if len(economy):
        quick = cool(walls, orders, economy, COUNTED_ABOVE)
        followed[economy] = _coasting_time(walls, heated.take(economy), quick, target[economy])
        saves_nothing = coasting & ~np.isnan(safe) & ~(followed < safe)
        followed = np.where(saves_nothing, safe, followed)
        target = np.where(saves_nothing, safe_target, target)
        coasting = coasting & ~saves_nothing
    return Found(heated, safe, followed, coasting, target, np.zeros(len(safe), dtype=bool))


def find_at_edge(walls: Walls, heating: Heating, at_edge: Heating, orders: OrderColumns) -> Found:
    """Return when to switch off so that the edge of the injury has its cure, too; by heating alone.

    at_edge : the same heating, of the columns at the edge
    """
    target = orders.target * np.where(orders.forced, MARGIN, 1.0)
    edge = _heat_up(walls, at_edge, orders, target)
    heated = Heated(heating, edge.rows, edge.ticks, heating.cure(edge.rows, edge.ticks))
    middle, last = _time_of(walls, heated, target), _time_of(walls, edge, target)
    cures = ~np.isnan(middle)
    too_small = cures & ~(last <= TOO_LONG * middle)
    followed = np.where(too_small, np.nan, np.maximum(middle, last))
    return Found(heated, followed, followed, np.zeros(len(target), dtype=bool), target, too_small)


def _heat_up(walls: Walls, heating: Heating, orders: OrderColumns, target: Array) -> Heated:
    """Return the heating of each wall until its target is reached, or for 72 h, in a stretch not much longer."""
    end = np.minimum(_time_about(walls, heating, orders, target), LONGEST)
    rows = np.arange(len(target))
    ticks = heating.ticks(rows, end)
    cure = heating.cure(rows, ticks)
    while True:
        reached = least(walls, rows, cure[rows]) >= target[rows, None]
        first = np.argmax(reached, axis=1)
        enough = reached[:, -1]
        at_first = ticks[rows, first]
        early = enough & (at_first < SOON * end[rows])
        late = ~enough & (end[rows] < LONGEST)
        end[rows] = np.where(early, at_first, np.where(late, np.minimum(GROWTH * end[rows], LONGEST), end[rows]))
        rows = rows[early | late]
        if not len(rows):
            return Heated(heating, np.arange(len(target)), ticks, cure)
        ticks[rows] = heating.ticks(rows, end[rows])
        cure[rows] = heating.cure(rows, ticks[rows])


def _time_about(walls: Walls, heating: Heating, orders: OrderColumns, target: Array) -> Array:
    """Return about when each wall has cured [s]: its slowest mode fades, then the slowest compound cures."""
    to_go = np.maximum(orders.setpoint - orders.tyre, NEARLY)
    fading = np.log(OVERSHOOT * to_go / NEARLY) / heating.decay[:, 0]
    speed = walls.offset - walls.slope / (orders.setpoint - NEARLY + KELVIN)[:, None]
    curing = target * np.exp(-np.where(walls.must_cure, speed, np.inf).min(axis=1))
    return np.asarray(heating.inputs.bends[:, -1] / 2 + fading + curing)


def _time_of(walls: Walls, heated: Heated, target: Array) -> Array:
    """Return when the slowest point of each wall reaches `target`, NaN where it does not: Newton's steps, bracketed."""
    reached = least(walls, heated.rows, heated.cure) >= target[:, None]
    first = np.maximum(np.argmax(reached, axis=1), 1)
    row = np.arange(len(target))
    low, high = heated.ticks[row, first - 1], heated.ticks[row, first]
    time = high
    for _ in range(NEWTON):
        cure, speed = heated.at(time)
        must = np.where(walls.must_cure[heated.rows], cure, np.inf)
        slowest = np.argmin(must, axis=1)
        excess = must[row, slowest] - target
        low, high = np.where(excess > 0, low, time), np.where(excess > 0, time, high)
        better = time - excess / np.maximum(speed[row, slowest], np.finfo(float).tiny)
        time = np.where((low <= better) & (better <= high), better, (low + high) / 2)
    return np.where(reached[:, -1], time, np.nan)


def _coasting_time(walls: Walls, heated: Heated, quick: CoolDown, target: Array) -> Array:
    """Return when to switch off with what cures in the `quick` cool-down counted while it is hot [s]."""

    def excess(those: Indices, time: Array) -> Array:
        part = heated.take(those)
        down = quick.take(those)
        coasted = down.cure(down.temperatures(let_cool(part, time, down)))
        return np.log(np.maximum(least(walls, part.rows, part.at(time)[0] + coasted), 1e-300) / target[those])

    latest = heated.ticks[:, -1]
    at_latest = excess(np.arange(len(target)), latest)
    return np.where(at_latest < 0, np.nan, _cross(excess, latest, at_latest))


def let_cool(heated: Heated, time: Array, down: CoolDown) -> Array:
    """Return the amplitudes of a cool-down that begins at `time` of each row [s after switch-on]."""
    leg, elapsed = heated.leg(time)
    profile = heated.heating.profile(heated.rows, leg, elapsed)
    return down.start(profile, heated.heating.inputs.at(heated.rows, leg, elapsed))


def _cross(excess: Callable[[Indices, Array], Array], latest: Array, at_latest: Array) -> Array:
    """Return where `excess`, rising with time, passes zero: steps of the secant, bracketed, as for one wall."""
    found = latest.copy()
    those = np.arange(len(latest))
    before, value_before, low, high = latest, at_latest, np.zeros_like(latest), latest
    time = FIRST * before
    for _ in range(MOST_STEPS):
        value = excess(those, time)
        low, high = np.where(value < 0, time, low), np.where(value < 0, high, time)
        slope = (value - value_before) / (time - before)
        better = np.where(slope > 0, time - value / np.where(slope > 0, slope, 1.0), low)
        better = np.where((low < better) & (better < high), better, (low + high) / 2)
        going = np.abs(better - time) >= CLOSE * time
        found[those] = np.where(going, high, better)
        before, value_before, time = time[going], value[going], better[going]
        low, high, those = low[going], high[going], those[going]
        if not len(those):
            break
    return found
