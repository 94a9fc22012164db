"""Steam and air: what a clamp must hold back so that water in the rubber does not boil.

Saturation after IAPWS-IF97, region 4 (equations 30 and 31; coefficients of table 34, from memory; the tests
hold them against an independent implementation). Air after the standard atmosphere, ISO 2533 (from memory).
"""

from math import floor, sqrt

HOTTEST = 200.0  # °C; no setpoint above it is looked at
KELVIN = 273.15
TRIPLE_C = 0.01  # least temperature of the saturation line [°C]
CRITICAL_C = 373.946  # greatest

_N = (
    1167.0521452767, -724213.16703206, -17.073846940092, 12020.824702470, -3232555.0322333,
    14.915108613530, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798,
)  # fmt: skip


def saturation_pressure(temperature_C: float) -> float:
    """Return the pressure [bar absolute] at which water boils at `temperature_C`, 0.01 to 373.9 [°C]."""
    kelvin = temperature_C + KELVIN
    theta = kelvin + _N[8] / (kelvin - _N[9])
    a = theta**2 + _N[0] * theta + _N[1]
    b = _N[2] * theta**2 + _N[3] * theta + _N[4]
    c = _N[5] * theta**2 + _N[6] * theta + _N[7]
    root: float = 2 * c / (-b + sqrt(b**2 - 4 * a * c))
    return 10 * root**4


def boiling_temperature(pressure_bar: float) -> float:
    """Return the temperature [°C] at which water boils under `pressure_bar`, 0.00612 to 220.6 [bar absolute]."""
    beta: float = (pressure_bar / 10) ** 0.25
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2 * g / (-f - sqrt(f**2 - 4 * e * g))
    return (_N[9] + d - sqrt((_N[9] + d) ** 2 - 4 * (_N[8] + _N[9] * d))) / 2 - KELVIN


def air_pressure(altitude_m: float) -> float:
    """Return the pressure of the air [bar absolute] at `altitude_m`, -500 to 11,000 [m above the sea]."""
    return 1.01325 * float((1 - 0.0065 * altitude_m / 288.15) ** 5.25588)


def clamp_needed(temperature_C: float, water_activity: float, altitude_m: float) -> float:
    """Return the least clamp [bar gauge] that keeps water in rubber at `temperature_C` [°C] from boiling.

    The water presses with `water_activity` (0 to 1) times its saturation pressure; the air of the place helps
    the clamp. No air is trapped in the rubber: a closed pocket of it asks for more.
    """
    return max(0.0, water_activity * saturation_pressure(temperature_C) - air_pressure(altitude_m))


def highest_setpoint(clamp_bar: float, water_activity: float, altitude_m: float, most_C: float) -> float:
    """Return the hottest pad [°C] that `clamp_bar` [bar gauge] holds, never over `most_C` [°C]."""
    held = clamp_bar + air_pressure(altitude_m)
    if held >= water_activity * saturation_pressure(most_C):
        return most_C
    return boiling_temperature(held / water_activity)


def safe_setpoint(clamp_bar: float, water_activity: float, altitude_m: float) -> float:
    """Return the hottest pad [°C] that `clamp_bar` [bar gauge] holds: whole tenths, never over HOTTEST."""
    return floor(highest_setpoint(clamp_bar, water_activity, altitude_m, HOTTEST) * 10 + 1e-6) / 10
