"""Whole cures: power-off, cure reached, cool-down. Figures without another source were computed once on a fine grid
by an earlier program of our own and are held here to 2 parts in 10,000."""

from math import exp, log

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from mendbook.cure import cooling
from mendbook.cure.course import Wall, follow
from mendbook.cure.kinetics import rate_ratio
from mendbook.cure.schedules import NeverCuredError, power_off_time
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Layer, Material
from tests.cure import series
from tests.cure.walls import FILL, INSULATED, beside, compound, fill, gum, ideal, order, pad, step, through

FINE = 2e-4  # relative
ALPHA = 0.25 / (1120 * 1850)


def minutes(wanted: CureOrder, elements: int = 48) -> float:
    return power_off_time(Wall(wanted, elements)) / 60


@pytest.mark.parametrize(("celsius", "expected"), [(140, 22.288512), (150, 12.0)])
def test_a_wall_at_one_temperature_cures_in_its_t90(celsius: float, expected: float) -> None:
    """By hand: t90 of 12 min at 150 °C, 90 kJ/mol."""
    by_hand = 12 * rate_ratio(90, celsius, 150)
    assert by_hand == pytest.approx(expected, abs=1e-6)
    assert minutes(order((fill(80),), step(celsius), tyre_C=celsius)) == pytest.approx(by_hand, rel=1e-9)


def series_cure_time(ramp_s: float) -> float:
    """Return minutes until the middle of 80 mm of fill has cured, from the series and adaptive quadrature."""
    scale = ALPHA / 0.04**2

    def middle(time: float) -> float:
        if not ramp_s:
            return 140 - 120 * series.step_share(0, scale * time)
        lag = series.ramp_lag(0, scale * time)
        if time > ramp_s:
            lag -= series.ramp_lag(0, scale * (time - ramp_s))
        return 20 + 120 / (scale * ramp_s) * (scale * min(time, ramp_s) - lag)

    def cured(end: float) -> float:
        def speed(time: float) -> float:
            return rate_ratio(90, 150, middle(time)) / (60 * 12)

        return quad(speed, 60, end, epsrel=1e-10, limit=200, points=[ramp_s or 600])[0]  # before 60 s nothing cures

    return brentq(lambda end: cured(end) - 1, 9000, 20000, xtol=1e-3) / 60


@pytest.mark.parametrize(("rate", "expected"), [(None, 216.56624), (6, 226.75087)])
def test_the_middle_of_a_slab_cures_when_the_series_says(rate: float | None, expected: float) -> None:
    assert series_cure_time(120 * 60 / rate if rate else 0) == pytest.approx(expected, abs=1e-4)
    pads = pad(rate=rate, contact_resistance_m2K_W=0) if rate else ideal()
    errors = [abs(minutes(order((fill(80),), pads), elements) / expected - 1) for elements in (24, 48, 96)]
    assert errors[1] < FINE
    # Second order in space: twice the elements, a quarter of the error.
    assert errors[0] / errors[1] == pytest.approx(4, abs=0.4)
    assert errors[1] / errors[2] == pytest.approx(4, abs=0.4)


CASES = {
    "through 30 mm": (order(through(30), pad()), 71.053),
    "through 80 mm": (order(through(80), pad()), 233.27),
    "through 150 mm, hot pads, cold shop": (order(through(150), pad(150), ambient_C=5), 574.95),
    "beside 100 mm, steel casing": (order(beside(100), pad()), 314.04),
    "through 60 mm, cooler outside": (order(through(60), pad(130), pad(140)), 171.44),
    "through 60 mm, poor contact": (order(through(60), pad(contact_resistance_m2K_W=5e-3)), 164.80),
    "through 60 mm, preheated pads": (order(through(60), step()), 146.96),
    "80 mm of fill": (order((fill(80),), pad()), 227.76),
}


@pytest.mark.parametrize(("wanted", "expected"), CASES.values(), ids=CASES.keys())
def test_heating_only_schedules(wanted: CureOrder, expected: float) -> None:
    assert minutes(wanted) == pytest.approx(expected, rel=FINE)


# Power-off so early that the cool-down just finishes the cure: minutes, overcure of the faces [x t90], minutes to
# 100 °C, temperature of the slowest point at power-off, its depth [mm]. A check of the cool-down, not a schedule.
COASTING = {
    "through 30 mm": (50.672, 1.8005, 1.4327, 44.132, 132.09, 18.6),
    "through 80 mm": (164.52, 6.7767, 5.4138, 103.16, 111.68, 46.9),
    "through 150 mm, hot pads, cold shop": (410.07, 32.260, 25.804, 180.06, 97.105, 85.7),
    "beside 100 mm, steel casing": (222.74, 9.3522, 7.4557, 124.14, 106.62, 44.0),
    "through 60 mm, cooler outside": (126.77, 2.7498, 4.0955, 76.917, 120.01, 18.4),
    "through 60 mm, poor contact": (117.36, 3.8151, 3.0668, 80.030, 117.64, 35.7),
    "through 60 mm, preheated pads": (100.72, 4.7074, 3.7601, 79.183, 118.04, 35.7),
}


@pytest.mark.parametrize(("case", "expected"), COASTING.items(), ids=COASTING.keys())
def test_the_cool_down_goes_on_curing(case: str, expected: tuple[float, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    power_off, outside, inside, release, temperature, depth = expected
    monkeypatch.setattr(cooling, "OVERSHOOT", 1.25)  # the earlier program stopped counting at about 75 °C
    monkeypatch.setattr(cooling, "COLD", 75.0)
    wall = Wall(CASES[case][0], elements=192)
    course = follow(wall, power_off * 60)
    point = wall.slowest(course.after_cooling)
    node = wall.points.nodes[point]
    assert course.after_cooling[point] == pytest.approx(1, rel=FINE)
    assert course.after_cooling[-1] == pytest.approx(inside, rel=1e-3)
    assert course.after_cooling[0] == pytest.approx(outside, rel=1e-3)
    assert course.cooling.time_to(100) / 60 == pytest.approx(release, rel=FINE)
    assert course.profile[node] == pytest.approx(temperature, abs=0.03)
    assert 1e3 * wall.stack.depth[node] == pytest.approx(depth, abs=0.5)


def test_the_tail_of_the_cool_down_hardly_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    wall = Wall(order(through(100), pad()))
    counted = follow(wall, power_off_time(wall)).after_cooling
    monkeypatch.setattr(cooling, "COLD", 25.0)
    whole = follow(wall, power_off_time(wall)).after_cooling
    assert np.all(counted <= whole)
    assert counted == pytest.approx(whole, rel=3e-3)


def test_release_is_found_even_when_the_first_guess_is_too_early(monkeypatch: pytest.MonkeyPatch) -> None:
    wall = Wall(order(through(100), pad()))
    course = follow(wall, power_off_time(wall))
    expected = course.cooling.time_to(100)
    monkeypatch.setattr(cooling, "OVERSHOOT", 0.9)
    assert course.cooling.time_to(100) == pytest.approx(expected, abs=0.2)


def test_a_perfect_conductor_cools_like_one_lump() -> None:
    """By hand: tau = (rho c L + 2 C) / (2 h) = 3036 s, so 56.66 °C an hour after 140 °C."""
    copper = Material(name="lump", conductivity_W_mK=20, density_kg_m3=1120, heat_capacity_J_kgK=1850, basis="none")
    pads = step(contact_resistance_m2K_W=1e-6)
    course = follow(Wall(order((fill(10, material=copper),), pads, tyre_C=140)), 1.0)
    tau = (1120 * 1850 * 0.01 + 2 * 20e3) / 20
    assert course.cooling.temperatures(np.array([3600.0]))[:, 0] == pytest.approx(20 + 120 * exp(-3600 / tau), abs=0.1)
    assert course.cooling.time_to(100) == pytest.approx(tau * log(120 / 80), rel=3e-3)


def test_a_wall_the_other_way_round_cures_in_the_same_time() -> None:
    there, back = (Wall(order(layers, pad())) for layers in (beside(80), beside(80)[::-1]))
    assert power_off_time(back) == pytest.approx(power_off_time(there), rel=1e-9)


def test_a_symmetric_wall_is_symmetric() -> None:
    wall = Wall(order((fill(80),), pad()))
    course = follow(wall, power_off_time(wall))
    assert course.profile == pytest.approx(course.profile[::-1], abs=1e-9)
    assert course.after_cooling[0] == pytest.approx(course.after_cooling[-1], rel=1e-9)
    assert wall.stack.depth[wall.points.nodes[course.slowest]] == pytest.approx(0.04)


def test_the_slowest_point_lies_nearer_to_the_cooler_pad() -> None:
    wall = Wall(order((fill(60),), pad(130), pad(140)))
    depth = wall.stack.depth[wall.points.nodes[follow(wall, power_off_time(wall)).slowest]]
    assert 0.015 < depth < 0.028


def test_a_slow_skim_in_the_middle_decides() -> None:
    skim = Layer(name="skim", thickness_mm=2, material=FILL, compound=compound(60))
    wall = Wall(order((fill(30), skim, fill(30)), pad()))
    course = follow(wall, power_off_time(wall))
    assert wall.points.layers[course.slowest] == 1


def test_preheating_the_tyre_saves_time() -> None:
    assert minutes(order(through(60), pad(), tyre_C=60)) < minutes(order(through(60), pad(), tyre_C=20))


def test_the_timer_starts_with_the_slower_pad() -> None:
    """From 20 to 120 °C at 6 and at 2 °C/min: by hand."""
    assert Wall(order(through(60), pad())).timer_start / 60 == pytest.approx(100 / 6)
    assert Wall(order(through(60), pad(), pad(rate=2))).timer_start / 60 == pytest.approx(50)
    assert Wall(order(through(60), step())).timer_start == 0
    assert Wall(order(through(60), pad(), INSULATED)).timer_start / 60 == pytest.approx(100 / 6)


@pytest.mark.parametrize(("thickness", "expected"), [(30, 54.4), (60, 140.6), (100, 305.4), (150, 577.9)])
def test_minutes_after_the_timer(thickness: float, expected: float) -> None:
    wall = Wall(order(through(thickness), pad()))
    assert (power_off_time(wall) - wall.timer_start) / 60 == pytest.approx(expected, abs=0.06)


def test_what_never_cures_is_refused_with_its_place() -> None:
    cold = pad(present=False)
    with pytest.raises(NeverCuredError, match="after 72 h of heating 'fill', 40 mm below the outside face") as refused:
        power_off_time(Wall(order((fill(40),), pad(), cold)))
    assert "Raise the setpoint, or heat both faces." in str(refused.value)


def test_a_long_cure_is_found_all_the_same() -> None:
    """One face, 80 mm, the other insulated: about four times the two-sided time of 80 mm, over 12 h."""
    found = minutes(order((fill(80),), step(), INSULATED))
    assert found == pytest.approx(minutes(order((fill(160),), step())), rel=2e-3)
    assert found > 600


def test_thin_layers_get_three_elements() -> None:
    wall = Wall(order((fill(100), gum(), fill(20)), pad()))
    assert [len(span) - 1 for span in wall.stack.spans][1] == 3


STEEP = Layer(
    name="light", thickness_mm=22, compound=compound(3, activation=227).model_copy(update={"reference_C": 80.0}),
    material=Material(name="light", basis="drawn", conductivity_W_mK=1, density_kg_m3=100, heat_capacity_J_kgK=300),
)  # fmt: skip


@pytest.mark.parametrize("target", [0.5, 1.0, 3.0])
@pytest.mark.parametrize("start", [-40.0, 20.0])
@pytest.mark.parametrize("resistance", [0.0, 0.01])
def test_a_cure_that_is_over_within_a_steep_ramp_or_soon_after(target: float, start: float, resistance: float) -> None:
    """The speed of cure doubles every 3 K, and the pad gains them in five seconds; adaptive quadrature says how far."""
    hot = pad(91, rate=43, start_C=start, contact_resistance_m2K_W=resistance)
    wall = Wall(order((STEEP,), hot, INSULATED, target=target))
    course = follow(wall, power_off_time(wall))

    def speed(time: float) -> float:
        return float(wall.points.speed(wall.heating.temperatures(np.array([time])))[course.slowest, 0])

    ramp_end = float(wall.heating.bends[-1])
    cured = quad(speed, 0, course.power_off, epsrel=1e-9, limit=300, points=[min(ramp_end, 0.9 * course.power_off)])[0]
    assert cured == pytest.approx(target, rel=FINE)
    assert course.at_power_off[course.slowest] == pytest.approx(target, rel=FINE)
