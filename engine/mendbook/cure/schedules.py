"""When to switch off: by heating alone, with part of the cool-down, or with all of it.

safe : every point reaches the target by power-off; the cool-down is margin.
economy : what cures after power-off counts while a point is above 110 °C, in a cool-down twice as quick as ordered,
    and the target is a quarter higher. In an earlier study of 500 draws of scattered properties under 2 % of such
    cures fell short (house default; no experiment).
floor : all of the cool-down counts as ordered. About half of such cures fall short: for information only.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.course import STEPS, Course, Wall, follow
from mendbook.terms.cure_sheet import ScheduleName

LONGEST = 72 * 3600.0  # s of heating; nobody waits longer
CROSSINGS = 0.225  # of the crossing time squared: about when a wall heated from both faces has cured
ALLOWANCE = 3600.0  # s, for the cure itself
GROWTH = 1.5  # of the stretches that follow
SOON = 0.5  # of the stretch looked at; a cure that is over sooner is looked at again, more closely
EXACT = 1e-10  # of the power-off time
CLOSE = 1e-7  # of the power-off time, where the cool-down counts
COUNTED_ABOVE = 110.0  # °C; the law of the speed of cure is measured above it, and only extrapolated below
MARGIN = 1.25  # on the target, where the cool-down counts or is forced; house default
FIRST = 0.7  # of the latest time: a thick wall switches off about there
MOST_STEPS = 60  # of the search; a handful is usual


class NeverCuredError(ValueError):
    """The slowest point does not reach its target. The message says where it is and what to write instead."""


@dataclass(frozen=True)
class Heated:
    """How cure grows while the pads heat: [multiples of t90], point by point (rows), at every tick (columns)."""

    wall: Wall
    ticks: Array  # [s after switch-on]
    cure: Array

    def at(self, time: float) -> Array:
        """Return the cure at `time` [s after switch-on], not past the last tick."""
        last = max(0, int(np.searchsorted(self.ticks, time, side="right")) - 1)
        rest = self.wall.heating.cure(self.wall.points, np.array([self.ticks[last], time]))
        return np.asarray(self.cure[:, last] + rest[:, -1])

    def time_of(self, target: float) -> float:
        """Return when the slowest point reaches `target` [s after switch-on]: Newton's steps, bracketed.

        Raises NeverCuredError when it does not before the last tick.
        """
        enough = self.cure[self.wall.points.must_cure].min(axis=0) >= target
        if not enough[-1]:
            raise NeverCuredError(self._never(target))
        first = int(np.argmax(enough))
        if first == 0:
            return float(self.ticks[0])
        low, high = float(self.ticks[first - 1]), float(self.ticks[first])
        time = high
        while True:
            cure = self.at(time)
            point = self.wall.slowest(cure)
            excess = float(cure[point]) - target
            low, high = (low, time) if excess > 0 else (time, high)
            speed = self.wall.points.speed(self.wall.heating.temperatures(np.array([time])))[point, 0]
            better = time - excess / float(speed)
            if abs(better - time) < EXACT * time or high - low < EXACT * time:
                return time
            time = better if low < better < high else (low + high) / 2

    def _never(self, target: float) -> str:
        wall, reached = self.wall, self.cure[:, -1]
        point = wall.slowest(reached)
        layer = wall.order.layers[wall.points.layers[point]]
        depth = 1e3 * float(wall.stack.depth[wall.points.nodes[point]])
        return never_cured(f"'{layer.name}'", depth, float(reached[point]), target)


def never_cured(layer: str, depth_mm: float, reached: float, target: float) -> str:
    """Return the words for a slowest point in `layer` that has `reached` less than `target` [multiples of t90]."""
    return (
        f"after {LONGEST / 3600:g} h of heating {layer}, {depth_mm:.0f} mm below the outside face, has reached "
        f"{reached:.2g} of the {target:g} x t90 asked for. Raise the setpoint, or heat both faces."
    )


def target_of(wall: Wall, name: ScheduleName) -> float:
    """Return the cure that a schedule asks of the slowest point [multiples of t90]."""
    with_margin = name == "economy" or (name == "safe" and wall.order.cooling != "still air")
    return wall.order.target * (MARGIN if with_margin else 1.0)


def power_off_time(wall: Wall, name: ScheduleName = "safe") -> float:
    """Return the least heating [s after switch-on] with which every point that must cure reaches the target.

    Raises NeverCuredError when 72 h of heating do not suffice.
    """
    return power_off_times(wall, (name,))[name]


def power_off_times(wall: Wall, names: Sequence[ScheduleName]) -> dict[ScheduleName, float]:
    """Return the least heating of each schedule [s after switch-on].

    Raises NeverCuredError when the first is not reached (economy alone may give way to safe); others that are not
    reached are left out.
    """
    return _search(_heat_up(wall, max(target_of(wall, name) for name in names)), names)


def plan_courses(
    wall: Wall, names: Sequence[ScheduleName], longer: Mapping[ScheduleName, float] | None = None
) -> dict[ScheduleName, Course]:
    """Return the course of each schedule, with the least heating that it asks for. Raises and leaves out as above.

    Economy is left out where it saves nothing against safe, too.

    longer : factors on the heating; a schedule without one is left out
    """
    heated = _heat_up(wall, max(target_of(wall, name) for name in names))
    factors = dict.fromkeys(names, 1.0) if longer is None else longer
    wide = _search(heated, names)
    times = {name: factors[name] * time for name, time in wide.items() if name in factors}
    if "safe" in times and "economy" in times and times["economy"] >= times["safe"]:
        del times["economy"]
    return {
        name: follow(wall, time, heated.at(time) if time == wide[name] else None, coasting=name != "safe")
        for name, time in times.items()
    }


def _search(heated: Heated, names: Sequence[ScheduleName]) -> dict[ScheduleName, float]:
    found: dict[ScheduleName, float] = {}
    missed: dict[ScheduleName, NeverCuredError] = {}
    for name in names:
        try:
            safe = name == "safe"
            found[name] = heated.time_of(target_of(heated.wall, name)) if safe else _coasting_time(heated, name)
        except NeverCuredError as problem:
            missed[name] = problem
    if names[0] not in found and "safe" not in found:
        raise missed[names[0]]
    return found


def _heat_up(wall: Wall, target: float) -> Heated:
    """Return the heating until `target` is reached, or for 72 h."""
    heating = wall.heating
    reached = wall.begun.cure
    start = 0.0
    end = float(heating.bends[-1]) + CROSSINGS * wall.stack.crossing**2 + ALLOWANCE
    stretches: list[tuple[Array, Array]] = []
    while True:
        ticks = heating.ticks(start, min(end, LONGEST), STEPS)
        cure = reached[:, None] + heating.cure(wall.points, ticks)
        enough = cure[wall.points.must_cure].min(axis=0) >= target
        first = int(np.argmax(enough))
        if enough[-1] and start == 0 and 0 < ticks[first] < SOON * ticks[-1]:
            end = float(ticks[first])
            continue
        stretches.append((ticks, cure))
        if enough[-1] or end >= LONGEST:
            return Heated(wall, *(np.concatenate(parts, axis=-1) for parts in zip(*stretches, strict=True)))
        reached, start, end = cure[:, -1], end, end * GROWTH


def _coasting_time(heated: Heated, name: ScheduleName) -> float:
    """Return when to switch off with the cool-down counted [s after switch-on]."""
    wall, target = heated.wall, target_of(heated.wall, name)
    floor, cool_down = (None, wall.cool_down) if name == "floor" else (COUNTED_ABOVE, wall.quick_cool_down)

    def excess(time: float) -> float:
        coasted = wall.let_cool(time, cool_down).cure(wall.points, floor)
        return log(float((heated.at(time) + coasted)[wall.points.must_cure].min()) / target)

    if wall.begun.cure.any() and excess(0.0) >= 0:
        return 0.0
    latest = float(heated.ticks[-1])
    at_latest = excess(latest)
    if at_latest < 0:
        return heated.time_of(target)
    return _cross(excess, (latest, at_latest))


def _cross(excess: Callable[[float], float], latest: tuple[float, float]) -> float:
    """Return where `excess`, rising with time, passes zero: steps of the secant, bracketed.

    latest : a time with an excess of zero or more
    """
    (before, value_before), low, high = latest, 0.0, latest[0]
    time = FIRST * before
    for _ in range(MOST_STEPS):
        value = excess(time)
        low, high = (time, high) if value < 0 else (low, time)
        slope = (value - value_before) / (time - before)
        better = time - value / slope if slope > 0 else low
        if not low < better < high:
            better = (low + high) / 2
        if abs(better - time) < CLOSE * time:
            return better
        before, value_before, time = time, value, better
    return high
