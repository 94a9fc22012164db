"""Steam against the IAPWS's own check values and an independent implementation; air against ISO 2533."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from iapws.iapws97 import _PSat_T, _TSat_P

from mendbook.cure.vapour import (
    air_pressure,
    boiling_temperature,
    clamp_needed,
    highest_setpoint,
    saturation_pressure,
)

PSI = 0.0689475729  # bar


# IAPWS R7-97, tables 35 and 36 (from memory): check values in K and MPa.
@pytest.mark.parametrize(("kelvin", "megapascal"), [(300, 0.353658941e-2), (500, 0.263889776e1), (600, 0.123443146e2)])
def test_saturation_pressure_gives_the_check_values(kelvin: float, megapascal: float) -> None:
    assert saturation_pressure(kelvin - 273.15) / 10 == pytest.approx(megapascal, rel=2e-9)


@pytest.mark.parametrize(("megapascal", "kelvin"), [(0.1, 372.755919), (1, 453.035632), (10, 584.149488)])
def test_boiling_temperature_gives_the_check_values(megapascal: float, kelvin: float) -> None:
    assert boiling_temperature(10 * megapascal) + 273.15 == pytest.approx(kelvin, abs=1e-6)


@settings(deadline=None)
@given(st.floats(1, 370))
def test_steam_agrees_with_the_iapws_library(celsius: float) -> None:
    assert saturation_pressure(celsius) == pytest.approx(10 * _PSat_T(celsius + 273.15), rel=1e-10)
    pressure = saturation_pressure(celsius)
    assert boiling_temperature(pressure) == pytest.approx(_TSat_P(pressure / 10) - 273.15, abs=1e-7)
    assert boiling_temperature(pressure) == pytest.approx(celsius, abs=1e-6)


# Steam tables (from memory): bar absolute, °C.
@pytest.mark.parametrize(("bar", "celsius"), [(2, 120.2), (3, 133.5), (4, 143.6), (5, 151.8), (6, 158.8), (7, 165.0)])
def test_boiling_temperature_is_that_of_the_steam_tables(bar: float, celsius: float) -> None:
    assert boiling_temperature(bar) == pytest.approx(celsius, abs=0.06)


# ISO 2533, standard atmosphere (from memory): m, hPa.
@pytest.mark.parametrize(
    ("altitude", "hectopascal"), [(0, 1013.25), (1000, 898.76), (2000, 795.01), (3000, 701.21), (5000, 540.48)]
)
def test_air_thins_with_height(altitude: float, hectopascal: float) -> None:
    # The table goes by geometric height, the formula by geopotential: up to 0.06 % apart.
    assert 1e3 * air_pressure(altitude) == pytest.approx(hectopascal, rel=7e-4)


@pytest.mark.parametrize(("altitude", "celsius"), [(0, 100.0), (2000, 93.3), (3000, 90.0), (4500, 84.9)])
def test_water_boils_earlier_up_a_mountain(altitude: float, celsius: float) -> None:
    """Derived from the two standards above."""
    assert boiling_temperature(air_pressure(altitude)) == pytest.approx(celsius, abs=0.1)


# Common practice, no source: 28 to 32 psi in the bags. What it holds is derived.
@pytest.mark.parametrize(
    ("psi", "sea_level", "mountain"), [(25, 130.4, 126.4), (28, 132.9, 129.1), (30, 134.4, 130.8), (32, 135.9, 132.5)]
)
def test_the_usual_clamp_holds_water_to_about_135_degrees(psi: float, sea_level: float, mountain: float) -> None:
    assert highest_setpoint(psi * PSI, 1, 0, 200) == pytest.approx(sea_level, abs=0.06)
    assert highest_setpoint(psi * PSI, 1, 3000, 200) == pytest.approx(mountain, abs=0.06)


@pytest.mark.parametrize(
    ("celsius", "moisture", "bar"),
    [(130, 1, 1.69), (140, 1, 2.60), (150, 1, 3.75), (130, 0.7, 0.88), (140, 0.7, 1.52), (150, 0.7, 2.32)],
)
def test_the_clamp_that_is_needed(celsius: float, moisture: float, bar: float) -> None:
    assert clamp_needed(celsius, moisture, 0) == pytest.approx(bar, abs=6e-3)


def test_dry_rubber_needs_no_clamp_against_steam() -> None:
    assert clamp_needed(140, 0, 0) == 0
    assert highest_setpoint(0, 0, 0, 200) == 200


@settings(deadline=None)
@given(st.floats(0.3, 4), st.floats(0.2, 1), st.floats(0, 5000))
def test_the_highest_setpoint_needs_the_clamp_given(clamp: float, moisture: float, altitude: float) -> None:
    highest = highest_setpoint(clamp, moisture, altitude, 200)
    needed = clamp_needed(highest, moisture, altitude)
    assert needed <= clamp + 1e-6
    assert highest == 200 or needed == pytest.approx(clamp, abs=1e-6)
