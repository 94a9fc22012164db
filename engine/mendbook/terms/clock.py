"""A place around the tyre: the angle from the valve or serial mark, or the hour of a clock with the mark on top."""

import re
from dataclasses import replace
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator

from mendbook.terms.quantity import Angle, Dimension, Quantity

_HOUR = re.compile(r"(?P<hour>[0-9]{1,2}) ?o ?['’`]? ?clock", re.IGNORECASE)
_HOURS = 12
_DEGREES_AN_HOUR = 30.0


def _read_hour(written: object) -> object:
    match = _HOUR.fullmatch(written.strip()) if isinstance(written, str) else None
    if match is None:
        return written
    hour = int(match["hour"])
    if not 1 <= hour <= _HOURS:
        raise ValueError(f"'{written}' is not on the clock. Write 1 to 12 o'clock, or an angle such as '214 deg'.")
    angle = Quantity.of(hour % _HOURS * _DEGREES_AN_HOUR, Dimension.ANGLE)
    return replace(angle, text=str(written))


def _on_the_clock(angle: Quantity) -> Quantity:
    if angle.bounds and not 0.0 <= angle.bounds[0] <= angle.bounds[1] <= 360.0:
        raise ValueError(f"'{angle}' is not on the clock. Write the angle from the mark, from 0 to 360 deg.")
    return angle


Clock = Annotated[Angle, AfterValidator(_on_the_clock), BeforeValidator(_read_hour)]
