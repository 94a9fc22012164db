"""Figures of a cure curve against curves whose answer is known by formula, as ISO 6502 defines them (from memory)."""

from dataclasses import replace

import numpy as np
import pytest

from mendbook.cure.curve import measure
from mendbook.cure.readings import CurveError, Readings
from tests.cure.curves import Values, first_order, readings, sigmoid

RISE = 13.0


def share(wanted: float, half: float = 5.0, power: float = 5.0) -> float:
    return float(half * (wanted / (1 - wanted)) ** (1 / power))


def reverting(time: Values) -> Values:
    return np.asarray(2.4 + (sigmoid(0.0)(time)) * np.exp(-time / 150))


def marching(time: Values) -> Values:
    return np.asarray(sigmoid()(time) + 0.03 * time)


def test_the_times_of_a_sigmoid_are_those_of_its_formula() -> None:
    """The test ends at 80 min, where 1e-6 of the rise is still to come: the definition, solved by hand."""
    found = measure(readings(sigmoid(), end=80, count=1601))
    assert found.kind == "plateau"
    assert (found.minimum_dNm, found.maximum_dNm) == (pytest.approx(2.4, abs=1e-3), pytest.approx(15.4, abs=1e-3))
    assert found.scorch_1_min == pytest.approx(share(1 / RISE), rel=1e-4)
    assert found.scorch_2_min == pytest.approx(share(2 / RISE), rel=1e-4)
    assert found.t10_min == pytest.approx(share(0.1), rel=1e-4)
    assert found.t50_min == pytest.approx(5.0, rel=1e-4)
    assert found.t90_min == pytest.approx(share(0.9), rel=1e-4)
    assert found.t90_stopped_sooner_min == found.t90_min
    assert (found.fall_share, found.bears, found.noise_share) == (0, None, pytest.approx(0, abs=1e-4))
    assert found.warnings == (
        "The first reading is the least, so that the true minimum may lie before it: t_s and t90 are then off. "
        "Record from closing the die on.",
    )


def test_few_readings_between_are_joined_by_a_smooth_and_rising_line() -> None:
    found = measure(readings(sigmoid(), end=80, count=81))
    assert found.t90_min == pytest.approx(share(0.9), rel=2e-3)
    assert found.scorch_2_min == pytest.approx(share(2 / RISE), rel=4e-3)


@pytest.mark.parametrize(
    ("noise", "within"),
    [
        (0.02, 0.005),
        pytest.param(0.06, 0.01, marks=pytest.mark.long),
        pytest.param(0.13, 0.025, marks=pytest.mark.long),
        (0.26, 0.05),
    ],
)
def test_scatter_shifts_t90_little_and_to_neither_side(noise: float, within: float) -> None:
    """Up to 2 % of the rise; curemeters scatter by a few tenths of a per cent. Single readings would be far off."""
    time = np.linspace(0, 40, 241)
    clean = sigmoid()(time) + 0.9 * np.exp(-time / 0.35)
    truth = measure(Readings(time, clean, 150.0)).t90_min
    found = [
        measure(Readings(time, clean + noise * np.random.default_rng(seed).normal(size=241), 150.0)).t90_min
        for seed in range(12)
    ]
    assert found == pytest.approx([truth] * 12, rel=2 * within)
    assert np.mean(found) == pytest.approx(truth, rel=within)


def test_highest_and_first_single_readings_would_be_biased() -> None:
    """Why a curve is smoothed: taken from single readings of 2 % scatter, t90 is wrong by far more than 5 %."""
    noisy = readings(sigmoid(), end=40, count=241, noise=0.26)
    level = noisy.torque.min() + 0.9 * np.ptp(noisy.torque)
    first = noisy.time[np.argmax(noisy.torque >= level)]
    assert abs(first / share(0.9) - 1) > 0.05
    assert measure(noisy).t90_min == pytest.approx(share(0.9), rel=0.05)


def test_the_maximum_of_a_curve_that_reverts_is_its_peak() -> None:
    time = np.linspace(0, 30, 300_001)
    exact = reverting(time)
    top = int(np.argmax(exact))
    t90 = time[np.argmax(exact >= exact[0] + 0.9 * (exact[top] - exact[0]))]
    lost = time[top + np.argmax(exact[top:] <= exact[top] - 0.05 * (exact[top] - exact[0]))]
    for noise, within in ((0.0, 2e-3), (0.02, 6e-3)):
        found = measure(readings(reverting, noise=noise))
        assert found.kind == "peak"
        assert found.maximum_dNm == pytest.approx(exact[top], rel=within)
        assert found.t90_min == pytest.approx(t90, rel=2 * within)
        assert found.bears == pytest.approx(lost / t90, rel=0.02 + 5 * within)
        assert found.fall_share == pytest.approx((exact[top] - exact[-1]) / (exact[top] - exact[0]), abs=0.005)


def test_a_marching_curve_takes_its_end_for_the_maximum_and_says_so() -> None:
    found = measure(readings(marching))
    sooner = measure(readings(marching, end=24, count=145))
    assert found.kind == "marching"
    assert found.maximum_dNm == pytest.approx(marching(np.array([30.0]))[0], abs=1e-4)
    assert sooner.t90_min < found.t90_min
    assert found.t90_stopped_sooner_min == pytest.approx(sooner.t90_min, rel=1e-3)
    assert "depends on when the test was stopped" in found.warnings[0]
    assert f"{sooner.t90_min:.3g} min and not {found.t90_min:.3g}" in found.warnings[0]


@pytest.mark.parametrize(("lives", "kind"), [(6, "plateau"), (4, "marching"), (3.5, "marching")])
def test_a_first_order_cure_is_judged_by_what_is_still_to_come(lives: float, kind: str) -> None:
    assert measure(readings(first_order(0.5), end=lives / 0.5)).kind == kind


def test_the_peak_while_the_die_closes_is_no_maximum() -> None:
    def spiked(time: Values) -> Values:
        return np.asarray(sigmoid()(time) + 25 * np.exp(-time / 0.2))

    found = measure(readings(spiked, end=80, count=1601))
    assert found.maximum_dNm == pytest.approx(15.4, abs=1e-3)
    assert 0.5 < found.minimum_at_min < 4
    assert found.t90_min == pytest.approx(share(0.9), rel=2e-3)


def test_a_small_rise_has_no_scorch_time_of_two_units() -> None:
    found = measure(readings(sigmoid(rise=1.5), end=80, count=801))
    assert found.scorch_1_min == pytest.approx(share(1 / 1.5), rel=1e-3)
    assert found.scorch_2_min is None


def test_a_short_t90_is_said_to_be_mostly_warm_up() -> None:
    assert any("to warm up" in said for said in measure(readings(sigmoid(half=1.0), end=16)).warnings)


def test_dies_that_swing_are_told_of() -> None:
    steady = readings(sigmoid(), end=80)
    ramp = replace(steady, temperature=np.where(steady.time < 2, 140, 150 + 0.01 * steady.time))
    assert measure(ramp).temperature_C == pytest.approx(150.4, abs=0.05)
    assert any("The dies went from 150.1 to 150.8 °C" in said for said in measure(ramp).warnings)
    assert not any("dies" in said for said in measure(replace(steady, temperature=np.full(181, 150.2))).warnings)


GOOD = readings(sigmoid(), end=40, count=81)


def changed(time: dict[int, float] | None = None, torque: dict[int, float] | None = None) -> Readings:
    times, torques = GOOD.time.copy(), GOOD.torque.copy()
    for values, changes in ((times, time or {}), (torques, torque or {})):
        for place, value in changes.items():
            values[place] = value
    return replace(GOOD, time=times, torque=torques)


@pytest.mark.parametrize(
    ("bad", "reading", "said"),
    [
        (replace(GOOD, time=GOOD.time[:9], torque=GOOD.torque[:9]), None, "9 readings are too few; it takes 12"),
        (replace(GOOD, torque=GOOD.torque[:9]), None, "there are 81 times and 9 torques"),
        (changed(torque={7: np.nan}), 7, "the torque is no number"),
        (changed(time={7: np.inf}), 7, "the time is no number"),
        (changed(torque={7: 1e300}), 7, "the torque is 1e+300 dN m. Check it, and the unit of the torque."),
        (changed(torque={7: 40.0}), 7, "the torque of 40 dN m at 3.5 min stands out from the readings beside it"),
        (changed(torque={60: 0.0}), 60, "the torque of 0 dN m at 30 min stands out"),
        (changed(time={0: -1.0}), 0, "the time is -1 min. Count from closing the die"),
        (changed(time={7: 3.0}), 7, "the time does not rise: 3 min follows 3 min"),
        (changed(time={7: 1.0}), 7, "the time does not rise: 1 min follows 3 min"),
        (replace(GOOD, torque=GOOD.torque[::-1]), None, "torque never rises"),
        (replace(GOOD, torque=GOOD.torque / 100), None, "torque never rises: from 0.02 to 0.15 dN m"),
        (replace(GOOD, temperature=20.0), None, "the temperature of the test: 20 °C is not between 80 and 220 °C"),
        (readings(first_order(0.5), end=5), None, "the test ended before its maximum"),
        (readings(sigmoid(), end=6), None, "the test ended before its maximum"),
        (readings(sigmoid(), end=40, noise=2.0), None, "the readings scatter by"),
        (readings(sigmoid(half=500), end=4000), None, "t90: 775.8"),
    ],
)  # fmt: skip
def test_what_tells_no_cure_time_is_refused(bad: Readings, reading: int | None, said: str) -> None:
    with pytest.raises(CurveError) as refused:
        measure(bad)
    assert said in str(refused.value)
    assert refused.value.reading == reading
