import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from scipy import constants

import mendbook
from mendbook.terms.units import (
    _SPELLINGS,
    Dimension,
    UnitError,
    conversion,
    find_unit,
    registry,
    shares_kind,
)

OWN_KINDS = {Dimension.ANGLE, Dimension.SHARE, Dimension.HARDNESS, Dimension.COUNT}

# Our name for a unit: pint's own name for it, where they differ.
PINT_NAMES = {
    "celsius": "degree_Celsius",
    "fahrenheit": "degree_Fahrenheit",
    "tonne": "metric_ton",
    "square_metre": "metre ** 2",
    "square_centimetre": "centimetre ** 2",
    "square_millimetre": "millimetre ** 2",
    "square_inch": "inch ** 2",
    "kilometre_per_hour": "kilometre / hour",
    "mile_per_hour": "mile / hour",
    "metre_per_second": "metre / second",
    "pound_force": "force_pound",
}
OWN_UNITS_IN_PINT = {
    Dimension.LENGTH: "millimetre",
    Dimension.DISTANCE: "kilometre",
    Dimension.PRESSURE: "bar",
    Dimension.TEMPERATURE: "degree_Celsius",
    Dimension.DURATION: "hour",
    Dimension.SPEED: "kilometre / hour",
    Dimension.MASS: "kilogram",
    Dimension.AREA: "centimetre ** 2",
    Dimension.POWER: "watt",
    Dimension.FORCE: "newton",
}
MEASURED = sorted(name for name, (dimension, _) in _SPELLINGS.items() if dimension not in OWN_KINDS)


@pytest.fixture(scope="module")
def published() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("name", MEASURED)
@pytest.mark.parametrize("value", [0.0, 1.0, 37.5])
def test_a_unit_is_what_pints_own_definitions_say(name: str, value: float, published: pint.UnitRegistry) -> None:
    dimension = _SPELLINGS[name][0]
    theirs = published.Quantity(value, PINT_NAMES.get(name, name)).to(OWN_UNITS_IN_PINT[dimension]).magnitude
    assert float(conversion(name, dimension).apply(Fraction(value))) == pytest.approx(theirs, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "dimension", "si", "own_in_si"),
    [
        ("inch", Dimension.LENGTH, constants.inch, constants.milli),
        ("foot", Dimension.LENGTH, constants.foot, constants.milli),
        ("mile", Dimension.DISTANCE, constants.mile, constants.kilo),
        ("psi", Dimension.PRESSURE, constants.psi, constants.bar),
        ("bar", Dimension.PRESSURE, constants.bar, constants.bar),
        ("pound", Dimension.MASS, constants.pound, 1.0),
        ("short_ton", Dimension.MASS, constants.short_ton, 1.0),
        ("pound_force", Dimension.FORCE, constants.pound_force, 1.0),
        ("mile_per_hour", Dimension.SPEED, constants.mph, constants.kmh),
        ("day", Dimension.DURATION, constants.day, constants.hour),
        ("year", Dimension.DURATION, constants.Julian_year, constants.hour),
    ],
)
def test_a_unit_is_what_scipy_constants_say(name: str, dimension: Dimension, si: float, own_in_si: float) -> None:
    assert float(conversion(name, dimension).scale) == pytest.approx(si / own_in_si, rel=1e-12)


@pytest.mark.parametrize(("old", "new"), [("Celsius", "celsius"), ("Fahrenheit", "fahrenheit"), ("Kelvin", "kelvin")])
def test_temperatures_agree_with_scipy(old: str, new: str) -> None:
    for value in (-40, 0, 32, 140, 284):
        theirs = constants.convert_temperature(value, old, "Celsius")
        assert float(conversion(new, Dimension.TEMPERATURE).apply(Fraction(value))) == pytest.approx(theirs, abs=1e-9)


def test_factors_are_exact() -> None:
    assert conversion("inch", Dimension.LENGTH).apply(Fraction(2)) == Fraction("50.8")
    assert conversion("fahrenheit", Dimension.TEMPERATURE).apply(Fraction(284)) == 140
    assert conversion("fahrenheit", Dimension.TEMPERATURE).apply_to_difference(Fraction(9)) == 5


def test_no_unit_of_one_kind_passes_for_another() -> None:
    kinds = {frozenset(registry().get_dimensionality(name).items()) for name in _SPELLINGS}
    lengths_and_distances_are_one = 1
    assert len(kinds) == len({dimension for dimension, _ in _SPELLINGS.values()}) - lengths_and_distances_are_one
    assert shares_kind(Dimension.LENGTH, Dimension.DISTANCE)
    assert not shares_kind(Dimension.ANGLE, Dimension.SHARE)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("mm", "millimetre"),
        ("MM", "millimetre"),
        ('"', "inch"),
        ("PSI", "psi"),
        ("deg C", "celsius"),
        ("Bar", "bar"),
    ],
)
def test_a_unit_is_found_as_people_spell_it(written: str, name: str) -> None:
    assert find_unit(written)[0] == name


@pytest.mark.parametrize("spelling", [s for _, all_of in _SPELLINGS.values() for s in all_of.split(", ")])
def test_every_spelling_is_found(spelling: str) -> None:
    name, dimension = find_unit(spelling)
    assert spelling in _SPELLINGS[name][1].split(", ")
    assert dimension is _SPELLINGS[name][0]


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("milimetre", "Did you mean 'millimetre'?"),
        ("tons", "write 't' for 1000 kg"),
        ("psia", "gauge"),
        ("mPa", "write 'MPa'"),
        ("Shore D", "Shore A durometer"),
        ("H", "'H' is not a unit I know"),
        ("furlongs", "not a unit I know"),
    ],
)
def test_an_unknown_or_double_unit_is_refused(written: str, told: str) -> None:
    with pytest.raises(UnitError, match="unit") as caught:
        find_unit(written)
    assert told in str(caught.value)


def test_reading_words_does_not_wait_for_pint() -> None:
    code = "import sys, mendbook.terms.quantity; sys.exit('pint' in sys.modules)"
    engine = str(Path(mendbook.__file__).parents[1])
    assert subprocess.run([sys.executable, "-c", code], check=False, env={"PYTHONPATH": engine}).returncode == 0
