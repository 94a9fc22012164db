"""A heading as people write it: its words, the unit in it, and the fields it may mean."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from mendbook.terms.units import UnitError, find_unit, shares_kind
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.sheets.fields import TREAD_DEPTHS, Field, fields
from mendbook.yard.sheets.words import PREFIXES, USUAL

_Key = TypeVar("_Key", str, frozenset[str])

_BRACKET = re.compile(r"[\[({]([^\])}]*)[\])}]")
_SMALL = {"from", "of", "the", "at", "to", "a", "an", "on", "is", "was"}
_NUMBERED = re.compile(r"tread(?: depths?| readings?)? [0-9]{1,2}")  # the one measure taken at several places
_LIST = re.compile(r"\s*(?:[,;|]|/|\bor\b|\band\b)\s*")


@dataclass(frozen=True)
class Heading:
    """A heading taken apart: its folded words without the unit, the units in brackets, and what else is in brackets."""

    words: str
    units: tuple[str, ...]


def take_apart(heading: str) -> Heading:
    """Return `heading` with what stands in brackets told apart: units, and words that belong to the name."""
    units: list[str] = []

    def keep(match: re.Match[str]) -> str:
        inside = match[1].strip()
        found = [inside] if _is_unit(inside) else _LIST.split(inside)
        if inside and all(_is_unit(unit) for unit in found):
            units.extend(found)
            return " "
        return f" {inside} "

    return Heading(fold(_BRACKET.sub(keep, heading)), tuple(dict.fromkeys(units)))


def fold(text: str) -> str:
    """Return `text` in small letters, with single spaces for every mark that people put between words."""
    apart = re.sub(r"(?<=[a-z])(?=[A-Z][a-z])", " ", text)
    return " ".join(re.sub(r"[_\-./:,;#'’?!\"*]+", " ", apart).casefold().split())


def candidates(heading: Heading, vocabulary: Vocabulary) -> tuple[list[Field], str]:
    """Return the fields that `heading` names, and the unit in its words, where one ends them: 'pressure psi'."""
    by_name, by_words = _index(vocabulary)

    def named(words: str) -> tuple[Field, ...]:
        if _NUMBERED.fullmatch(words):
            return (fields(vocabulary)[TREAD_DEPTHS],)
        return by_name.get(words) or by_words.get(_bag(words)) or ()

    if found := named(heading.words):
        return list(found), ""
    words = heading.words.split()
    for count, glue in ((1, ""), (2, "/"), (2, " ")):
        name, unit = " ".join(words[:-count]), glue.join(words[-count:])
        fitting = [field for field in named(name) if _fits(field, unit)] if name else []
        if fitting:
            return fitting, unit
    return [], ""


def alike(heading: Heading, vocabulary: Vocabulary) -> list[str]:
    """Return the columns of which `heading` holds the words, or which hold its words: to offer, never to take."""
    _, by_words = _index(vocabulary)
    own = _bag(heading.words)
    near = {f.column: None for bag, named in by_words.items() if own and (own <= bag or bag <= own) for f in named}
    return list(near)


def _fits(field: Field, unit: str) -> bool:
    try:
        return field.dimension is not None and shares_kind(find_unit(unit)[1], field.dimension)
    except UnitError:
        return False


def _is_unit(text: str) -> bool:
    try:
        find_unit(text)
    except UnitError as problem:
        return "is not clear" in str(problem)
    return True


def _bag(words: str) -> frozenset[str]:
    return frozenset(words.split()) - _SMALL


Index = tuple[Mapping[str, tuple[Field, ...]], Mapping[frozenset[str], tuple[Field, ...]]]


@lru_cache(maxsize=4)
def _index(vocabulary: Vocabulary) -> Index:
    """Return the fields by every name they go by, and by the words of that name in any order.

    What a case file calls a field comes first: a word that is one field's own name is no other's usual word.
    """
    own: dict[str, dict[str, Field]] = defaultdict(dict)
    usual: dict[str, dict[str, Field]] = defaultdict(dict)
    for field in fields(vocabulary).values():
        for name in (field.name, *field.synonyms):
            for called in _called(name, field):
                own[called][field.column] = field
        for name in USUAL.get(field.column, ()):
            usual[fold(name)][field.column] = field
    by_name = {**_settled(usual), **_settled(own)}
    bags: dict[frozenset[str], dict[str, Field]] = defaultdict(dict)
    for name, named in by_name.items():
        bags[_bag(name)].update({field.column: field for field in named})
    return by_name, _settled(bags)


def _called(name: str, field: Field) -> Iterable[str]:
    yield fold(name)
    for prefix in PREFIXES.get(field.section, ()):
        yield fold(f"{prefix} {name}")


def _settled(found: Mapping[_Key, Mapping[str, Field]]) -> dict[_Key, tuple[Field, ...]]:
    return {name: tuple(named.values()) for name, named in found.items()}
