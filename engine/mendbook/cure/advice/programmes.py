"""Courses of a pad other than straight up to its setpoint: a hold on the way, and a power cut."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mendbook.cure.advice.changes import SIDES, is_programmed, pads
from mendbook.cure.course import Wall
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Bend, Pad

USUAL_RATE = 6.0  # °C/min, of a preheated pad when the power comes back; from memory
CUT_STEPS = 8  # straight lines in which a pad cools while the power is off


@dataclass(frozen=True)
class Ramp:
    """A pad on its way to its setpoint."""

    start: float  # [°C]
    rate: float  # [°C/min]
    setpoint: float  # [°C]

    def minutes_to(self, temperature_C: float) -> float:
        """Return when the pad reaches `temperature_C` [min after switch-on]."""
        return (temperature_C - self.start) / self.rate


def ramps(order: CureOrder) -> dict[str, Ramp]:
    """Return the ramps of those pads that have one, by their side: no preheated pad, and no programme."""
    return {
        side: Ramp(start, pad.heating_rate_C_min, pad.setpoint_C)
        for side, pad in pads(order).items()
        for start in (order.ambient_C if pad.start_C is None else pad.start_C,)
        if not pad.programme and pad.heating_rate_C_min is not None and start < pad.setpoint_C
    }


def hold_on_the_way(order: CureOrder, hold_C: float, until_min: float) -> CureOrder:
    """Return `order` with its pads held at `hold_C` [°C] on their ramp until `until_min` [min after switch-on]."""
    held = {}
    for side, ramp in ramps(order).items():
        there = ramp.minutes_to(hold_C)
        leave = max(until_min, there + 1)
        there_at_last = leave + (ramp.setpoint - hold_C) / ramp.rate
        points = [(0.0, ramp.start), (there, hold_C), (leave, hold_C), (there_at_last, ramp.setpoint)]
        held[side] = _follow(pads(order)[side], points)
    return order.model_copy(update=held)


def cut_power(wall: Wall, at: float, lasting: float) -> CureOrder | None:
    """Return the order of `wall` with the power off from `at` [s after switch-on] for `lasting` [s].

    The pads cool meanwhile as they do after power-off, and heat up again at their own rate. None for a programme.
    """
    order = wall.order
    if is_programmed(order):
        return None
    off = np.linspace(0.0, lasting, CUT_STEPS + 1)
    cooled = wall.let_cool(at, wall.cool_down).pads(off)
    cut = {}
    for face, readings, side in zip(wall.faces, cooled.tolist(), SIDES, strict=True):
        pad = pads(order).get(side)
        if pad is None:
            continue
        before = [(time, reading) for time, reading in zip(face.times, face.readings, strict=True) if time < at]
        # No hotter than its setpoint by a rounding error, or an order would not hold it.
        capped = [min(reading, pad.setpoint_C) for reading in readings]
        during = [(at + elapsed, reading) for elapsed, reading in zip(off.tolist(), capped, strict=True)]
        end, coldest = during[-1]
        up_again = end + 60 * (pad.setpoint_C - coldest) / (pad.heating_rate_C_min or USUAL_RATE)
        points = [*before, *during, (up_again, pad.setpoint_C)]
        cut[side] = _follow(pad, [(time / 60, reading) for time, reading in points])
    return order.model_copy(update=cut)


def _follow(pad: Pad, points: Sequence[tuple[float, float]]) -> Pad:
    """Return `pad` on a programme of `points` [min after switch-on, °C]."""
    bends = tuple(Bend(at_min=at, temperature_C=reads) for at, reads in points)
    return pad.model_copy(update={"programme": bends, "heating_rate_C_min": None, "start_C": None})
