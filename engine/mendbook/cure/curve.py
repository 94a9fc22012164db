"""One cure curve: minimum, maximum, scorch, t90 and reversion, as ISO 6502 defines them (from memory).

ML is the least torque before the rise. MH is the torque of the plateau, that of the peak where torque falls again, and
of a marching curve, which has neither, the highest at the end of the test. t_s2 is the time to ML and 2 dN m; t90 that
to ML and 90 % of the rise. All of them run from closing the die, so that the warm-up of the sample is in them.
"""

from math import sqrt

import numpy as np
from pydantic import TypeAdapter, ValidationError

from mendbook.cure.arrays import Array
from mendbook.cure.readings import CurveError, Readings, check, fault_words
from mendbook.cure.smoothing import Course, smooth
from mendbook.terms.cure_curve import CureCurve, CurveKind
from mendbook.terms.cure_figures import CureTime

LEAST_RISE = 0.5  # dN m
NOISIEST = 0.05  # of the rise
LATE = 0.2  # of the test: a curve is judged by what it still does in its last fifth
LEVEL = 0.01  # of the rise, late: less is a plateau
LOOKS = 50  # at which the late rise is looked at
UNFINISHED = 0.05  # of the rise, late: more, and MH was not seen
REVERTED = 0.05  # of the rise, house default: so much fall is reversion that shows
WARM_UP = 0.75  # min; the sample takes 0.5 to 1 min to warm up, from memory
SHORT = 4 * WARM_UP
SWING = 0.6  # K, twice what ISO 6502 allows the dies (from memory)


def measure(readings: Readings) -> CureCurve:
    """Return the figures of one cure curve.

    Raises CurveError when there are fewer than 12 readings, when one is no number or out of its time, when torque does
    not rise clearly, and when the test ended while it was still rising fast.
    """
    temperature = check(readings)
    course = smooth(readings.time, readings.torque)
    _check_rise(course)
    kind = _kind(course)
    late = _late(course)
    t90 = _reach(course, course.minimum + 0.9 * course.rise)
    sooner = _reach(course, course.minimum + 0.9 * (_maximum_until(course, late, kind) - course.minimum))
    try:
        TypeAdapter(CureTime).validate_python(t90)
    except ValidationError as error:
        raise CurveError(f"t90: {fault_words(error)} Check the unit of the times.") from None
    fallen = course.fallen_at(course.maximum - REVERTED * course.rise)
    bears = None if fallen is None else round(fallen / t90, 2)
    return CureCurve(
        name=readings.name,
        digest=readings.digest,
        temperature_C=temperature,
        readings=len(readings.time),
        ended_min=round(float(readings.time[-1]), 4),
        kind=kind,
        minimum_dNm=round(course.minimum, 4),
        minimum_at_min=round(float(course.time[course.bottom]), 4),
        maximum_dNm=round(course.maximum, 4),
        maximum_at_min=round(float(course.time[course.top]), 4),
        scorch_1_min=_scorch(course, 1.0),
        scorch_2_min=_scorch(course, 2.0),
        t10_min=round(_reach(course, course.minimum + 0.1 * course.rise), 4),
        t50_min=round(_reach(course, course.minimum + 0.5 * course.rise), 4),
        t90_min=round(t90, 4),
        t90_stopped_sooner_min=round(sooner, 4),
        fall_share=round(max(0.0, (course.maximum - float(course.torque[-1])) / course.rise), 4),
        bears=bears,
        noise_share=round(course.noise / course.rise, 5),
        warnings=(*_warnings(course, kind, t90, sooner), *_swing(readings.temperature)),
    )


def _check_rise(course: Course) -> None:
    if course.rise < LEAST_RISE:
        raise CurveError(
            f"torque never rises: from {course.minimum:.2f} to {course.maximum:.2f} dN m is less than {LEAST_RISE:g}. "
            "Check the unit of the torque, and that this is the curve of a rubber that cures."
        )
    if course.noise > NOISIEST * course.rise:
        raise CurveError(
            f"the readings scatter by {course.noise:.2f} dN m, over {100 * NOISIEST:g} % of their rise of "
            f"{course.rise:.2f}. Test again, or give torque without its noise."
        )
    if (late := _late_rise(course)) > UNFINISHED:
        raise CurveError(
            f"the test ended before its maximum: torque still rose by {100 * late:.0f} % of its whole rise in the last "
            f"fifth, up to {course.time[-1]:g} min. Test for at least twice as long."
        )


def _late(course: Course) -> float:
    """Return when [min] the last fifth of the test begins, counted from the minimum."""
    start, end = float(course.time[course.bottom]), float(course.time[-1])
    return end - LATE * (end - start)


def _late_rise(course: Course) -> float:
    """Return what torque still rises in the last fifth [share of the rise], along a straight line; below 0 if it falls.

    The line, and not the two ends, so that scatter counts for little.
    """
    minutes = np.linspace(_late(course), course.time[-1], LOOKS)
    return (
        float(np.ptp(minutes) * np.polyfit(minutes, np.interp(minutes, course.time, course.torque), 1)[0]) / course.rise
    )


def _kind(course: Course) -> CurveKind:
    late = np.count_nonzero(course.time >= _late(course))
    level = max(LEVEL, 2 * course.noise / course.rise * sqrt(12 / late))  # twice the error of a line through so many
    if course.maximum - float(course.torque[-1]) > level * course.rise:
        return "peak"
    return "marching" if _late_rise(course) > level else "plateau"


def _maximum_until(course: Course, minute: float, kind: CurveKind) -> float:
    """Return MH had the test ended at `minute`: another one only where there is no plateau and no peak before."""
    return course.at(minute) if kind == "marching" else course.maximum


def _reach(course: Course, torque: float) -> float:
    found = course.first_at(torque)
    if found is None:
        raise CurveError(
            "the rise cannot be followed: too few readings lie between minimum and maximum. Read more often."
        )
    return found


def _scorch(course: Course, rise: float) -> float | None:
    found = course.first_at(course.minimum + rise)
    return None if found is None else round(found, 4)


def _warnings(course: Course, kind: CurveKind, t90: float, sooner: float) -> list[str]:
    said = []
    if kind == "marching":
        said.append(
            "The curve marches: it neither levels off nor peaks, so that MH, and with it t90, depends on when the test "
            f"was stopped. A fifth sooner, t90 would read {sooner:.3g} min and not {t90:.3g}; later, more. Test until "
            "it levels off, or agree on the length of the test."
        )
    if course.bottom == 0:
        said.append(
            "The first reading is the least, so that the true minimum may lie before it: t_s and t90 are then off. "
            "Record from closing the die on."
        )
    if t90 < SHORT:
        said.append(
            f"t90 is {t90:.2g} min, of which the sample takes 0.5 to 1 min to warm up (from memory). "
            "Test at a lower temperature as well."
        )
    return said


def _swing(read: Array | float) -> list[str]:
    """Return a warning when the dies did not keep their temperature after the first tenth of the test."""
    if isinstance(read, float):
        return []
    held = read[len(read) // 10 :]
    swing = float(np.ptp(held))
    if swing <= SWING:
        return []
    return [
        f"The dies went from {held.min():.1f} to {held.max():.1f} °C, over {SWING:g} °C: t90 holds for no one "
        "temperature. Test again."
    ]
