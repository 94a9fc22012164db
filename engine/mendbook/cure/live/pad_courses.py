"""What the pads did: slow, off their setpoint, or without heat for a time."""

from dataclasses import dataclass, replace

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.faces import meet
from mendbook.cure.live.history import Pads
from mendbook.cure.live.pads import FALL, GRACE, OFF, STEADY, STILL
from mendbook.cure.live.record import Record, smooth
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_state import Fault

EDGE = 3.0  # K
BEGUN = 4.0  # K above its start a pad has begun to warm up
SLOW = 0.7  # of the rate ordered
WAY = 0.8  # of the rise, where the time is taken
AGAIN = 300.0  # s; a pad that falls again so soon was not back
LAID_ON = 900.0  # s; a hot pad laid on a cold tyre drops first, and comes back
COLD = 40.0  # K that one pad rose while the other did nothing


@dataclass(frozen=True)
class Fall:
    """A time in which a pad lost heat. Times in [s]; `end` is None while it lasts."""

    side: int
    start: float
    end: float | None
    coldest: float
    before: float  # what it read before [°C]

    def meets(self, other: "Fall", now: float) -> bool:
        """Return whether both last at one time."""
        return self.start < (other.end or now) and other.start < (self.end or now)


def judge_pads(order: CureOrder, pads: Pads, falls: list[Fall], record: Record) -> list[Fault]:
    """Return which pads are slow or off their setpoint."""
    faults: list[Fault] = []
    rows = [smooth(row) for row in pads.readings]
    for side, pad in enumerate((order.outside, order.inside)):
        channel = record.pads[side]
        if not pad.present or channel is None or pad.programme:
            continue
        own_falls = [fall for fall in falls if fall.side == side]
        begun = np.flatnonzero(rows[side] > rows[side][0] + BEGUN)
        start = float(meet(pad, order.ambient_C).readings[0])
        if len(begun) and pad.heating_rate_C_min:
            faults += _slow(pads.times, rows[side], pad, start, own_falls, channel.name)
        if not (own_falls and own_falls[-1].end is None):
            risen = float(rows[1 - side].max() - rows[1 - side][0])
            faults += _off(pads.times, rows[side], pad, channel.name, risen > COLD)
    return faults


def _slow(times: Array, row: Array, pad: Pad, start: float, falls: list[Fall], name: str) -> list[Fault]:
    assert pad.heating_rate_C_min is not None
    first = int(np.flatnonzero(row > row[0] + BEGUN)[0])
    mark = max(row[0], start) + WAY * (pad.setpoint_C - max(row[0], start))
    there = np.flatnonzero(row >= mark)
    last = int(there[0]) if len(there) else len(row) - 1
    began, end = float(times[first]), float(times[last])
    lost = sum((fall.end or end) - fall.start for fall in falls if fall.start < end)
    took, rise = end - began - lost, float(row[last] - row[first])
    if took <= 0 or took < (mark - row[first]) / (pad.heating_rate_C_min / 60) / SLOW + GRACE:
        return []
    return [
        Fault(
            kind="slow pad",
            where=name,
            from_min=max(0.0, began) / 60,
            to_min=end / 60 if len(there) else None,
            said=f"It warms up by {60 * rise / took:.1f} °C/min, and {pad.heating_rate_C_min:g} were ordered.",
            done="Nothing was replaced: the log counts. A timer started by the clock would be short.",
        )
    ]


def _off(times: Array, row: Array, pad: Pad, name: str, other_risen: bool) -> list[Fault]:
    late = times >= times[-1] - STEADY
    if np.ptp(times[late]) < STEADY * 0.9:
        return []
    slope = float(np.polyfit(times[late] - times[-1], row[late], 1)[0])
    mean = float(row[late].mean())
    never_begun = row.max() < row[0] + BEGUN
    if abs(slope) > STILL or abs(mean - pad.setpoint_C) < OFF or (never_begun and not other_risen):
        return []
    near = np.flatnonzero(np.abs(row - mean) > OFF / 2)
    since = float(times[min(near[-1] + 1, len(times) - 1)]) if len(near) else 0.0
    side = "below" if mean < pad.setpoint_C else "above"
    means = (
        "At this temperature it takes longer; the minutes count it as it is."
        if side == "below"
        else "The face cures faster, and water in the rubber presses harder. Lower it."
    )
    return [
        Fault(
            kind="pad failed" if never_begun else "pad off setpoint",
            where=name,
            from_min=since / 60,
            to_min=None,
            said=f"It has settled at {mean:.0f} °C, {abs(mean - pad.setpoint_C):.0f} °C {side} its setpoint.",
            done=f"Nothing was replaced. {means}",
        )
    ]


def find_falls(order: CureOrder, pads: Pads) -> list[Fall]:
    """Return where each pad lost heat that its programme does not take from it, in the order of time."""
    rows = {
        side: (smooth(pads.readings[side]), pad)
        for side, pad in enumerate((order.outside, order.inside))
        if pad.present
    }

    def look(side: int, depth: float) -> list[Fall]:
        row, pad = rows[side]
        return _falls(pads.times, row, pad, side, order.ambient_C, depth)

    found = [fall for side in rows for fall in look(side, FALL)]
    lasting = {fall.side for fall in found if fall.end is None}
    # Where one pad has lost its heat, the other need not have fallen as far yet to have lost its own.
    for side in rows.keys() - lasting if lasting else ():
        found += [fall for fall in look(side, FALL / 2) if fall.end is None]
    return sorted(found, key=lambda fall: fall.start)


def _falls(times: Array, row: Array, pad: Pad, side: int, ambient: float, depth: float) -> list[Fall]:
    level = np.minimum(np.maximum.accumulate(row), pad.setpoint_C)
    if pad.programme:
        asked = meet(pad, ambient).temperatures(times)
        level = np.minimum(level, asked)
    low = row < level - depth
    found: list[Fall] = []
    index = 0
    while index < len(times):
        if not low[index]:
            index += 1
            continue
        high = np.flatnonzero(row[:index] >= level[:index] - EDGE)
        start = int(high[-1]) if len(high) else 0
        back = np.flatnonzero(~low[index:])
        end = index + int(back[0]) if len(back) else len(times)
        coldest = float(row[start : end + 1].min())
        fall = Fall(side, float(times[start]), float(times[end]) if len(back) else None, coldest, float(level[start]))
        if found and found[-1].end is not None and fall.start < found[-1].end + AGAIN:
            before = found.pop()
            fall = replace(fall, start=before.start, before=before.before, coldest=min(before.coldest, coldest))
        found.append(fall)
        index = end
    laid_on = pad.start_C == pad.setpoint_C
    return [
        fall for fall in found if not _is_sag(times, row, fall) and not (laid_on and fall.end and fall.start < LAID_ON)
    ]


def _is_sag(times: Array, row: Array, fall: Fall) -> bool:
    """Return whether a pad only settled lower, without losing its heat altogether."""
    if fall.end is not None or fall.coldest < fall.before - 2 * FALL:
        return False
    late = times >= times[-1] - STEADY / 2
    if np.ptp(times[late]) < STEADY / 4 or fall.start > times[-1] - STEADY:
        return False
    return abs(float(np.polyfit(times[late] - times[-1], row[late], 1)[0])) < STILL
