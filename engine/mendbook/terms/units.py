"""The units people write, each with the kind of quantity it measures and the exact way to our own unit.

The registry holds only what a tyre shop writes: reading pint's complete default file takes ten times as long
as all the rest of the start. pint itself is imported at the first conversion. Factors are fractions, so that
2 in is 50.8 mm and not nearly 50.8 mm: a size on the line of a limit must be seen to be on the line.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

from mendbook.terms.spelling import did_you_mean


class UnitError(ValueError):
    """A unit that nobody knows, or one that could mean two things."""


class Dimension(StrEnum):
    """What a quantity measures. The value is the word used in messages."""

    LENGTH = "length"
    DISTANCE = "distance"
    PRESSURE = "pressure"
    TEMPERATURE = "temperature"
    ANGLE = "angle"
    DURATION = "duration"
    SPEED = "speed"
    MASS = "mass"
    AREA = "area"
    POWER = "power"
    FORCE = "force"
    SHARE = "share"
    HARDNESS = "hardness"
    COUNT = "count"
    MONEY = "amount of money"

    @property
    def unit(self) -> str:
        """The unit our own numbers stand in, as it is printed; empty for a count and for money."""
        return _OWN_UNITS[self][1]

    @property
    def is_bare(self) -> bool:
        """True when a number without a unit is enough."""
        return self in (Dimension.SHARE, Dimension.HARDNESS, Dimension.COUNT, Dimension.MONEY)

    @property
    def may_be_negative(self) -> bool:
        """True when a reading below zero makes sense (a vacuum, a depth past the cord)."""
        return self in (Dimension.LENGTH, Dimension.PRESSURE, Dimension.TEMPERATURE, Dimension.ANGLE)


@dataclass(frozen=True)
class Conversion:
    """From a written unit to our own: own = scale * written + offset, both exact."""

    scale: Fraction
    offset: Fraction

    def apply(self, value: Fraction) -> Fraction:
        """Return `value`, a point on the scale, in our own unit."""
        return self.scale * value + self.offset

    def apply_to_difference(self, value: Fraction) -> Fraction:
        """Return `value`, a difference such as a tolerance, in our own unit."""
        return self.scale * value


# name in the registry, name as printed. A share counts from 0 to 1 inside and is printed in per cent.
_OWN_UNITS: Mapping[Dimension, tuple[str, str]] = {
    Dimension.LENGTH: ("millimetre", "mm"),
    Dimension.DISTANCE: ("kilometre", "km"),
    Dimension.PRESSURE: ("bar", "bar"),
    Dimension.TEMPERATURE: ("celsius", "°C"),
    Dimension.ANGLE: ("degree", "deg"),
    Dimension.DURATION: ("hour", "h"),
    Dimension.SPEED: ("kilometre_per_hour", "km/h"),
    Dimension.MASS: ("kilogram", "kg"),
    Dimension.AREA: ("square_centimetre", "cm2"),
    Dimension.POWER: ("watt", "W"),
    Dimension.FORCE: ("newton", "N"),
    Dimension.SHARE: ("whole", "%"),
    Dimension.HARDNESS: ("shore_a", "Shore A"),
    Dimension.COUNT: ("piece", ""),
    Dimension.MONEY: ("coin", ""),
}

PER_CENT = ("%", "percent", "per cent", "pct")

# Angle, share, hardness and count have a dimension each: else 48 degrees would stand for 48 per cent.
_DEFINITIONS = """
metre = [length]
millimetre = 1/1000 * metre
centimetre = 1/100 * metre
kilometre = 1000 * metre
inch = 25.4 * millimetre
foot = 12 * inch
mile = 5280 * foot
square_metre = metre ** 2
square_centimetre = centimetre ** 2
square_millimetre = millimetre ** 2
square_inch = inch ** 2
second = [time]
minute = 60 * second
hour = 60 * minute
day = 24 * hour
week = 7 * day
year = 365.25 * day
month = 1/12 * year
kilometre_per_hour = kilometre / hour
mile_per_hour = mile / hour
metre_per_second = metre / second
kilogram = [mass]
gram = 1/1000 * kilogram
tonne = 1000 * kilogram
pound = 0.45359237 * kilogram
short_ton = 2000 * pound
newton = kilogram * metre / second ** 2
kilonewton = 1000 * newton
pound_force = 9.80665 * pound * metre / second ** 2
pascal = newton / metre ** 2
kilopascal = 1000 * pascal
megapascal = 1000000 * pascal
bar = 100000 * pascal
psi = pound_force / inch ** 2
watt = newton * metre / second
kilowatt = 1000 * watt
kelvin = [temperature]; offset: 0
celsius = kelvin; offset: 273.15
fahrenheit = 5/9 * kelvin; offset: 233.15 + 200 / 9
degree = [angle]
whole = [share]
percent = 1/100 * whole
shore_a = [hardness]
piece = [count]
coin = [money]
"""

_SPELLINGS: Mapping[str, tuple[Dimension, str]] = {
    "millimetre": (Dimension.LENGTH, "mm, millimetre, millimetres, millimeter, millimeters"),
    "centimetre": (Dimension.LENGTH, "cm, centimetre, centimetres, centimeter, centimeters"),
    "metre": (Dimension.LENGTH, "m, metre, metres, meter, meters"),
    "inch": (Dimension.LENGTH, "in, in., inch, inches, \", ″, ”, ''"),
    "foot": (Dimension.LENGTH, "ft, ft., foot, feet"),
    "kilometre": (Dimension.DISTANCE, "km, kilometre, kilometres, kilometer, kilometers"),
    "mile": (Dimension.DISTANCE, "mi, mile, miles"),
    "pascal": (Dimension.PRESSURE, "Pa, pascal"),
    "kilopascal": (Dimension.PRESSURE, "kPa"),
    "megapascal": (Dimension.PRESSURE, "MPa"),
    "bar": (Dimension.PRESSURE, "bar, bars, barg"),
    "psi": (Dimension.PRESSURE, "psi, psig, lb/in2, lb/in²"),
    "celsius": (Dimension.TEMPERATURE, "°C, C, degC, deg C, ºC, ℃, celsius"),
    "fahrenheit": (Dimension.TEMPERATURE, "°F, F, degF, deg F, ºF, ℉, fahrenheit"),
    "kelvin": (Dimension.TEMPERATURE, "K, kelvin"),
    "degree": (Dimension.ANGLE, "deg, °, º, degree, degrees"),
    "second": (Dimension.DURATION, "s, sec, second, seconds"),
    "minute": (Dimension.DURATION, "min, mins, minute, minutes"),
    "hour": (Dimension.DURATION, "h, hr, hrs, hour, hours"),
    "day": (Dimension.DURATION, "d, day, days"),
    "week": (Dimension.DURATION, "week, weeks"),
    "month": (Dimension.DURATION, "month, months"),
    "year": (Dimension.DURATION, "year, years, yr, yrs"),
    "kilometre_per_hour": (Dimension.SPEED, "km/h, kph, kmh, km/hr"),
    "mile_per_hour": (Dimension.SPEED, "mph, mi/h"),
    "metre_per_second": (Dimension.SPEED, "m/s"),
    "kilogram": (Dimension.MASS, "kg, kilogram, kilograms, kilo, kilos"),
    "gram": (Dimension.MASS, "g, gram, grams"),
    "tonne": (Dimension.MASS, "t, tonne, tonnes"),
    "pound": (Dimension.MASS, "lb, lbs, pound, pounds"),
    "short_ton": (Dimension.MASS, "short ton, short tons"),
    "square_millimetre": (Dimension.AREA, "mm2, mm², sq mm"),
    "square_centimetre": (Dimension.AREA, "cm2, cm², sq cm"),
    "square_metre": (Dimension.AREA, "m2, m², sq m"),
    "square_inch": (Dimension.AREA, "in2, in², sq in"),
    "watt": (Dimension.POWER, "W, watt, watts"),
    "kilowatt": (Dimension.POWER, "kW"),
    "newton": (Dimension.FORCE, "N, newton"),
    "kilonewton": (Dimension.FORCE, "kN"),
    "pound_force": (Dimension.FORCE, "lbf"),
    "percent": (Dimension.SHARE, ", ".join(PER_CENT)),
    "shore_a": (Dimension.HARDNESS, "Shore A, ShA, Sh A, °ShA"),
}

_TWO_MEANINGS: Mapping[str, str] = {
    "ton": "it may be 1000, 907 or 1016 kg: write 't' for 1000 kg, 'short ton' for 907 kg, or kg",
    "tons": "it may be 1000, 907 or 1016 kg: write 't' for 1000 kg, 'short ton' for 907 kg, or kg",
    "psia": "it counts from vacuum: write the gauge reading in psi",
    "bara": "it counts from vacuum: write the gauge reading in bar",
    "shore d": "it is another scale, and no sum turns it into Shore A: measure with a Shore A durometer",
    "mpa": "it may be MPa or mPa: write 'MPa'",
    "m/h": "it may be miles or metres an hour: write 'mph' or 'km/h'",
    "'": "it may be feet or minutes of arc: write 'ft' or 'deg'",
}

_BY_SPELLING: dict[str, tuple[str, Dimension]] = {
    spelling.strip(): (name, dimension)
    for name, (dimension, spellings) in _SPELLINGS.items()
    for spelling in spellings.split(", ")
}
# Capitals are forgiven in whole words (MM, PSI), never in a single letter: K is kelvin, k is nothing.
_BY_FOLDED = {s.casefold(): unit for s, unit in _BY_SPELLING.items() if len(s) > 1 and s != "MPa"}


def find_unit(written: str) -> tuple[str, Dimension]:
    """Return the registry's name of the unit `written` by a person, and what it measures.

    A length and a distance are one kind: `shares_kind` tells whether a unit will do for a field.
    Raises UnitError when the unit is unknown or has two meanings.
    """
    text = " ".join(written.split())
    found = _BY_SPELLING.get(text) or _BY_FOLDED.get(text.casefold())
    if found:
        return found
    if why := _TWO_MEANINGS.get(text.casefold()):
        raise UnitError(f"the unit '{text}' is not clear: {why}.")
    raise UnitError(f"'{text[:30]}' is not a unit I know.{did_you_mean(text, _BY_SPELLING)}")


def shares_kind(one: Dimension, other: Dimension) -> bool:
    """Return True when a unit of `one` may be written where `other` is asked (mm in a distance in km)."""
    along = {Dimension.LENGTH, Dimension.DISTANCE}
    return one is other or {one, other} <= along


@cache
def conversion(unit: str, dimension: Dimension) -> Conversion:
    """Return the exact way from `unit`, a name in the registry, to our own unit of `dimension`."""
    own = _OWN_UNITS[dimension][0]
    quantity = registry().Quantity
    zero, one = (quantity(Fraction(n), unit).to(own).magnitude for n in (0, 1))
    return Conversion(scale=Fraction(one) - Fraction(zero), offset=Fraction(zero))


@cache
def registry() -> "UnitRegistry[Fraction]":
    """Return the one registry of the process, with exact fractions as its numbers."""
    from pint import UnitRegistry  # here and not above: a command that converts nothing need not wait for it

    units: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    for line in _DEFINITIONS.strip().splitlines():
        units.define(line)
    return units
