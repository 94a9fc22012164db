"""What a person writes for a measure: '48 mm', '1 7/8 in', '48 ± 2 mm', '45 to 60 mm', 'unknown'.

Every quantity is kept in one unit of our own per dimension: length mm, distance km, pressure bar (gauge),
temperature °C, angle deg, duration h, speed km/h, mass kg, area cm2, power W, force N, hardness Shore A;
a share is a number where 1 is the whole; money has no unit, for the case names its currency. The text is kept as
written and is what is written back.
"""

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from mendbook.terms.hint import EXAMPLES, UNKNOWN, a, what_to_write, why_unclear
from mendbook.terms.number import NumberError
from mendbook.terms.reading import QuantityError, read_ends
from mendbook.terms.units import Dimension, UnitError

__all__ = [
    "Angle",
    "Area",
    "Count",
    "Depth",
    "Dimension",
    "Distance",
    "Duration",
    "Hardness",
    "Length",
    "Mass",
    "Money",
    "Pressure",
    "Quantity",
    "QuantityError",
    "Share",
    "Speed",
    "Temperature",
    "format_quantity",
    "read_quantity",
]

LONGEST = 100  # characters; no honest reading is longer


@dataclass(frozen=True)
class Quantity:
    """One reading in our own unit of its dimension.

    A plain reading has only `value`; one with a tolerance has `low` and `high` too; a range has only `low`
    and `high`; an unknown one has none of the three. Two spellings of the same reading are equal.
    """

    dimension: Dimension
    value: float | None = None
    low: float | None = None
    high: float | None = None
    text: str = field(default=UNKNOWN, compare=False)

    @classmethod
    def of(cls, value: float, dimension: Dimension) -> "Quantity":
        """Return the plain reading `value` [our own unit of `dimension`], with its text."""
        return cls(dimension, value=value, text=format_quantity(value, dimension))

    @property
    def is_unknown(self) -> bool:
        """True when nothing was measured."""
        return self.value is None and self.low is None

    @property
    def bounds(self) -> tuple[float, float] | None:
        """The least and the greatest it may be as written; None when unknown."""
        if self.low is not None and self.high is not None:
            return self.low, self.high
        return None if self.value is None else (self.value, self.value)

    def __str__(self) -> str:
        return self.text


def read_quantity(text: str, dimension: Dimension) -> Quantity:
    """Return the quantity that `text` states, in our own unit of `dimension`.

    Raises QuantityError when the text has no unit, a unit of another kind, a number that may mean two things,
    or no sense at all.
    """
    if len(text) > LONGEST:
        raise QuantityError(f"'{text[:20]}...' is far too long for a reading. {what_to_write(dimension)}")
    plain = " ".join(text.replace("−", "-").split())
    if not plain:
        raise QuantityError(f"nothing is written here. {what_to_write(dimension)} Or write '{UNKNOWN}'.")
    if plain.casefold() == UNKNOWN:
        return Quantity(dimension, text=text)
    try:
        value, low, high = read_ends(plain, dimension)
    except NumberError as problem:
        raise QuantityError(f"'{plain}': {problem}") from None
    except UnitError as problem:
        raise QuantityError(f"'{plain}': {problem} {what_to_write(dimension)}") from None
    return Quantity(dimension, _rounded(value), _rounded(low), _rounded(high), text)


def format_quantity(value: float | None, dimension: Dimension, decimals: int | None = None) -> str:
    """Return `value` [our own unit of `dimension`] as people write it: '48 mm', '2.2 bar', '65 %', '3'.

    `decimals` rounds what is printed; without it the text reads back to the very same number. None is
    'unknown'.
    Raises QuantityError when `value` is not finite.
    """
    if value is None:
        return UNKNOWN
    if not isfinite(value):
        raise QuantityError(f"{value} is not a {dimension} that can be written.")
    number = Decimal(repr(float(value))) * (100 if dimension is Dimension.SHARE else 1)
    if decimals is not None:
        written = f"{number:.{decimals}f}"
    else:
        written = f"{number:f}"
        written = written.rstrip("0").rstrip(".") if "." in written else written
    if not written.strip("-0."):
        written = written.lstrip("-")
    return f"{written} {dimension.unit}".rstrip()


def _rounded(exact: Fraction | None) -> float | None:
    return None if exact is None else float(exact)


@dataclass(frozen=True)
class _Field:
    """Makes a quantity of one dimension a field of a pydantic model: text in, Quantity inside, text out."""

    dimension: Dimension

    def read(self, written: object) -> Quantity:
        if isinstance(written, Quantity) and written.dimension is self.dimension:
            return written
        if self.dimension.is_bare and isinstance(written, int | float) and not isinstance(written, bool):
            if not isfinite(written):
                raise QuantityError(why_unclear(str(written), self.dimension))
            return read_quantity(f"{Decimal(repr(written)):f}", self.dimension)
        if not isinstance(written, str):
            raise QuantityError(f"{written!r:.60} is not {a(self.dimension)}. {what_to_write(self.dimension)}")
        return read_quantity(written, self.dimension)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        text = core_schema.to_string_ser_schema()
        return core_schema.no_info_plain_validator_function(self.read, serialization=text)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        own = f"; kept in {self.dimension.unit}" if self.dimension.unit else ""
        plain, other = EXAMPLES[self.dimension]
        described = f"{a(self.dimension)}: a reading, one with its error (±), a range (to), or unknown{own}"
        return {
            "type": ["string", "number"] if self.dimension.is_bare else "string",
            "description": described,
            "examples": [plain, other, UNKNOWN],
        }


Length = Annotated[Quantity, _Field(Dimension.LENGTH)]
Depth = Length
Distance = Annotated[Quantity, _Field(Dimension.DISTANCE)]
Pressure = Annotated[Quantity, _Field(Dimension.PRESSURE)]
Temperature = Annotated[Quantity, _Field(Dimension.TEMPERATURE)]
Angle = Annotated[Quantity, _Field(Dimension.ANGLE)]
Duration = Annotated[Quantity, _Field(Dimension.DURATION)]
Speed = Annotated[Quantity, _Field(Dimension.SPEED)]
Mass = Annotated[Quantity, _Field(Dimension.MASS)]
Area = Annotated[Quantity, _Field(Dimension.AREA)]
Share = Annotated[Quantity, _Field(Dimension.SHARE)]
Hardness = Annotated[Quantity, _Field(Dimension.HARDNESS)]
Count = Annotated[Quantity, _Field(Dimension.COUNT)]
Money = Annotated[Quantity, _Field(Dimension.MONEY)]
