"""Units as the trade writes them, against pint's own definitions and scipy.constants (CODATA, NIST SP 811)."""

import pint
import pytest
from scipy import constants

from mendbook.facts.haulage import tkph
from mendbook.terms.quantity import read_quantity
from mendbook.terms.units import Dimension

LENGTH, PRESSURE, MASS = Dimension.LENGTH, Dimension.PRESSURE, Dimension.MASS
UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


def value(text: str, dimension: Dimension) -> float:
    read = read_quantity(text, dimension).value
    assert read is not None
    return read


@pytest.mark.parametrize(
    ("text", "expected"),
    [("2/32 in", 2 / 32), ("4/32 in", 4 / 32), ("11/32 in", 11 / 32), ("17/32 in", 17 / 32), ("1/32 in", 1 / 32),
     ("3/8 in", 3 / 8), ("15 in", 15), ("1 7/8 in", 1.875)],
)  # fmt: skip
def test_fractions_of_an_inch(text: str, expected: float) -> None:
    """An inch is 25.4 mm by definition: scipy.constants.inch, and pint."""
    assert value(text, LENGTH) == pytest.approx(expected * constants.inch * 1e3, rel=1e-12)
    assert value(text, LENGTH) == pytest.approx(UNITS.Quantity(expected, "inch").to("mm").magnitude, rel=1e-12)


@pytest.mark.parametrize(("text", "psi"), [("1 psi", 1), ("32 psi", 32), ("800 kPa", 116.030), ("1000 kPa", 145.038)])
def test_pounds_to_the_square_inch(text: str, psi: float) -> None:
    """scipy.constants.psi; that 800 and 1 000 kPa are 116.0 and 145.0 psi is worked out from it."""
    assert value(text, PRESSURE) * constants.bar / constants.psi == pytest.approx(psi, rel=1e-5)


def test_the_load_from_which_regrooved_tyres_are_barred_is_one_figure_in_both_units() -> None:
    """49 CFR 393.75(e): 2 232 kg (read), 4 920 lb (from memory)."""
    assert value("4920 lb", MASS) == pytest.approx(2232, abs=0.5)
    assert value("4920 lb", MASS) == pytest.approx(4920 * constants.pound, rel=1e-12)


def test_a_tonne_kilometre_is_0_685_of_a_short_ton_mile() -> None:
    """Worked out from scipy.constants: 1.10231 short tons to the tonne, 0.62137 miles to the kilometre."""
    metric = tkph(10.0, 26.0, 12.0, 40.0, 20.0)
    short_ton, mile = constants.short_ton / 1e3, constants.mile / 1e3
    in_short_ton_miles = tkph(10.0 / short_ton, 26.0 / short_ton, 12.0 / mile, 40.0, 20.0)
    assert in_short_ton_miles / metric == pytest.approx(0.68494, abs=5e-6)
