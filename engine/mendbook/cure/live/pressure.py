"""What the clamp did, and whether water in rubber that was still soft could boil meanwhile."""

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.live.history import History
from mendbook.cure.live.record import Record, smooth
from mendbook.cure.vapour import clamp_needed
from mendbook.terms.cure_state import Fault

TOLERANCE_BAR = 0.1
TOLERANCE = 0.05  # of the pressure ordered
WARM = 80.0  # °C; before the rubber is so hot the pressure need not be there
SOFT = 0.5  # x t90; beyond it rubber holds bubbles down by itself (from memory: 0.3 to 0.5)
BRIEF = 60.0  # s
KEPT = 300.0  # s of low pressure apart: one drop, not two


def judge_pressure(history: History, record: Record, released_s: float | None) -> list[Fault]:
    """Return where the clamp was below what was ordered, and what that means, up to where it may be let go [s]."""
    channel, ordered = record.pressure, history.order.clamp_bar
    if channel is None or not channel.known.any():
        return []
    times = record.times
    readings = np.interp(times, times[channel.known], smooth(channel.readings[channel.known]))
    hottest = np.interp(times, history.pads.times, history.temperatures.max(axis=0))
    low = readings < ordered - max(TOLERANCE_BAR, TOLERANCE * ordered)
    reached = np.maximum.accumulate(~low)
    counted = low & (reached | (hottest > WARM)) & (times < (np.inf if released_s is None else released_s))
    return [_drop(history, channel.name, times, readings, first, last) for first, last in _spells(times, counted)]


def _spells(times: Array, low: Array) -> list[tuple[int, int]]:
    places = np.flatnonzero(low)
    if not len(places):
        return []
    breaks = np.flatnonzero(np.diff(times[places]) > KEPT)
    starts = places[np.concatenate([[0], breaks + 1])]
    ends = places[np.append(breaks, len(places) - 1)]
    spells = zip(starts.tolist(), ends.tolist(), strict=True)
    return [(a, b) for a, b in spells if times[b] - times[a] >= BRIEF]


def _drop(history: History, name: str, times: Array, readings: Array, first: int, last: int) -> Fault:
    ordered = history.order.clamp_bar
    least = float(readings[first : last + 1].min())
    minutes = (times[last] - times[first]) / 60
    still = last == len(times) - 1
    return Fault(
        kind="pressure drop",
        where=name,
        from_min=times[first] / 60,
        to_min=None if still else times[last] / 60,
        said=f"{least:.2f} bar at the lowest, {ordered - least:.2f} bar below the {ordered:g} ordered, for "
        f"{minutes:.0f} min{' so far' if still else ''}.",
        done=f"Nothing in the times was changed. {_meaning(history, times, readings, first, last)}",
    )


def _meaning(history: History, times: Array, readings: Array, first: int, last: int) -> str:
    """Return what a drop means for bubbles: the worst moment in soft rubber that must cure."""
    points, order = history.wall.points, history.order
    moments = history.pads.times
    within = np.flatnonzero((moments >= times[first]) & (moments <= times[last]))
    if not len(within):
        within = np.array([int(np.searchsorted(moments, times[first]).clip(0, len(moments) - 1))])
    soft = (history.cure[:, within] < SOFT) & points.must_cure[:, None]
    if not soft.any():
        return f"All new rubber was cured past {SOFT:g} x t90 by then, and holds bubbles down by itself."
    hottest = np.where(soft, history.temperatures[points.nodes][:, within], -np.inf).max(axis=0)
    given = np.interp(moments[within], times, readings)
    needed = np.array(
        [clamp_needed(max(float(t), 0.1), order.water_activity, order.altitude_m) if np.isfinite(t) else 0.0
         for t in hottest]
    )  # fmt: skip
    worst = int(np.argmax(needed - given))
    if needed[worst] <= given[worst]:
        return (
            f"It still held down the water in rubber not yet cured to {SOFT:g} x t90, at most "
            f"{hottest[np.isfinite(hottest)].max():.0f} °C hot."
        )
    return (
        f"Rubber not yet cured to {SOFT:g} x t90 was {hottest[worst]:.0f} °C hot, which takes {needed[worst]:.2f} bar: "
        "bubbles may have formed. Raise the pressure if that is safe, and look for blisters and hollow spots before "
        "the tyre goes out."
    )
