"""What both faces met: pads that are swapped, hang or are missing in the log, and what is taken in their place."""

from dataclasses import replace
from itertools import pairwise
from math import ceil

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.faces import meet
from mendbook.cure.live.history import Pads
from mendbook.cure.live.record import COARSE, Channel, Record, average, grid, smooth
from mendbook.cure.live.signals import standing_runs, stuck
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_state import Fault

SIDES = ("outside", "inside")
APART = 8.0  # K between setpoints, or between pads: less tells nothing
BRIDGE = 600.0  # s; longer gaps of a pad are filled with the lower of both ends
STEADY = 600.0  # s
STILL = 0.3 / 60  # K/s; a pad that moves less has settled
OFF = 8.0  # K; a thermostat swings by 2 to 5 (from memory)
FALL = 10.0  # K below where it was: a pad has lost its heat
LATE_START = 15.0  # K
SLOWEST = 2.0 / 60  # K/s, of a rise that nobody saw; where the order gives no rate
GRACE = 120.0  # s


def unswap(order: CureOrder, record: Record) -> tuple[Record, list[Fault]]:
    """Return the record with both pads where they belong, told by their setpoints when these differ."""
    wanted = (order.outside, order.inside)
    if not (all(pad.present for pad in wanted) and record.outside and record.inside):
        return record, []
    if abs(wanted[0].setpoint_C - wanted[1].setpoint_C) < APART:
        return record, []
    settled = [_settled(record.times, pad) for pad in record.pads if pad]
    if None in settled:
        return record, []
    read = [value for value in settled if value is not None]
    straight = sum(abs(value - pad.setpoint_C) for value, pad in zip(read, wanted, strict=True))
    crossed = sum(abs(value - pad.setpoint_C) for value, pad in zip(read, wanted[::-1], strict=True))
    return exchange_pads(record) if crossed + APART < straight else (record, [])


def exchange_pads(record: Record, why: str = "Each holds the setpoint of the other.") -> tuple[Record, list[Fault]]:
    """Return the record with its pads exchanged, and the fault that says so."""
    assert record.outside
    assert record.inside
    outside, inside = record.outside, record.inside
    exchanged = replace(record, outside=outside.read_as(inside.readings), inside=inside.read_as(outside.readings))
    fault = Fault(
        kind="swapped",
        where=f"{outside.name}, {inside.name}",
        from_min=0.0,
        to_min=None,
        readings=int(outside.known.sum() + inside.known.sum()),
        said=f"The two pads are swapped in the log. {why}",
        done="They were read the other way round. Check which sensor hangs on which pad.",
    )
    return exchanged, [fault]


def _settled(times: Array, channel: Channel) -> float | None:
    """Return what a pad reads once it has settled [°C], None when it has not."""
    known = channel.known
    late = known & (times >= times[known][-1] - STEADY) if known.any() else known
    if late.sum() < 3 or np.ptp(times[late]) < STEADY / 2:
        return None
    slope = float(np.polyfit(times[late] - times[late][0], channel.readings[late], 1)[0])
    return float(channel.readings[late].mean()) if abs(slope) < STILL else None


def unstick(order: CureOrder, record: Record) -> tuple[Record, list[Fault]]:
    """Return the record without readings of a pad that stood still to the last digit while the other moved away."""
    faults: list[Fault] = []
    mended = []
    for pad, channel, other in (
        (order.outside, record.outside, record.inside),
        (order.inside, record.inside, record.outside),
    ):
        if channel is None or other is None or not pad.present or not other.known.any():
            continue
        beside = np.interp(record.times, record.times[other.known], smooth(other.readings[other.known]))
        readings = channel.readings.copy()
        for first, last in standing_runs(channel, record.times):
            moved = float(beside[last] - beside[first])
            low = channel.readings[first] < pad.setpoint_C - OFF
            if moved < -FALL or (low and moved > FALL):
                readings[first + 1 : last + 1] = np.nan
                faults.append(stuck(channel, record.times, first, last, last - first))
        mended.append(channel.read_as(readings))
    return record.swap(*mended), faults


def settle(order: CureOrder, record: Record) -> tuple[Pads, list[Fault]]:
    """Return what both faces met, with nothing missing: where no reading is left, the least that is likely."""
    faults: list[Fault] = []
    planned = [meet(pad, order.ambient_C, order.cooling) for pad in (order.outside, order.inside)]
    asked = [face.temperatures(record.times) for face in planned]
    found = [_bridged(record.times, channel) if channel else None for channel in record.pads]
    rows = []
    for side, pad in enumerate((order.outside, order.inside)):
        own, other = found[side], found[1 - side]
        if not pad.present:
            rows.append(asked[side])
            continue
        guess = asked[side]
        if other is not None:
            shift = pad.setpoint_C - (order.inside, order.outside)[side].setpoint_C
            guess = np.fmin(guess, other + shift)
        if own is None:
            faults.append(_missing(SIDES[side], other is not None))
            own = np.full(len(record.times), np.nan)
        lacking = ~np.isfinite(own)
        rows.append(np.where(lacking, guess, own))
    rows = [np.where(np.isfinite(row), row, course) for row, course in zip(rows, asked, strict=True)]
    times = grid(record.times)
    met = np.array([average(*_lowered(record.times, row), times) for row in rows])
    return _led_in(order, Pads(times, met)), faults


def _bridged(times: Array, channel: Channel) -> Array | None:
    """Return the readings of a pad, gaps bridged; nan before the first reading and well after the last."""
    places = np.flatnonzero(channel.known)
    if not len(places):
        return None
    row = np.interp(times, times[places], channel.readings[places])
    for before, after in pairwise(places):
        if times[after] - times[before] > BRIDGE:
            row[before + 1 : after] = min(channel.readings[before], channel.readings[after])
    ends = (times < times[places[0]]) | (times > times[places[-1]] + GRACE)
    return np.where(ends, np.nan, row)


def _lowered(times: Array, readings: Array) -> tuple[Array, Array]:
    """Return times and readings of a pad in which a gap of the log itself is at the lower of both ends."""
    wide = np.flatnonzero(np.diff(times) > BRIDGE)
    if not len(wide):
        return times, readings
    extra_times, extra = [], []
    for line in wide:
        low = min(readings[line], readings[line + 1])
        extra_times += [times[line] + 1.0, times[line + 1] - 1.0]
        extra += [low, low]
    every = np.concatenate([times, extra_times])
    place = np.argsort(every, kind="stable")
    return every[place], np.concatenate([readings, extra])[place]


def _missing(side: str, has_other: bool) -> Fault:
    other = ", and never above what the other pad reads" if has_other else ""
    return Fault(
        kind="missing sensor",
        where=f"{side} pad",
        from_min=0.0,
        to_min=None,
        said=f"The log has no readings of the {side} pad.",
        done=f"It is taken to run as the order says from the first line on{other}. Read it by hand.",
    )


def _led_in(order: CureOrder, pads: Pads) -> Pads:
    """Return the pads from where they were cold on, before the log if need be: at the rate ordered, no slower."""
    rises = [
        (float(row[0]) - start, rate)
        for pad, row in zip((order.outside, order.inside), pads.readings, strict=True)
        for start, rate in (_start(order, pad),)
    ]
    before = max((rise / rate for rise, rate in rises if rise > LATE_START), default=0.0)
    if not before:
        return pads
    times = -np.linspace(before, 0, max(2, ceil(before / COARSE) + 1))[:-1]
    lead = [
        np.maximum(row[0] - max(rise, 0.0), row[0] + rate * times * (rise > LATE_START))
        for row, (rise, rate) in zip(pads.readings, rises, strict=True)
    ]
    return Pads(np.concatenate([times, pads.times]), np.concatenate([np.array(lead), pads.readings], axis=1))


def _start(order: CureOrder, pad: Pad) -> tuple[float, float]:
    """Return where a pad starts [°C], and how fast it warms up from there [K/s]."""
    face = meet(pad, order.ambient_C)
    return float(face.readings[0]), max(face.slope(0.0), SLOWEST)


def late_start(order: CureOrder, record: Record) -> list[Fault]:
    """Return a fault when the pads were hot already in the first line, though nobody ordered them preheated."""
    for pad, channel in zip((order.outside, order.inside), record.pads, strict=True):
        if not pad.present or channel is None or not channel.known.any():
            continue
        first = float(channel.readings[channel.known][0])
        start, _ = _start(order, pad)
        if first > start + LATE_START:
            return [
                Fault(
                    kind="late start",
                    where=channel.name,
                    from_min=0.0,
                    to_min=0.0,
                    said=f"It reads {first:.0f} °C in the first line: heating began before the log.",
                    done="Before it, the pads are taken to have warmed up as fast as ordered; no other heat counts.",
                )
            ]
    return []
