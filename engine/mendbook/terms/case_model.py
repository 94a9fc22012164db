"""The case model with every fact that the vocabulary says a person writes."""

from collections.abc import Iterable
from functools import lru_cache
from types import GenericAlias
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, create_model

from mendbook.terms.case import UNKNOWN, Case, Found, Injury, Section, Service, Tyre, Workshop, attribute
from mendbook.terms.quantity import (
    Angle,
    Area,
    Count,
    Duration,
    Hardness,
    Length,
    Pressure,
    Quantity,
    Share,
    Speed,
    Temperature,
)
from mendbook.terms.vocabulary import Fact, Vocabulary

_TYPES: dict[str, Any] = {
    "mm": Length, "bar": Pressure, "°C": Temperature, "h": Duration, "km/h": Speed, "%": Share, "deg": Angle,
    "cm2": Area, "Shore A": Hardness,
}  # fmt: skip


def _in_range(fact: Fact) -> AfterValidator:
    scale = 100.0 if fact.unit == "%" else 1.0

    def check(quantity: Quantity) -> Quantity:
        for number in (quantity.value, quantity.low, quantity.high):
            if number is not None and not fact.low <= number * scale <= fact.high:
                raise ValueError(
                    f"{number * scale:g} {fact.unit} is not possible for '{fact.name}', which runs from "
                    f"{fact.low:g} to {fact.high:g} {fact.unit}. Check the figure and its unit."
                )
        return quantity

    return AfterValidator(check)


def _field(fact: Fact) -> tuple[Any, Any]:
    said = f"{fact.means}. {fact.measure}".strip()
    if fact.is_listed:
        kind: Any = Literal[(*fact.values, UNKNOWN)]
    else:
        kind = Annotated[_TYPES.get(fact.unit, Count), _in_range(fact)]
    return kind | None, Field(default=None, alias=fact.name, description=said)


def _extended(base: type[Section], facts: Iterable[Fact]) -> type[Section]:
    fields: dict[str, Any] = {attribute(f.name): _field(f) for f in facts}
    return create_model(base.__name__, __base__=base, __doc__=base.__doc__, **fields)


@lru_cache(maxsize=4)
def case_model(vocabulary: Vocabulary) -> type[Case]:
    """Return the case model with every fact that the vocabulary says a person writes."""
    sections: dict[str, type[Section]] = {
        "tyre": Tyre,
        "found": Found,
        "service": Service,
        "workshop": Workshop,
    }
    given = vocabulary.given()
    made = {name: _extended(base, [f for f in given if f.section == name]) for name, base in sections.items()}
    injury = _extended(Injury, [f for f in given if f.section == "injuries"])
    fields: dict[str, Any] = {
        name: (model, Field(default_factory=model, description=model.__doc__)) for name, model in made.items()
    }
    fields["injuries"] = (GenericAlias(tuple, (injury, ...)), Field((), description="one entry for each injury"))
    return create_model("Case", __base__=Case, __doc__=Case.__doc__, **fields)
