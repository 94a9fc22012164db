"""The rate of cure against tables computed from the Arrhenius law, and against the trade's old rule of thumb."""

import numpy as np
import pytest
from scipy import constants

from mendbook.cure.kinetics import GAS_CONSTANT, activation_energy, follow_points, rate_ratio
from mendbook.cure.stack import build_stack
from tests.cure.walls import beside, compound, fill

# Rows computed from exp(Ea/R (1/T1 - 1/T2)) with R of CODATA 2018.
Q10 = [
    (80, 120, 1.835), (90, 120, 1.980), (100, 120, 2.136), (110, 120, 2.304),
    (80, 140, 1.734), (90, 140, 1.857), (100, 140, 1.990), (110, 140, 2.131),
    (85, 140, 1.7946), (90, 140, 1.8574), (95, 140, 1.9224), (100, 140, 1.9897),
    (85, 130, 1.8474), (90, 130, 1.9153), (95, 130, 1.9857), (100, 130, 2.0587),
]  # fmt: skip


def test_the_gas_constant_is_that_of_codata() -> None:
    assert pytest.approx(constants.R, rel=1e-9) == GAS_CONSTANT


@pytest.mark.parametrize(("activation", "start", "expected"), Q10)
def test_ten_degrees_quicken_the_cure(activation: float, start: float, expected: float) -> None:
    assert rate_ratio(activation, start, start + 10) == pytest.approx(expected, abs=6e-4)


@pytest.mark.parametrize(("ratio", "expected"), [(1.8, 85.4), (2.0, 100.8), (2.2, 114.6), (2.5, 133.2)])
def test_the_activation_energy_of_a_coefficient(ratio: float, expected: float) -> None:
    assert activation_energy(ratio, 140, 150) == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize(("start", "expected"), [(140, 100.7539), (135, 98.358), (130, 95.992)])
def test_the_activation_energy_that_doubles_the_rate(start: float, expected: float) -> None:
    assert activation_energy(2, start, start + 10) == pytest.approx(expected, abs=1e-3)


def test_the_trade_s_old_coefficient_is_ninety_kilojoules() -> None:
    """Rubber technology texts (from memory): 1.86 per 10 °C, 1.41 per 10 °F."""
    assert rate_ratio(90, 140, 150) == pytest.approx(1.86, abs=0.005)
    assert rate_ratio(90, 140, 140 + 50 / 9) == pytest.approx(1.41, abs=0.01)


def test_natural_rubber_at_the_end_of_cure() -> None:
    """J. Appl. Polym. Sci. 101 (2006) 580 (abstract read): 79.321 kJ/mol, so 1.726 from 140 to 150 °C."""
    assert rate_ratio(79.321, 140, 150) == pytest.approx(1.726, abs=1e-3)


def test_natural_rubber_in_a_rheometer() -> None:
    """A published first-order fit (page read): lg A 16.02 1/s, 154.9 kJ/mol; 2904 s at 150 and 8431 s at 140 °C.

    Far outside the usual 80 to 110 kJ/mol, and still an answer.
    """
    t90 = np.log(10) / (10**16.02 * np.exp(-154.9e3 / (constants.R * 423.15)))
    assert t90 == pytest.approx(2904, rel=1e-3)
    assert t90 * rate_ratio(154.9, 140, 150) == pytest.approx(8431, rel=1e-3)
    assert rate_ratio(154.9, 140, 150) == pytest.approx(2.903, abs=1e-3)


def test_a_thermometer_s_error_in_rate() -> None:
    """0.3 °C at 150 °C, 90 kJ/mol: 1.8 % of rate (derived)."""
    assert rate_ratio(90, 150, 150.3) - 1 == pytest.approx(0.018, abs=1e-3)


def test_two_classic_press_temperatures_differ_by_two() -> None:
    """280 and 300 °F at 90 kJ/mol (derived by hand: Ea/R 10824.5 K, 1/T apart by 6.407e-5 1/K)."""
    assert rate_ratio(90, (280 - 32) / 1.8, (300 - 32) / 1.8) == pytest.approx(2.001, abs=1e-3)


def test_at_the_reference_temperature_t90_takes_t90() -> None:
    layers = (fill(20, compound=compound(12)), fill(20, compound=compound(7, activation=105)))
    stack = build_stack(layers)
    points = follow_points(layers, stack)
    speed = points.speed(np.full((len(stack.depth), 1), 150.0))[:, 0]
    assert 1 / speed[points.layers == 0] / 60 == pytest.approx(12, rel=1e-12)
    assert 1 / speed[points.layers == 1] / 60 == pytest.approx(7, rel=1e-12)


def test_an_interface_is_followed_in_both_its_layers() -> None:
    layers = beside(80)
    stack = build_stack(layers)
    points = follow_points(layers, stack)
    for left, right in zip(stack.spans[:-1], stack.spans[1:], strict=True):
        assert left[-1] == right[0]
        assert np.count_nonzero(points.nodes == left[-1]) == 2
    assert points.must_cure[points.layers == 0].all()
    assert not points.must_cure[points.layers == 2].any()
