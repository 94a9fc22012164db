"""The forms in which a reading is written: plain, with its error, as a range, or up to an end."""

import re
from fractions import Fraction

from mendbook.terms.hint import EXAMPLES, a, what_to_write, why_unclear
from mendbook.terms.number import NUMBER, read_number
from mendbook.terms.units import PER_CENT, Dimension, conversion, find_unit, shares_kind

_ONE = re.compile(rf"(?P<number>{NUMBER}) ?(?P<unit>(?!e[0-9+-])(?!'[0-9])[^\s0-9.,+\-–—½¼¾⅛⅜⅝⅞_’].*)?", re.IGNORECASE)
_UP_TO = re.compile(r"up to (?P<high>.+)", re.IGNORECASE)
_TOLERANCE = re.compile(r"(?P<middle>.+?) ?(?:±|\+/-|\+-) ?(?P<error>.+)")
_RANGE = re.compile(r"(?:from )?(?P<low>.+?)(?: to | ?\.\. ?| ?… ?)(?P<high>.+)", re.IGNORECASE)


class QuantityError(ValueError):
    """A text that is no quantity of the kind asked for. The message says what to write instead."""


Ends = tuple[Fraction | None, Fraction | None, Fraction | None]  # value, low, high


def read_ends(text: str, dimension: Dimension) -> Ends:
    """Return value, low and high end as `text` states them, exact, in our own unit of `dimension`.

    Raises QuantityError, NumberError or UnitError.
    """
    if match := _UP_TO.fullmatch(text):
        if dimension is Dimension.TEMPERATURE:
            raise QuantityError(f"'{text}' has no lower end. Write both ends, such as '20 to 40 °C'.")
        return None, Fraction(0), _in_own_unit(*_split(match["high"], dimension), dimension)
    if match := _TOLERANCE.fullmatch(text):
        return _read_tolerance(match["middle"], match["error"], dimension)
    if match := _RANGE.fullmatch(text):
        (low, low_unit), (high, high_unit) = (_split(match[end], dimension) for end in ("low", "high"))
        least = _in_own_unit(low, low_unit or high_unit, dimension)
        most = _in_own_unit(high, high_unit or low_unit, dimension)
        if least > most:
            raise QuantityError(f"'{text}' runs backwards. Write the smaller end first.")
        return None, least, most
    return _in_own_unit(*_split(text, dimension), dimension), None, None


def _read_tolerance(middle: str, error: str, dimension: Dimension) -> Ends:
    (number, number_unit), (width, width_unit) = (_split(part, dimension) for part in (middle, error))
    is_relative = dimension is not Dimension.SHARE and width_unit in PER_CENT
    value = _in_own_unit(number, number_unit if is_relative else number_unit or width_unit, dimension)
    half = read_number(width)
    if is_relative:
        half = abs(value) * half / 100
    elif unit := _find(width, width_unit or number_unit, dimension):
        half = conversion(unit, dimension).apply_to_difference(half)
    if half < 0:
        raise QuantityError(f"'{middle} ± {error}': the part after ± is how far off it may be, above zero.")
    low = value - half if dimension.may_be_negative else max(Fraction(0), value - half)
    return value, low, value + half


def _split(text: str, dimension: Dimension) -> tuple[str, str]:
    if match := _ONE.fullmatch(text):
        return match["number"], match["unit"] or ""
    raise QuantityError(why_unclear(text, dimension))


def _in_own_unit(number: str, unit: str, dimension: Dimension) -> Fraction:
    value = read_number(number)
    if name := _find(number, unit, dimension):
        value = conversion(name, dimension).apply(value)
    if value < 0 and not dimension.may_be_negative:
        raise QuantityError(f"'{number}' is below zero, and {a(dimension)} is not. {what_to_write(dimension)}")
    if dimension is Dimension.COUNT and value.denominator != 1:
        raise QuantityError(f"'{number}' is not a whole number, and a count is. {what_to_write(dimension)}")
    return value


def _find(number: str, unit: str, dimension: Dimension) -> str:
    """Return the registry's name of `unit`, or nothing where a bare number is right."""
    if dimension is Dimension.LENGTH and number.endswith("/32") and unit in ("", "nd", "nds"):
        return "inch"  # thirty-seconds are always of an inch
    if not unit:
        return _find_none(number, dimension)
    if dimension is Dimension.COUNT:
        raise QuantityError(f"'{number} {unit}': a count is a whole number and nothing else. Write '{number}'.")
    if dimension is Dimension.MONEY:
        raise QuantityError(f"'{number} {unit}': an amount is a plain number in the case's currency. Write '{number}'.")
    name, kind = find_unit(unit)
    if not shares_kind(kind, dimension):
        raise QuantityError(
            f"{number} {unit} is {a(kind)}; this field is {a(dimension)}: write e.g. "
            f"'{EXAMPLES[dimension][0]}' or '{EXAMPLES[dimension][1]}'."
        )
    return name


def _find_none(number: str, dimension: Dimension) -> str:
    if not dimension.is_bare:
        raise QuantityError(
            f"'{number}' has no unit; this field is {a(dimension)}: write '{number} {dimension.unit}', "
            f"or another unit as in '{EXAMPLES[dimension][1]}'."
        )
    if dimension is Dimension.SHARE and (read_number(number) > 1 or (number.isdecimal() and int(number))):
        raise QuantityError(f"'{number}' may be a ratio or per cent. Write '{number} %', or a ratio such as '0.65'.")
    return ""
