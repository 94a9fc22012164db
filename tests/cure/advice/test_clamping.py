"""The clamp against water: steam after the IAPWS's own library, temperatures by another way of counting."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from iapws.iapws97 import _PSat_T

from mendbook.cure import compute
from mendbook.cure.advice.clamping import advise_clamp, trapped_air
from mendbook.cure.advice.half_cure import follow_to_half
from mendbook.cure.course import Wall
from mendbook.cure.vapour import air_pressure, clamp_needed
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Layer
from tests.cure.walls import INSULATED, beside, cured, fill, order, pad, step, through
from tests.cure.walls import STEEL_CASING as STEEL

WANTED = order(through(80), pad())


@pytest.mark.parametrize("altitude", [0, 3000])
def test_the_table_is_steam_less_the_air_of_the_place(altitude: float) -> None:
    """IAPWS-97 by the iapws library; air as ISO 2533 has it (from memory): 1013.25 hPa, 701 hPa at 3000 m."""
    outside = {0: 1.01325, 3000: 0.7012}[altitude]
    clamp = advise_clamp(WANTED.model_copy(update={"altitude_m": altitude}))
    assert [row.setpoint_C for row in clamp.rows] == [120, 130, 135, 140, 145, 150]
    for row in clamp.rows:
        steam = 10 * _PSat_T(row.setpoint_C + 273.15)
        for moisture, bare, airy in zip(clamp.moistures, row.needed_bar, row.with_air_bar, strict=True):
            assert 0 <= bare - max(0, moisture * steam - outside) < 0.0105
            shut_in = outside * (row.setpoint_C + 273.15) / 293.15
            assert 0 <= airy - max(0, moisture * steam + shut_in - outside) < 0.0105


def test_trapped_air_asks_for_half_as_much_again() -> None:
    """At 140 °C, air shut in at 20 °C: 4.03, 2.95 and 2.22 bar at moisture 1, 0.7 and 0.5, by an earlier program."""
    row = next(row for row in advise_clamp(WANTED).rows if row.setpoint_C == 140)
    assert row.needed_bar == pytest.approx((0.08, 0.80, 1.52, 2.61), abs=0.011)
    assert row.with_air_bar[1:] == pytest.approx((2.22, 2.95, 4.03), abs=0.011)
    # Gay-Lussac's law: at constant volume pressure grows with absolute temperature.
    assert trapped_air(140, 20, 0) / air_pressure(0) == pytest.approx(413.15 / 293.15)


@pytest.mark.parametrize(
    ("clamp", "celsius", "moisture"),
    [
        (1.724, 140, 0.757), (1.724, 150, 0.575), (1.931, 140, 0.814), (2.068, 140, 0.852), (2.206, 140, 0.891),
        (2.206, 150, 0.676), (2.620, 140, 1.005), (3.792, 150, 1.01),
    ],
)  # fmt: skip
def test_the_moisture_that_a_clamp_holds(clamp: float, celsius: float, moisture: float) -> None:
    """25 to 55 psi as a table of an earlier program has it."""
    steam = 10 * _PSat_T(celsius + 273.15)
    assert (clamp_needed(celsius, moisture, 0) - clamp) / steam == pytest.approx(0, abs=1e-3)


def test_the_skin_decides_and_the_core_needs_little() -> None:
    """80 mm at 140 °C: face 139 °C, a tenth deep 121 °C, a quarter to a half deep 120 °C, by an earlier program."""
    clamp = advise_clamp(WANTED)
    assert [point.depth_mm for point in clamp.half_cured] == [0, 4, 8, 20, 40]
    temperatures = [point.temperature_C for point in clamp.half_cured]
    assert [temperatures[0], *temperatures[2:]] == pytest.approx([139, 121, 120, 120], abs=0.7)
    assert clamp.half_cured[-1].needed_bar == pytest.approx(1.0, abs=0.05)
    assert clamp.hottest_half_cured == clamp.half_cured[0]
    assert clamp.hottest_half_cured.needed_bar == pytest.approx(clamp_needed(temperatures[0], 1, 0), abs=0.02)


@pytest.mark.parametrize("schedule", ["safe", "economy"])
@pytest.mark.parametrize("layers", [through(60), beside(100)])
def test_the_temperature_at_half_cure_by_the_trapezoid_rule(layers: tuple[Layer, ...], schedule: str) -> None:
    """Counted again in even steps of 5 s up to power-off and through the cool-down, on a finer grid."""
    wanted = order(layers, pad(145), pad(135), schedule=schedule)
    wall = Wall(wanted, 192)
    off = 60 * compute(wanted).minutes_from_switch_on
    heating = np.arange(0, off, 5.0)
    cooling = np.arange(0, 4 * 3600, 5.0)
    cool = wall.let_cool(off, wall.cool_down).temperatures(cooling)
    temperature = np.hstack([wall.heating.temperatures(heating), cool])
    speed = wall.points.speed(temperature)
    cure = np.cumsum((speed[:, 1:] + speed[:, :-1]) / 2 * 5.0, axis=1)
    found = follow_to_half(wanted)
    for share in (0.0, 0.05, 0.1, 0.25, 0.5):
        depth = share * float(wall.stack.depth[-1])
        point = int(
            np.argmin(np.where(wall.points.must_cure, np.abs(wall.stack.depth[wall.points.nodes] - depth), np.inf))
        )
        told = found.at(share)
        if abs(float(wall.stack.depth[wall.points.nodes[point]]) - depth) > 1e-3:
            assert told is None
            continue
        half = int(np.argmax(cure[point] >= 0.5))
        assert told is not None
        assert told.temperature_C == pytest.approx(temperature[wall.points.nodes[point]][: half + 1].max(), abs=1.2)


def test_depths_without_new_rubber_are_left_out() -> None:
    layers = (fill(20), cured("casing", 60, STEEL))
    assert [point.depth_mm for point in advise_clamp(order(layers, pad())).half_cured] == [0, 4, 8, 20]


def test_a_hold_asks_for_less_pressure_and_for_some_time() -> None:
    """About 25 psi (1.7 bar) with a hold at 130 °C, by an earlier program; 2.5 bar without."""
    clamp = advise_clamp(WANTED)
    assert [hold.hold_C for hold in clamp.holds] == [130, 125]
    straight = compute(WANTED).minutes_from_switch_on
    for hold in clamp.holds:
        # What lies just below the skin is half cured later, and never asks for more than it would without a hold.
        assert hold.needed_bar <= max(clamp_needed(hold.hold_C, 1, 0) + 0.01, clamp.half_cured[1].needed_bar)
        assert straight < hold.minutes_from_switch_on < straight + hold.until_min
    assert clamp.holds[0].needed_bar == pytest.approx(1.7, abs=0.1)
    assert clamp.holds[1].needed_bar < clamp.holds[0].needed_bar
    assert clamp.holds[1].until_min > clamp.holds[0].until_min


@pytest.mark.parametrize(
    ("wanted", "holds"),
    [
        (order(through(60), pad(128)), [125]),
        (order(through(60), pad(120)), []),
        (order(through(60), step()), []),
        (order(through(60), pad(), pad(128)), [125]),
        (order(through(30), pad(), INSULATED), [130, 125]),
        (order((cured("cover", 10, STEEL), fill(30), cured("casing", 10, STEEL)), pad()), []),
    ],
)
def test_a_hold_needs_a_ramp_that_passes_it_and_a_new_skin(wanted: CureOrder, holds: list[float]) -> None:
    assert [hold.hold_C for hold in advise_clamp(wanted).holds] == holds


@settings(max_examples=15, deadline=None)
@given(st.floats(20, 150), st.floats(120, 155), st.floats(0.1, 1), st.floats(0, 4000))
def test_half_cured_rubber_never_asks_for_more_than_the_setpoint(
    thickness: float, setpoint: float, moisture: float, altitude: float
) -> None:
    wanted = order(through(thickness), pad(setpoint), water_activity=moisture, altitude_m=altitude)
    worst = follow_to_half(wanted).hottest()
    assert worst.temperature_C <= setpoint + 0.05
    assert worst.needed_bar <= clamp_needed(setpoint, moisture, altitude) + 0.01
