"""What a column of a yard may hold: every line of a case file, with its kind, its unit and its meaning."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import lru_cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from mendbook.terms.case import UNKNOWN
from mendbook.terms.case_model import case_model
from mendbook.terms.units import Dimension, UnitError, find_unit, shares_kind
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.overrules import BY, ON, OVERRULE, OVERRULES, RULE, WHY

TAG, NAME = "tag", "name"
TREAD_DEPTHS = "tyre.tread depths"  # the one field that several columns may feed
EARLIER_REPAIRS = "earlier repairs"
_TYRE_SECTIONS = ("tyre", "found", "service", "workshop")
_LEFT_OUT = ("tag", "note")
_CODES = ("date code", "retread date code")


class Kind(StrEnum):
    """How a cell is read."""

    MEASURE = "measure"
    LISTED = "one of a list"
    DATE = "date"
    CODE = "date code"
    TEXT = "text"


@dataclass(frozen=True)
class Field:
    """One field: the `column` it has in the frames of a yard, and how it is written.

    `unit` is the one its numbers are kept in, where it is a measure; a bare number is none. `takes_unknown` tells
    whether 'unknown' may be written.
    """

    column: str
    section: str
    kind: Kind
    means: str = ""
    measure: str = ""
    dimension: Dimension | None = None
    unit: str = ""
    values: tuple[str, ...] = ()
    synonyms: tuple[str, ...] = ()
    takes_unknown: bool = True

    @property
    def name(self) -> str:
        """The field without its section, as a case file calls it."""
        return self.column.removeprefix(f"{self.section}.")

    def refuses(self, unit: str) -> str:
        """Return why bare numbers of this field cannot be in `unit`; nothing when they can."""
        if self.dimension is None:
            return f"'{self.column}' takes no unit."
        try:
            _, dimension = find_unit(unit)
        except UnitError as problem:
            return str(problem)
        if not shares_kind(dimension, self.dimension):
            return f"'{unit}' is a unit of {dimension}, and '{self.column}' is a {self.dimension}."
        return ""

    @property
    def is_injury(self) -> bool:
        """True when it is about one injury, False when it is about the tyre."""
        return self.section == "injuries"


_OVERRULE = (
    (RULE, Kind.TEXT, "id of a rule whose house reject a person overrules, for this injury or the tyre"),
    (BY, Kind.TEXT, "who overrules it: a person's name"),
    (ON, Kind.DATE, "the day on which it was overruled"),
    (WHY, Kind.TEXT, "the reason, in a sentence"),
    (OVERRULES, Kind.TEXT, "the entries of a whole case, as JSON"),
)


@lru_cache(maxsize=4)
def fields(vocabulary: Vocabulary) -> Mapping[str, Field]:
    """Return every field that a sheet may have, by column: the tyre's first, then those of an injury."""
    return {field.column: field for field in _all(vocabulary)}


def _all(vocabulary: Vocabulary) -> Iterator[Field]:
    model = case_model(vocabulary)
    yield Field(
        TAG, "", Kind.TEXT, "your own number for this tyre; rows with the same one are one tyre", takes_unknown=False
    )
    yield _field("judged on", "", model.model_fields["judged_on"], vocabulary)
    yield Field(
        EARLIER_REPAIRS, "", Kind.LISTED, "none, or not mapped; one that is on a map takes a case file",
        values=("none", "not mapped"),
    )  # fmt: skip
    for column, kind, means in _OVERRULE:
        yield Field(column, OVERRULE, kind, means, takes_unknown=False)
    for section in (*_TYRE_SECTIONS, "injuries"):
        for name, info in _model_of(model, section).model_fields.items():
            alias = info.alias or name
            if alias not in _LEFT_OUT:
                yield _field(alias, section, info, vocabulary)


def _model_of(model: type[BaseModel], section: str) -> type[BaseModel]:
    annotation: Any = model.model_fields[section].annotation
    found: type[BaseModel] = get_args(annotation)[0] if section == "injuries" else annotation
    return found


def _field(alias: str, section: str, info: FieldInfo, vocabulary: Vocabulary) -> Field:
    column = alias if section in ("", "injuries") else f"{section}.{alias}"
    fact = vocabulary[alias] if alias in vocabulary and vocabulary[alias].section == section else None
    parts = list(_parts(info.annotation)) + list(info.metadata)
    dimension = next((p.dimension for p in parts if isinstance(getattr(p, "dimension", None), Dimension)), None)
    values = tuple(value for part in parts if get_origin(part) is Literal for value in get_args(part))
    if date in parts:
        kind = Kind.DATE
    elif alias in _CODES:
        kind = Kind.CODE
    elif dimension is not None:
        kind = Kind.MEASURE
    else:
        kind = Kind.LISTED if values else Kind.TEXT
    unit = "" if dimension is None else dimension.unit
    if fact is not None and not fact.is_listed and dimension is not Dimension.COUNT:
        unit = fact.unit
    return Field(
        column,
        section,
        kind,
        fact.means if fact else (info.description or ""),
        fact.measure if fact else "",
        dimension,
        unit,
        tuple(value for value in values if value != UNKNOWN),
        fact.synonyms if fact else (),
        takes_unknown=dimension is not None or UNKNOWN in values or kind is Kind.CODE or alias in _READ_AS_UNKNOWN,
    )


_READ_AS_UNKNOWN = ("designation", "load index", "star rating", "ply rating", "tread code", "tkph rating")


def _parts(annotation: Any) -> Iterator[Any]:
    """Yield `annotation` and everything inside it: types, and what is said of them."""
    yield annotation
    if get_origin(annotation) is Literal:
        return
    for part in get_args(annotation):
        yield from _parts(part)
