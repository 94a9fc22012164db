"""What is still to come: pads as they are or at their setpoints, power-off, cool-down, release."""

from dataclasses import dataclass, replace

import numpy as np

from mendbook.cure.course import Course, Wall, follow
from mendbook.cure.faces import Face, meet
from mendbook.cure.live.history import History
from mendbook.cure.schedules import COUNTED_ABOVE, NeverCuredError, plan_courses, target_of
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_sheet import ScheduleName

LATELY = 300.0  # s; what a pad does now is what it did so long
RISING = 0.5 / 60  # K/s; a pad that rises faster is warming up
SHORT = 5.0  # K; no nearer to its setpoint it is not there yet
RAMP = 6.0 / 60  # K/s, where the order gives no rate; house default
NEARLY = 0.9  # of the cure asked for, 2 to 3 % of the time: what the sensors tell changes by as much in the end


@dataclass(frozen=True)
class Forecast:
    """One way in which the cure may go on."""

    name: ScheduleName
    course: Course  # times count from the last line of the log

    @property
    def seconds(self) -> float:
        """Heating still needed [s]."""
        return self.course.power_off


def schedules_of(order: CureOrder) -> tuple[ScheduleName, ...]:
    """Return the schedules that may be followed, the one ordered first: economy gives way where it saves nothing.

    Forced cooling leaves safe alone.
    """
    return ("economy", "safe") if order.schedule == "economy" and order.cooling == "still air" else ("safe",)


def forecast(history: History, faces: tuple[Face, Face]) -> Forecast | None:
    """Return how the cure goes on between `faces`, whose times count from now; None when so it never ends.

    It ends when the edge of the injury is done, too.
    """
    order = history.order
    wall = Wall(order, begun=history.begun(faces))
    try:
        name, course = next(iter(plan_courses(wall, schedules_of(order)).items()))
    except NeverCuredError:
        return None
    now, longer = float(history.pads.times[-1]), history.pads.longer
    middle = now + course.power_off if course.power_off else _reached(history)
    edge = longer * middle - now
    if longer > 1 and edge > course.power_off:
        course = follow(wall, edge, coasting=name != "safe")
    return Forecast(name, course)


def _reached(history: History) -> float:
    """Return when the middle was done [s]; the log has been longer than that."""
    low, high = 0, len(history.pads.times) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if _is_done(history, middle, 1.0) else (middle, high)
    return float(history.pads.times[high])


def switch_off(history: History) -> Course:
    """Return the course of a cure whose power goes off now, or went off before."""
    wall = Wall(history.order, begun=history.begun(_standing(history)))
    return follow(wall, 0.0, wall.begun.cure, coasting=True)


def was_due(history: History, index: int) -> bool:
    """Return whether power might go off at the time `index`, by the schedule followed."""
    return _is_done(history, edge_index(history, index), NEARLY)


def edge_index(history: History, index: int = -1) -> int:
    """Return the time at which the middle was about where the edge of the injury is at the time `index`."""
    times = history.pads.times
    return int(np.searchsorted(times, times[index] / history.pads.longer))


def _is_done(history: History, index: int, share: float) -> bool:
    """Return whether at the time `index` the middle had `share` of what a schedule that may be followed asks for."""
    wall = Wall(history.order, begun=history.begun(_standing(history, index), index))

    def counted(name: ScheduleName) -> float:
        reached = history.cure[:, index]
        if name == "economy":
            reached = reached + wall.let_cool(0.0, wall.quick_cool_down).cure(wall.points, COUNTED_ABOVE)
        return float(reached[wall.points.must_cure].min()) / target_of(wall, name)

    return any(counted(name) >= share for name in schedules_of(history.order))


def _standing(history: History, index: int = -1) -> tuple[Face, Face]:
    outside, inside = (_held(face, face.readings[index]) for face in history.faces)
    return outside, inside


def as_now(history: History) -> tuple[Face, Face]:
    """Return the faces if every pad goes on as it does: a pad that warms up to its setpoint, any other as it stands.

    A pad with a programme, and near it, follows it.
    """
    order, pads = history.order, history.pads

    def onward(side: int, pad: Pad) -> Face:
        face, now = history.faces[side], pads.last(side, LATELY)
        rise = pads.slope(side, LATELY)
        reading = float(pads.readings[side, -1])
        if not pad.present:
            return _air(face)
        if pad.programme:
            return _programme(face, pad, order, float(pads.times[-1]), now)
        if rise > RISING and reading < pad.setpoint_C - SHORT:
            return _climbing(face, reading, pad.setpoint_C, rise)
        return _held(face, now)

    return onward(0, order.outside), onward(1, order.inside)


def at_setpoint(history: History) -> tuple[Face, Face]:
    """Return the faces if every pad is brought to its setpoint from now on, as fast as the order says."""
    order, pads = history.order, history.pads

    def onward(side: int, pad: Pad) -> Face:
        face, reading = history.faces[side], float(pads.readings[side, -1])
        if not pad.present:
            return _air(face)
        rate = pad.heating_rate_C_min / 60 if pad.heating_rate_C_min else RAMP
        if reading >= pad.setpoint_C:
            return _held(face, pad.setpoint_C)
        return _climbing(face, reading, pad.setpoint_C, rate)

    return onward(0, order.outside), onward(1, order.inside)


def _air(face: Face) -> Face:
    """Return a bare face, which goes on meeting what it met last."""
    return _held(face, face.readings[-1])


def _held(face: Face, reading: float) -> Face:
    return replace(face, times=(0.0,), readings=(reading,))


def _climbing(face: Face, reading: float, setpoint: float, rate: float) -> Face:
    return replace(face, times=(0.0, (setpoint - reading) / rate), readings=(reading, setpoint))


def _programme(face: Face, pad: Pad, order: CureOrder, now: float, reading: float) -> Face:
    """Return the rest of a programme that began with the log, or the pad as it stands where it is far from it."""
    planned = meet(pad, order.ambient_C, order.cooling)
    asked = float(planned.temperatures(np.array([now]))[0])
    if abs(asked - reading) > 2 * SHORT:
        return _held(face, reading)
    rest = [(time - now, value) for time, value in zip(planned.times, planned.readings, strict=True) if time > now]
    times, readings = zip((0.0, asked), *rest, strict=True)
    return replace(face, times=times, readings=readings)
