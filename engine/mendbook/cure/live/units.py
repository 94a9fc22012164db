"""A column in another unit than its heading says: told from where it starts and where it cannot be."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.live.record import Channel, Record, smooth
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_state import Fault

TOO_HOT = 25.0  # K above the hottest setpoint: no pad reads that
FITS = 15.0  # K above it: a pad that overshoots may
FAR = 20.0  # K; a first reading so far off is not a matter of the weather
NEAR = 6.0  # K
EARLY = 60.0  # s
HELD_FOR = 300.0  # s
HELD_WITHIN = 10.0  # K
OFF = 4.0  # times; a pressure so far from the one ordered is doubted
LIKE = 1.6  # times
HIGH = 90  # per cent of the readings lie below what counts as the usual pressure


@dataclass(frozen=True)
class Mistake:
    """A way in which a column may be headed wrongly."""

    meant: str
    right: Callable[[Array], Array]


FAHRENHEIT = Mistake("°F", lambda readings: (readings - 32) / 1.8)
CELSIUS = Mistake("°C", lambda readings: readings * 1.8 + 32)
# Only those that make the pressure lower: one that reads too low by far may be a clamp that failed.
PRESSURES = (
    Mistake("psi", lambda readings: readings * 0.0689476),
    Mistake("kPa", lambda readings: readings / 100),
)


def right_units(order: CureOrder, record: Record) -> tuple[Record, list[Fault]]:
    """Return the record with every column in the unit its heading says, and what was wrong."""
    righted, faults = [], []
    for channel, pad in [*zip(record.pads, (order.outside, order.inside), strict=True), *_with(record.sensors)]:
        mistake = channel and _temperature_mistake(order, pad, channel, record.times)
        if channel and mistake:
            righted.append(channel.read_as(mistake.right(channel.readings)))
            faults.append(_fault(channel, mistake, "temperature"))
    if record.pressure and (mistake := _pressure_mistake(record.pressure, order.clamp_bar)):
        righted.append(record.pressure.read_as(mistake.right(record.pressure.readings)))
        faults.append(_fault(record.pressure, mistake, "pressure"))
    return record.swap(*righted), faults


def _with(sensors: tuple[Channel, ...]) -> list[tuple[Channel, None]]:
    return [(sensor, None) for sensor in sensors]


def _temperature_mistake(order: CureOrder, pad: Pad | None, channel: Channel, times: Array) -> Mistake | None:
    known = channel.known
    if not known.any():
        return None
    readings = smooth(channel.readings[known])
    # The hottest that three readings share: one wild reading proves nothing about a unit.
    early = known & (times <= max(EARLY, times[known][0]))
    first, hottest = float(np.median(channel.readings[early])), float(np.sort(readings)[-min(3, len(readings))])
    start = _start(order, pad)
    ceiling = max(side.setpoint_C for side in (order.outside, order.inside) if side.present)
    as_fahrenheit = FAHRENHEIT.right(np.array([first, hottest]))
    starts_so = abs(first - start) > FAR and abs(float(as_fahrenheit[0]) - start) < NEAR
    if hottest > ceiling + TOO_HOT:
        return FAHRENHEIT if float(as_fahrenheit[1]) < ceiling + FITS else None
    if starts_so and not _is_held(readings, times[known], ceiling):
        return FAHRENHEIT  # not proven yet, but the lower of the two readings, and so the safe one
    if pad is None:
        return None
    as_celsius = CELSIUS.right(np.array([first, hottest]))
    meant = abs(first - start) > FAR and abs(float(as_celsius[0]) - start) < NEAR
    return CELSIUS if meant and abs(float(as_celsius[1]) - pad.setpoint_C) < FITS else None


def _start(order: CureOrder, pad: Pad | None) -> float:
    if pad is None:
        return order.ambient_C if order.tyre_C is None else order.tyre_C
    if pad.programme:
        return pad.programme[0].temperature_C
    return order.ambient_C if pad.start_C is None else pad.start_C


def _is_held(readings: Array, times: Array, ceiling: float) -> bool:
    """Return whether a column stands still near a setpoint, as it would not if it were still warming up."""
    late = readings[times >= times[-1] - HELD_FOR]
    return bool(np.ptp(late) < HELD_WITHIN and abs(float(late.mean()) - ceiling) < 3 * FITS and len(late) > 1)


def _pressure_mistake(channel: Channel, ordered: float) -> Mistake | None:
    known = channel.readings[channel.known]
    if not known.size or not ordered:
        return None
    usual = float(np.percentile(known, HIGH))
    if usual < OFF * ordered:
        return None
    likely = (m for m in PRESSURES if 1 / LIKE < float(m.right(np.array([usual]))[0]) / ordered < LIKE)
    return next(likely, None)


def _fault(channel: Channel, mistake: Mistake, kind: str) -> Fault:
    return Fault(
        kind="wrong unit",
        where=channel.name,
        from_min=0.0,
        to_min=None,
        readings=int(channel.known.sum()),
        said=f"Its readings are no {kind} of this cure in the unit of its heading, and fit in {mistake.meant}.",
        done=f"All of them were taken as {mistake.meant}. Correct the heading, and check the column by hand.",
    )
