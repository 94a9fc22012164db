"""What each face of the wall meets: a pad that follows its course, or the air of the shop."""

from bisect import bisect_right
from dataclasses import dataclass, replace
from math import inf, isinf

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.terms.cure_order import Cooling
from mendbook.terms.cure_pad import Pad

BELOW_SETPOINT = 20.0  # K; the timer starts this far below the setpoint: common practice, no source
FORCED = {"still air": 0.0, "fan": 30.0, "water": 300.0}  # W/(m2 K) at the least; from memory


@dataclass(frozen=True)
class Face:
    """One face. A bare face meets the air: it stands still, and has no heat capacity.

    The temperature it meets runs in straight lines from bend to bend and stays at the last.
    """

    heated: bool
    conductance: float  # from the rubber to what it meets [W/(m2 K)]; inf for perfect contact
    times: tuple[float, ...]  # of the bends [s after switch-on], from 0 on
    readings: tuple[float, ...]  # there [°C]
    capacity: float  # of the pad [J/(m2 K)]
    loss: float  # from the back of the pad, or from the bare face, to the shop while it cools [W/(m2 K)]

    @property
    def stands_apart(self) -> bool:
        """Whether a pad cools as a node of its own: in perfect contact it is one with the face, bare there is none."""
        return self.heated and not isinf(self.conductance)

    @property
    def timer_start(self) -> float:
        """When the pad first reads its setpoint less 20 K [s after switch-on]; 0 for a bare face."""
        if not self.heated:
            return 0.0
        mark = max(self.readings) - BELOW_SETPOINT
        there = next(index for index, reading in enumerate(self.readings) if reading >= mark)
        if there == 0:
            return 0.0
        (start, end), (low, high) = self.times[there - 1 : there + 1], self.readings[there - 1 : there + 1]
        return start + (mark - low) / (high - low) * (end - start)

    def temperatures(self, times: Array) -> Array:
        """Return what the rubber meets at `times` [s after switch-on], in [°C]."""
        return np.interp(times, self.times, self.readings)

    def later(self, time: float) -> "Face":
        """Return the face as it goes on from `time` [s after switch-on]: its times begin there."""
        now = float(self.temperatures(np.array(time)))
        to_come = [
            (bend - time, reading) for bend, reading in zip(self.times, self.readings, strict=True) if bend > time
        ]
        times, readings = zip((0.0, now), *to_come, strict=True)
        return replace(self, times=times, readings=readings)

    def slope(self, time: float) -> float:
        """Return how fast it warms up from `time` on [K/s], up to the next bend."""
        leg = bisect_right(self.times, time)
        if leg == len(self.times):
            return 0.0
        return (self.readings[leg] - self.readings[leg - 1]) / (self.times[leg] - self.times[leg - 1])


def meet(pad: Pad, ambient_C: float, cooling: Cooling = "still air") -> Face:
    """Return the face under `pad` in a shop at `ambient_C` [°C], cooled after power-off by `cooling`."""
    loss = max(pad.loss_W_m2K, FORCED[cooling])
    if not pad.present:
        return Face(False, pad.loss_W_m2K, (0.0,), (ambient_C,), 0.0, loss)
    resistance = pad.contact_resistance_m2K_W
    times, readings = _course(pad, ambient_C)
    return Face(
        heated=True,
        conductance=1 / resistance if resistance else inf,
        times=times,
        readings=readings,
        capacity=pad.heat_capacity_kJ_m2K * 1e3,
        loss=loss,
    )


def _course(pad: Pad, ambient_C: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the bends of a pad's course [s] and its readings there [°C]."""
    if pad.programme:
        times = tuple(60 * point.at_min for point in pad.programme)
        return times, tuple(point.temperature_C for point in pad.programme)
    start = ambient_C if pad.start_C is None else pad.start_C
    if pad.heating_rate_C_min is None or start >= pad.setpoint_C:
        return (0.0,), (pad.setpoint_C,)
    return (0.0, (pad.setpoint_C - start) / pad.heating_rate_C_min * 60), (start, pad.setpoint_C)
