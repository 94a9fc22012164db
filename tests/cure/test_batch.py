"""Kinetics from cure curves: against published rates, a textbook line, and what a batch is told."""

import numpy as np
import pytest
from scipy import constants, stats

from mendbook.cure.arrhenius import fit
from mendbook.cure.batch import describe
from mendbook.cure.curve import measure
from mendbook.cure.kinetics import rate_ratio
from mendbook.terms.cure_curve import CureCurve
from tests.cure.curves import Formula, first_order, nth_order, rate_at, readings, sigmoid


def curve(formula: Formula, at: float, end: float, noise: float = 0.0) -> CureCurve:
    return measure(readings(formula, end=end, count=401, noise=noise, at=at))


def at_t90(t90: float, at: float) -> CureCurve:
    """Return a curve of first order with this t90 [min], its end 1e-6 short of the plateau."""
    return curve(first_order(np.log(10) / t90), at, end=6 * t90)


def test_natural_rubber_of_first_order_in_a_rheometer_comes_back_from_its_curves() -> None:
    """A published fit (page read): lg A 16.02 1/s, 154.9 kJ/mol; t90 2904 s at 150 °C and 8431 s at 140 °C.

    Far outside the usual 80 to 110 kJ/mol: it is told, and taken.
    """
    rates = {at: rate_at(at, 10**16.02, 154.9e3) for at in (140, 150, 160)}
    report = describe([curve(first_order(rate), at, end=14 / rate) for at, rate in rates.items()], "natural rubber")
    assert report.kinetics.activation_kJ_mol == pytest.approx(154.9, abs=0.05)
    assert report.kinetics.t90_min * 60 == pytest.approx(8431, rel=2e-3)
    assert report.curves[1].t90_min * 60 == pytest.approx(2904, rel=2e-3)
    assert report.compound is not None
    assert report.compound.activation_kJ_mol == pytest.approx(154.9)
    assert any("154.9 kJ/mol is outside the usual 80 to 110" in said for said in report.warnings)


@pytest.mark.parametrize("order", [0.68, 0.74])
def test_natural_rubber_of_a_lower_order_comes_back_from_its_curves(order: float) -> None:
    """J. Appl. Polym. Sci. 101 (2006) 580 (abstract read): order 0.68 to 0.74, 79.321 kJ/mol; any rate (invented).

    t90 = (1 - 0.1^(1 - n)) / ((1 - n) k), from the rate law by hand; noise of 0.2 % of the rise.
    """
    rates = {at: 0.2 * rate_ratio(79.321, 150, at) for at in (140, 150, 160)}
    curves = [curve(nth_order(rate, order), at, 4.5 / rate, noise=0.026) for at, rate in rates.items()]
    report = describe(curves, "natural rubber")
    t90 = (1 - 0.1 ** (1 - order)) / (1 - order) / rates[140]
    assert report.kinetics.t90_min == pytest.approx(t90, rel=0.01)
    assert report.kinetics.activation_kJ_mol == pytest.approx(79.321, rel=0.01)


@pytest.mark.parametrize(("start", "expected"), [(140, 100.754), (135, 98.358), (130, 95.992)])
def test_a_batch_that_halves_its_t90_in_ten_degrees(start: float, expected: float) -> None:
    """The rule of thumb, twice as fast per 10 °C, as an energy; derived from the law, R of CODATA 2018."""
    report = describe([at_t90(20, start), at_t90(10, start + 10)], "a batch")
    assert report.kinetics.how == "two curves"
    assert report.kinetics.activation_kJ_mol == pytest.approx(expected, abs=0.02)
    assert (report.kinetics.reference_C, report.kinetics.t90_min) == (start, pytest.approx(20, rel=1e-3))
    assert report.kinetics.residuals == (0, 0)


def test_three_and_more_curves_give_the_line_of_least_squares() -> None:
    """Slope, standard errors and residuals against scipy's linregress on ln t90 and 1/T."""
    cured = [(140.0, 22.0), (150.0, 12.5), (155.0, 8.9), (165.0, 5.4), (165.0, 5.2)]
    found = fit(cured, 90)
    inverse = np.array([1 / (t + 273.15) for t, _ in cured]) - 1 / 413.15
    line = stats.linregress(inverse, np.log([t90 for _, t90 in cured]))
    assert found.how == "least squares"
    assert found.activation_kJ_mol == pytest.approx(line.slope * constants.R / 1e3, abs=1e-4)
    assert found.activation_error_kJ_mol == pytest.approx(line.stderr * constants.R / 1e3, abs=1e-4)
    assert found.t90_min == pytest.approx(np.exp(line.intercept), abs=1e-4)
    assert found.t90_error_min == pytest.approx(np.exp(line.intercept) * line.intercept_stderr, abs=1e-4)
    fitted = np.exp(line.intercept + line.slope * inverse)
    assert found.residuals == pytest.approx([t90 / f - 1 for (_, t90), f in zip(cured, fitted, strict=True)], abs=1e-5)


def test_a_thermometer_s_error_is_a_few_kilojoules() -> None:
    """Ten degrees apart at 90 kJ/mol, 0.3 °C each: sqrt(2) x 0.3/10 of the energy, less what the 1/T scale bends."""
    found = fit([(145, rate_ratio(90, 145, 150) * 12), (155, 12 / rate_ratio(90, 150, 155))], 90)
    assert found.activation_kJ_mol == pytest.approx(90, abs=1e-3)
    assert found.thermometer_error_kJ_mol == pytest.approx(90 * np.sqrt(2) * 0.03, rel=1e-3)


def test_one_temperature_takes_the_energy_given_or_ninety() -> None:
    usual, given = describe([at_t90(12, 150)], "a"), describe([at_t90(12, 150), at_t90(10, 150)], "a", 101)
    assert (usual.kinetics.how, usual.kinetics.activation_kJ_mol) == ("given", 90)
    assert given.kinetics.activation_kJ_mol == 101
    assert given.kinetics.t90_min == pytest.approx(np.sqrt(120), rel=1e-3)
    assert usual.compound is not None
    assert given.compound is not None
    assert "assumed, from memory" in usual.compound.basis
    assert "as given" in given.compound.basis
    assert any("is not measured. Test at a second" in said for said in usual.warnings)


def test_no_energy_and_no_curve_that_make_no_sense() -> None:
    with pytest.raises(ValueError, match="not between 20 and 250 kJ/mol"):
        describe([at_t90(12, 150)], "a", 900)
    with pytest.raises(ValueError, match="there is no curve"):
        describe([], "a")


def test_curves_that_were_mixed_up_give_a_warning_and_no_compound() -> None:
    report = describe([at_t90(10, 140), at_t90(20, 150)], "a")
    assert report.kinetics.activation_kJ_mol < 0
    assert report.compound is None
    assert any("Check which curve is of which temperature" in said for said in report.warnings)


def test_temperatures_too_close_and_a_curve_off_the_line_are_told() -> None:
    close = describe([at_t90(12, 150), at_t90(11.2, 151)], "a")
    assert any("The temperatures lie close" in said for said in close.warnings)
    off = describe([at_t90(22.3, 140), at_t90(9, 150), at_t90(6.7, 160)], "a")
    assert any("off the line through all curves" in said for said in off.warnings)


def test_reversion_before_six_times_t90_lowers_the_face_limit() -> None:
    def reverting(time: np.ndarray) -> np.ndarray:
        return np.asarray(2.4 + sigmoid(0.0)(time) * np.exp(-time / 150))

    report = describe([curve(reverting, 150, 30)], "a")
    bears = report.curves[0].bears
    assert bears is not None
    assert 2 < bears < 4
    assert report.compound is not None
    assert report.compound.face_limit == pytest.approx(bears, abs=0.1)
    assert report.compound.face_limit <= bears
    assert "5 %" in report.compound.basis
    steady = describe([at_t90(12, 150)], "a").compound
    assert steady is not None
    assert steady.face_limit == 6
