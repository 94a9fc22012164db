"""The log of a cure as arrays: times, pads, interior sensors, pressure."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from mendbook.cure.arrays import Array, Flags

FINE = 5.0  # s; a log finer than this is averaged: nothing in a wall happens so fast
BIN = 10.0  # s
COARSE = 20.0  # s; between readings further apart the pads are followed in steps of this
PIECE = 5  # readings; their median hides what one or two of them do


@dataclass(frozen=True)
class Channel:
    """One column of the log. Readings are nan where there is none."""

    name: str
    readings: Array  # [°C], or [bar gauge]
    depth: float | None = None  # of an interior sensor below the outside face [m]

    @property
    def known(self) -> Flags:
        """Where there is a reading."""
        return np.asarray(np.isfinite(self.readings))

    def read_as(self, readings: Array) -> "Channel":
        """Return the channel with other readings."""
        return replace(self, readings=readings)


@dataclass(frozen=True)
class Record:
    """All columns of a log. Times rise."""

    times: Array  # [s after the first line]
    outside: Channel | None = None
    inside: Channel | None = None
    sensors: tuple[Channel, ...] = ()
    pressure: Channel | None = None

    @property
    def pads(self) -> tuple[Channel | None, Channel | None]:
        """The pads, outside first."""
        return self.outside, self.inside

    @property
    def temperatures(self) -> Iterator[Channel]:
        """All columns of temperature."""
        return (channel for channel in (*self.pads, *self.sensors) if channel is not None)

    def swap(self, *channels: Channel | None) -> "Record":
        """Return the record with each of `channels` in place of the one of its name."""
        by_name = {channel.name: channel for channel in channels if channel is not None}

        def new(channel: Channel | None) -> Channel | None:
            return by_name.get(channel.name, channel) if channel else None

        sensors = tuple(by_name.get(sensor.name, sensor) for sensor in self.sensors)
        return replace(
            self, outside=new(self.outside), inside=new(self.inside), sensors=sensors, pressure=new(self.pressure)
        )

    def since(self, start: float, end: float) -> Flags:
        """Return which lines lie in `start` to `end` [s]."""
        return np.asarray((self.times >= start) & (self.times <= end))


def typical_step(times: Array) -> float:
    """Return the median of the steps between `times` [s]; of one time alone, a minute."""
    return float(np.median(np.diff(times))) if len(times) > 1 else 60.0


def smooth(readings: Array, width: int = PIECE) -> Array:
    """Return the running median of `readings` (none of them nan); ends are taken as they repeat."""
    if len(readings) < width:
        return readings
    padded = np.concatenate([readings[: width // 2][::-1], readings, readings[-(width // 2) :][::-1]])
    return np.asarray(np.median(np.lib.stride_tricks.sliding_window_view(padded, width), axis=1))


def noise(readings: Array) -> float:
    """Return the scatter of `readings` (none of them nan) about a smooth course: one standard deviation [K].

    From second differences, which a straight course does not touch; their median, which a few jumps do not.
    """
    if len(readings) < PIECE:
        return 0.0
    return float(1.4826 * np.median(np.abs(np.diff(readings, 2))) / np.sqrt(6))


def grid(times: Array) -> Array:
    """Return the times at which the wall is followed: those of the log, thinned or filled in [s]."""
    if len(times) > 1 and typical_step(times) < FINE:
        times = np.append(np.arange(0.0, times[-1], BIN), times[-1])
    steps = np.maximum(1, np.ceil(np.diff(times) / COARSE)).astype(int)
    parts = [np.linspace(a, b, n, endpoint=False) for a, b, n in zip(times, times[1:], steps, strict=False)]
    return np.concatenate([*parts, times[-1:]])


def average(times: Array, readings: Array, at: Array) -> Array:
    """Return `readings` at the times `at`: means about each where there are several, in straight lines elsewhere."""
    if len(times) <= len(at):
        return np.interp(at, times, readings)
    edges = np.concatenate([[-np.inf], (at[1:] + at[:-1]) / 2, [np.inf]])
    place = np.searchsorted(edges, times, side="right") - 1
    counts = np.bincount(place, minlength=len(at))
    sums = np.bincount(place, weights=readings, minlength=len(at))
    filled = counts > 0
    return np.interp(at, at[filled], sums[filled] / counts[filled])
