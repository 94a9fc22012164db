"""What a curemeter wrote down, and the slips in it that would make any figure wrong."""

from dataclasses import dataclass
from math import isfinite

import numpy as np
from pydantic import TypeAdapter, ValidationError

from mendbook.cure.arrays import Array
from mendbook.cure.smoothing import noise
from mendbook.terms.cure_figures import CurveTemperature

FEWEST = 12  # readings
LONGEST = 100_000.0  # min
STRONGEST = 10_000.0  # dN m
ALONE = 0.1  # of all that torque moves; a reading that far off both its neighbours is a slip ...
SLIP = 8.0  # ... unless all of them scatter: times one standard deviation


class CurveError(ValueError):
    """Readings from which no cure time can be told. `reading` is the place of the one at fault, if it is one."""

    def __init__(self, message: str, reading: int | None = None) -> None:
        super().__init__(message)
        self.reading = reading


@dataclass(frozen=True)
class Readings:
    """What a curemeter wrote down: one test of one sample."""

    time: Array  # [min from closing the die]
    torque: Array  # [dN m]
    temperature: Array | float  # of the dies [°C], one or one for each reading
    name: str = ""
    digest: str = ""


def check(readings: Readings) -> float:
    """Return the temperature of the test [°C]: the middle of what was read. Raises CurveError with the first fault."""
    _check_figures(readings.time, readings.torque)
    _check_slips(readings.time, readings.torque)
    return _temperature(readings.temperature)


def _check_figures(time: Array, torque: Array) -> None:
    if len(time) != len(torque):
        raise CurveError(f"there are {len(time)} times and {len(torque)} torques. Give a torque for each time.")
    if len(time) < FEWEST:
        raise CurveError(
            f"{len(time)} readings are too few; it takes {FEWEST}, and some hundred are usual. Give the whole curve."
        )
    for place, pair in enumerate(zip(time.tolist(), torque.tolist(), strict=True)):
        for what, value in zip(("time", "torque"), pair, strict=True):
            if not isfinite(value):
                raise CurveError(f"the {what} is no number. Write it, or delete the reading.", place)
    for what, values, most, unit in (("time", time, LONGEST, "min"), ("torque", torque, STRONGEST, "dN m")):
        beyond = np.flatnonzero(np.abs(values) > most)
        if beyond.size:
            place = int(beyond[0])
            raise CurveError(f"the {what} is {values[place]:g} {unit}. Check it, and the unit of the {what}.", place)
    if time[0] < 0:
        raise CurveError(f"the time is {time[0]:g} min. Count from closing the die, which is 0.", 0)
    still = np.flatnonzero(np.diff(time) <= 0)
    if still.size:
        place = int(still[0]) + 1
        raise CurveError(
            f"the time does not rise: {time[place]:g} min follows {time[place - 1]:g} min. Give one test alone, "
            "in its order, each time once.",
            place,
        )


def _check_slips(time: Array, torque: Array) -> None:
    """Refuse a reading that stands out alone: smoothing would bend the curve towards it."""
    beside = np.median([torque[:-2], torque[1:-1], torque[2:]], axis=0)
    off = np.abs(torque[1:-1] - beside)
    place = int(np.argmax(off)) + 1
    if off[place - 1] > max(ALONE * float(np.ptp(beside)), SLIP * noise(time, torque)):
        raise CurveError(
            f"the torque of {torque[place]:g} dN m at {time[place]:g} min stands out from the readings beside it, "
            f"{torque[place - 1]:g} and {torque[place + 1]:g}. Correct it, or delete the reading.",
            place,
        )


def _temperature(read: Array | float) -> float:
    middle = float(np.median(read))
    try:
        return float(TypeAdapter(CurveTemperature).validate_python(round(middle, 2)))
    except ValidationError as error:
        raise CurveError(f"the temperature of the test: {fault_words(error)}") from None


def fault_words(error: ValidationError) -> str:
    """Return what is said of the first fault that pydantic found."""
    return str(error.errors()[0]["msg"]).removeprefix("Value error, ")
