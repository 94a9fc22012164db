"""The clamp against the pressure of water: by setpoint and moisture, where it matters, and what a hold would save."""

from math import ceil

import numpy as np

from mendbook.cure.advice.changes import at_setpoint, attempt, change_pads, hottest, pads
from mendbook.cure.advice.half_cure import ELEMENTS, HALF, STEPS, follow_to_half, round_up
from mendbook.cure.advice.programmes import hold_on_the_way, ramps
from mendbook.cure.course import Wall
from mendbook.cure.schedules import NeverCuredError, power_off_time
from mendbook.cure.vapour import KELVIN, air_pressure, saturation_pressure
from mendbook.terms.cure_advice import ClampAdvice, Hold, PressureRow
from mendbook.terms.cure_order import CureOrder

SETPOINTS = (120.0, 130.0, 135.0, 140.0, 145.0, 150.0)  # °C
MOISTURES = (0.3, 0.5, 0.7, 1.0)  # as shares of what the rubber holds
DEPTHS = (0.0, 0.05, 0.1, 0.25, 0.5)  # of the thickness
SKIN = 0.05  # of the thickness, below a heated face
HOLDS = (130.0, 125.0)  # °C


def advise_clamp(order: CureOrder) -> ClampAdvice:
    """Return what the clamp must hold. Raises NeverCuredError when the order never cures."""
    half_cure = follow_to_half(order)
    return ClampAdvice(
        altitude_m=order.altitude_m,
        given_bar=order.clamp_bar,
        water_activity=order.water_activity,
        moistures=MOISTURES,
        rows=tuple(_row(order, setpoint) for setpoint in sorted({*SETPOINTS, hottest(order)})),
        half_cured=tuple(found for share in DEPTHS if (found := half_cure.at(share)) is not None),
        hottest_half_cured=half_cure.hottest(),
        holds=tuple(hold for hold_C in HOLDS if (hold := _hold(order, hold_C)) is not None),
    )


def trapped_air(temperature_C: float, ambient_C: float, altitude_m: float) -> float:
    """Return the pressure [bar absolute] of air at `temperature_C` that was shut in at `ambient_C` [°C].

    A closed pocket keeps its volume, so the pressure grows with the absolute temperature from that of the place.
    """
    return air_pressure(altitude_m) * (temperature_C + KELVIN) / (ambient_C + KELVIN)


def _row(order: CureOrder, setpoint: float) -> PressureRow:
    outside = air_pressure(order.altitude_m)
    air = trapped_air(setpoint, order.ambient_C, order.altitude_m)
    vapour = [moisture * saturation_pressure(setpoint) for moisture in MOISTURES]
    return PressureRow(
        setpoint_C=setpoint,
        needed_bar=tuple(round_up(max(0.0, water - outside)) for water in vapour),
        with_air_bar=tuple(round_up(max(0.0, water + air - outside)) for water in vapour),
    )


def _hold(order: CureOrder, hold_C: float) -> Hold | None:
    """Return the cure with the pads held at `hold_C` [°C] until the skin is half cured; None where that cannot be."""
    found = ramps(order)
    if len(found) < len(pads(order)) or any(not ramp.start < hold_C < ramp.setpoint for ramp in found.values()):
        return None
    until = _skin_half_cured(change_pads(order, lambda pad: at_setpoint(pad, hold_C)))
    if until is None:
        return None
    held = hold_on_the_way(order, hold_C, until)
    sheet = attempt(held)
    if sheet is None:
        return None
    return Hold(
        hold_C=hold_C,
        until_min=until,
        minutes_from_switch_on=sheet.minutes_from_switch_on,
        needed_bar=follow_to_half(held).hottest().needed_bar,
    )


def _skin_half_cured(order: CureOrder) -> float | None:
    """Return when all new rubber next to a heated face is half cured [min after switch-on], in whole minutes."""
    wall = Wall(order, ELEMENTS)
    try:
        ticks = wall.heating.ticks(0.0, power_off_time(wall), STEPS)
    except NeverCuredError:
        return None
    depth = wall.stack.depth[wall.points.nodes] / wall.stack.depth[-1]
    near = (order.outside.present & (depth <= SKIN)) | (order.inside.present & (depth >= 1 - SKIN))
    skin = wall.points.must_cure & near
    if not skin.any():
        return None
    least = wall.heating.cure(wall.points, ticks)[skin].min(axis=0)
    return float(ceil(np.interp(HALF, least, ticks) / 60))
