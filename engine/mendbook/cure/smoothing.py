"""A cure curve without its noise: a smoothing spline for its course, polynomials for where it turns.

A curve whose readings do not scatter is left exactly as it is. Extremes of noisy readings lie too far out, so that
ML and MH are those of a cubic through all readings near the turn and not those of single readings.
"""

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import PchipInterpolator, make_smoothing_spline
from scipy.optimize import isotonic_regression

from mendbook.cure.arrays import Array

QUIET = 5e-4  # of the rise; less scatter than this is not smoothed
MOST = 600  # readings; more are averaged in groups first
NEAR = (0.01, 0.05)  # of the rise; how far from an extreme the readings still tell where it is
SPREAD = 5.0  # times the scatter, where that lies between
FEWEST_NEAR = 8  # readings for a cubic
SIGMA = 1.4826  # from the median of absolute deviations to a standard deviation


@dataclass(frozen=True)
class Course:
    """Torque over time with the least reading before the greatest rise, and the greatest after it."""

    time: Array  # [min]
    torque: Array  # [dN m], smoothed
    bottom: int
    top: int
    minimum: float  # [dN m]
    maximum: float  # [dN m]
    noise: float  # one standard deviation [dN m]

    @property
    def rise(self) -> float:
        """The rise from minimum to maximum [dN m]."""
        return self.maximum - self.minimum

    def at(self, minute: float) -> float:
        """Return the torque [dN m] at `minute`."""
        return float(np.interp(minute, self.time, self.torque))

    def first_at(self, torque: float) -> float | None:
        """Return when [min] the rise first reaches `torque` [dN m], None when it never does; monotone cubics."""
        rising = slice(self.bottom, self.top + 1)
        found = isotonic_regression(self.torque[rising])  # what noise is left must not cross a level twice
        starts, ends = found.blocks[:-1], found.blocks[1:]
        time, level = (np.add.reduceat(values[rising], starts) / (ends - starts) for values in (self.time, self.torque))
        if len(time) < 2 or not level[0] <= torque <= level[-1]:
            return None
        places = PchipInterpolator(time, level).solve(torque, extrapolate=False)
        return float(places[0]) if places.size else None

    def fallen_at(self, torque: float) -> float | None:
        """Return when [min] torque has fallen to `torque` [dN m] after the maximum, None when it never has."""
        below = np.flatnonzero(self.torque[self.top :] <= torque)
        if not below.size:
            return None
        place = self.top + int(below[0])
        pair = slice(place - 1, place + 1)
        return float(np.interp(-torque, -self.torque[pair], self.time[pair]))


def noise(time: Array, torque: Array) -> float:
    """Return the scatter of readings [dN m], one standard deviation, from how far each lies off its neighbours."""
    share = (time[1:-1] - time[:-2]) / (time[2:] - time[:-2])
    off = torque[1:-1] - (1 - share) * torque[:-2] - share * torque[2:]
    return float(SIGMA * np.median(np.abs(off) / np.sqrt(1 + share**2 + (1 - share) ** 2)))


def smooth(time: Array, torque: Array) -> Course:
    """Return the course of the readings `torque` [dN m] at `time` [min], which must rise."""
    scatter = noise(time, torque)
    bottom, top = _turns(torque)
    rise = float(torque[top] - torque[bottom])
    if scatter <= QUIET * rise:
        return Course(time, torque, bottom, top, float(torque[bottom]), float(torque[top]), scatter)
    time, read = _thin(time), _thin(torque)
    course = make_smoothing_spline(time, read)(time)
    bottom, top = _turns(course)
    rise = float(course[top] - course[bottom])
    near = float(np.clip(SPREAD * scatter, NEAR[0] * rise, NEAR[1] * rise))
    low = -_highest(time, -read, -course, bottom, (0, top), near)
    high = _highest(time, read, course, top, (bottom, len(time) - 1), near)
    return Course(time, course, bottom, top, low, high, scatter)


def _turns(torque: Array) -> tuple[int, int]:
    """Return the least and the greatest reading of the greatest rise: a peak while the die closes is none."""
    top = int(np.argmax(torque - np.minimum.accumulate(torque)))
    return int(np.argmin(torque[: top + 1])), top


def _thin(values: Array) -> Array:
    """Return the means of groups of neighbours, so few that a spline takes no time."""
    size = -(-len(values) // MOST)
    starts = np.arange(0, len(values), size)
    return np.asarray(np.add.reduceat(values, starts) / np.diff([*starts, len(values)]))


def _highest(time: Array, read: Array, course: Array, turn: int, span: tuple[int, int], near: float) -> float:
    """Return the maximum at `turn`, from all readings between the two of `span` that lie no more than `near` below."""
    start = end = turn
    while start > span[0] and course[start - 1] >= course[turn] - near:
        start -= 1
    while end < span[1] and course[end + 1] >= course[turn] - near:
        end += 1
    if end + 1 - start < FEWEST_NEAR:
        return float(course[turn])
    here = slice(start, end + 1)
    return float(np.polynomial.Polynomial.fit(time[here], read[here], 3)(time[here]).max())
