"""What one column of the log shows by itself: impossible readings, spikes, a sensor that hangs, gaps."""

from itertools import pairwise
from math import ceil, log

import numpy as np

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.live.record import Channel, Record, noise, typical_step
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_state import Fault

COLDEST, HOTTEST = -45.0, 260.0  # °C; a thermocouple that broke reads beyond
LEAST, MOST = -0.9, 25.0  # bar gauge
WINDOW = 7  # readings; up to three of them may be wrong together
JUMP = 6.0  # K; no less is called a spike
SIGNIFICANT = 8.0  # standard deviations of the column
QUICKER = 1.5  # times the fastest rise ordered
RISE = 5.0 / 60  # K/s; rise that is possible whatever is ordered
SPIKE_BAR = 0.4  # bar
RUN = 10  # readings that are one and the same
RUN_FOR = 300.0  # s
CHANCE = 1e-7  # that a working sensor gives such a run
NOISY = 0.15  # K; a column that is quieter may stand still honestly
STEPS = 4.0  # times the usual step, and
GAP = 120.0  # s: without a line so long the log has a gap


def clean_signals(order: CureOrder, record: Record) -> tuple[Record, list[Fault]]:
    """Return the record without impossible readings, spikes and readings of sensors that hang: nan in their place."""
    faults: list[Fault] = []
    cleaned = []
    rise = _fastest(order)
    for channel in record.temperatures:
        now, found = _without(channel, record.times, _outside(channel.readings, COLDEST, HOTTEST), "impossible reading")
        faults += found
        now, found = _without(now, record.times, _spikes(now, record.times, rise), "spike")
        faults += found
        now, found = _without_runs(now, record.times)
        faults += found
        cleaned.append(now)
    if record.pressure:
        odd = _outside(record.pressure.readings, LEAST, MOST)
        now, found = _without(record.pressure, record.times, odd, "impossible reading")
        faults += found
        now, found = _without(now, record.times, _lone(now, SPIKE_BAR), "spike")
        faults += found
        cleaned.append(now)
    return record.swap(*cleaned), faults


def _fastest(order: CureOrder) -> float:
    """Return the fastest rise of a pad that the order asks for [K/s]."""
    pads = [pad for pad in (order.outside, order.inside) if pad.present]
    rates = [pad.heating_rate_C_min / 60 for pad in pads if pad.heating_rate_C_min]
    for pad in pads:
        bends = pad.programme
        rates += [abs(b.temperature_C - a.temperature_C) / (b.at_min - a.at_min) / 60 for a, b in pairwise(bends)]
    return max([RISE, *rates])


def _outside(readings: Array, low: float, high: float) -> Flags:
    return np.asarray((readings < low) | (readings > high))


def _spikes(channel: Channel, times: Array, rise: float) -> Flags:
    known = channel.known
    if not known.any():
        return known
    scatter = noise(channel.readings[known])
    return _lone(channel, max(JUMP, SIGNIFICANT * scatter, QUICKER * rise * typical_step(times)))


def _lone(channel: Channel, most: float) -> Flags:
    """Return which readings stand alone, further than `most` from the median of those about them."""
    places = np.flatnonzero(channel.known)
    found = np.zeros(len(channel.readings), dtype=bool)
    if len(places) < WINDOW:
        return found
    readings = channel.readings[places]
    half = WINDOW // 2
    windows = np.lib.stride_tricks.sliding_window_view(readings, WINDOW)
    alone = np.abs(readings[half:-half] - np.median(windows, axis=1)) > most
    found[places[half:-half][alone]] = True
    # At both ends there are readings on one side alone: each is held against the last good one.
    for order in (range(half - 1, -1, -1), range(len(places) - half, len(places))):
        for index in order:
            good = index + 1 if order.step < 0 else index - 1
            while found[places[good]]:
                good += 1 if order.step < 0 else -1
            found[places[index]] = abs(readings[index] - readings[good]) > most
    return found


_SAID = {
    "impossible reading": "It gives what no sensor in a tyre can read: a broken wire or an open end, most likely.",
    "spike": "It jumps and comes back at once, faster than rubber or pad can.",
}


def _without(channel: Channel, times: Array, wrong: Flags, kind: str) -> tuple[Channel, list[Fault]]:
    """Return the channel without the readings that are `wrong`, with one fault for each stretch of them."""
    if not wrong.any():
        return channel, []
    cleaned = channel.read_as(np.where(wrong, np.nan, channel.readings))
    faults = []
    for first, last in _stretches(np.flatnonzero(wrong), WINDOW):
        count = int(wrong[first : last + 1].sum())
        span = channel.readings[first : last + 1][wrong[first : last + 1]]
        worst = float(span[np.argmax(np.abs(span - np.nanmedian(channel.readings)))])
        open_end = last == len(times) - 1 and kind != "spike"
        faults.append(
            Fault(
                kind="impossible reading" if kind == "impossible reading" else "spike",
                where=channel.name,
                from_min=times[first] / 60,
                to_min=None if open_end else times[last] / 60,
                readings=count,
                said=f"{_SAID[kind]} The worst is {worst:g}.",
                done=f"{_count(count)} left out; the course between its neighbours is taken.",
            )
        )
    return cleaned, faults


def _without_runs(channel: Channel, times: Array) -> tuple[Channel, list[Fault]]:
    """Return the channel without long runs of one value that its own noise makes all but impossible."""
    long = standing_runs(channel, times)
    if not long:
        return channel, []
    moving = channel.known
    for a, b in long:
        moving[a : b + 1] = False
    lively = channel.readings[moving]
    steps = np.abs(np.diff(lively))
    scatter, step = noise(lively), float(steps[steps > 0].min(initial=np.inf))
    if scatter < max(NOISY, step):
        return channel, []
    alike = min(0.5, 0.3 * step / scatter) + 1e-9  # chance that two readings of a normal scatter are the same
    needed = max(RUN, ceil(log(CHANCE) / log(alike)))
    readings, faults = channel.readings.copy(), []
    for a, b in long:
        if b - a + 1 < needed:
            continue
        # The first of a run may be right still; all others are left out.
        readings[a + 1 : b + 1] = np.nan
        faults.append(stuck(channel, times, a, b, b - a))
    return channel.read_as(readings), faults


def stuck(channel: Channel, times: Array, first: int, last: int, count: int) -> Fault:
    """Return the fault of a sensor that hangs from line `first` to line `last`."""
    return Fault(
        kind="stuck",
        where=channel.name,
        from_min=times[first] / 60,
        to_min=None if last == len(times) - 1 else times[last] / 60,
        readings=count,
        said=f"It hangs at {channel.readings[first]:g} where it should move.",
        done=f"{_count(count)} left out.",
    )


def standing_runs(channel: Channel, times: Array) -> list[tuple[int, int]]:
    """Return first and last line of every long run of one value."""
    places = np.flatnonzero(channel.known)
    if not len(places):
        return []
    ends = np.append(np.flatnonzero(np.diff(channel.readings[places])), len(places) - 1)
    starts = np.concatenate([[0], ends[:-1] + 1])
    runs = ((int(places[a]), int(places[b])) for a, b in zip(starts, ends, strict=True) if b - a + 1 >= RUN)
    return [(a, b) for a, b in runs if times[b] - times[a] >= RUN_FOR]


def _stretches(places: Indices, apart: int) -> list[tuple[int, int]]:
    """Return first and last of every group of `places` that lie no further `apart`."""
    breaks = np.flatnonzero(np.diff(places) > apart)
    starts = np.concatenate([[0], breaks + 1])
    ends = np.append(breaks, len(places) - 1)
    return [(int(places[a]), int(places[b])) for a, b in zip(starts, ends, strict=True)]


def _count(count: int) -> str:
    return f"{count} reading{'' if count == 1 else 's'}"


def find_gaps(record: Record) -> list[Fault]:
    """Return where the log has no lines, and where a column of temperature has none for as long."""
    times, least = record.times, max(GAP, STEPS * typical_step(record.times))
    return [
        _gap("", times[line], times[line + 1], 0, "The log has no lines")
        for line in np.flatnonzero(np.diff(times) > least)
    ]


def find_missing(before: Record) -> list[Fault]:
    """Return where single columns lack readings for long, in the record as it was read."""
    times, least = before.times, max(GAP, STEPS * typical_step(before.times))
    faults = []
    for channel in (*before.temperatures, *([before.pressure] if before.pressure else [])):
        lacking = np.flatnonzero(~channel.known)
        if not len(lacking):
            continue
        for first, last in _stretches(lacking, 1):
            start = times[max(0, first - 1)]
            end = times[min(len(times) - 1, last + 1)]
            if end - start > least:
                still = last == len(times) - 1
                faults.append(
                    _gap(channel.name, start, None if still else end, last - first + 1, "It has no readings", end)
                )
    return faults


def _gap(where: str, start: float, end: float | None, count: int, said: str, until: float | None = None) -> Fault:
    minutes = ((until if end is None else end) or 0.0) - start
    return Fault(
        kind="gap",
        where=where,
        from_min=start / 60,
        to_min=None if end is None else end / 60,
        readings=count,
        said=f"{said} for {minutes / 60:.0f} min.",
        done=_BRIDGED,
    )


_BRIDGED = (
    "Pads are taken in a straight line across up to 10 min, and at the lower of both ends across more. "
    "What happened in between nobody knows: look at the pads."
)
