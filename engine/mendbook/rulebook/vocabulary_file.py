"""Read knowledge/vocabulary: every fact with unit, range, direction, reading error and how to measure it."""

import re
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TypeVar, cast

from mendbook.rulebook.addition import check_addition
from mendbook.rulebook.errors import RulebookError, refuse, refuse_unknown_keys
from mendbook.rulebook.files import Written
from mendbook.terms.document import Document
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary, Worse

FACT_NEEDED = ("means", "about", "worse when")
FACT_KEYS = (
    *FACT_NEEDED, "unit", "range", "values", "written in", "reading error", "reading error share",
    "reading error if", "when missing", "measure", "changeable", "synonyms", "stage", "asked with", "decimals",
    "follows from",
)  # fmt: skip
_Kind = TypeVar("_Kind", Subject, Worse)
Path = tuple[str | int, ...]
_FIGURE = re.compile(r"-?\d+(?:\.\d+)?")
_RANGE = re.compile(r"^(-?\d+(?:\.\d+)?) to (-?\d+(?:\.\d+)?)$")


def read_vocabulary(files: Iterable[Written], beneath: Vocabulary | None = None) -> Vocabulary:
    """Return the facts of all `files`, in addition to those `beneath`.

    Raises RulebookError with file and line.
    """
    facts: dict[str, Fact] = {}
    for file in files:
        document = file.parse()
        for name, entry in _entries(document).items():
            if name in facts:
                raise refuse(document, ("facts", name), f"the fact '{name}' is described twice")
            facts[name] = fact = _fact(document, name, entry)
            if beneath is not None:
                check_addition(document, ("facts", name), fact, beneath)
    together = facts if beneath is None else {**beneath.facts, **facts}
    for fact in facts.values():
        _errors_hang_on_values(fact, together)
    synonyms = {synonym: fact.name for fact in together.values() for synonym in fact.synonyms}
    return Vocabulary(MappingProxyType(together), MappingProxyType(synonyms))


def _errors_hang_on_values(fact: Fact, facts: Mapping[str, Fact]) -> None:
    """Refuse a reading error that hangs on a fact or a value that there is not."""
    for name, value, _ in fact.error_if:
        if name not in facts or value not in facts[name].values:
            what = f"'{name}' cannot be '{value}'" if name in facts else f"no fact is called '{name}'"
            known = facts[name].values if name in facts else tuple(facts)
            near = suggest(value if name in facts else name, known)
            hint = f"Did you mean '{near}'?" if near else "Name a listed fact and one of its values."
            raise RulebookError(f"{fact.file}:{fact.at}: the reading error of '{fact.name}': {what}\n  {hint}")


def _entries(document: Document) -> Mapping[str, Mapping[str, object]]:
    facts = document.tree.get("facts")
    if not isinstance(facts, dict) or set(document.tree) != {"facts"}:
        raise refuse(document, (), "a vocabulary file holds 'facts:' and nothing else")
    for name, entry in facts.items():
        if not isinstance(entry, dict):
            raise refuse(document, ("facts", name), f"the fact '{name}' is described by 'key: value' lines")
    return cast("Mapping[str, Mapping[str, object]]", facts)


def _fact(document: Document, name: str, entry: Mapping[str, object]) -> Fact:
    path = ("facts", name)
    refuse_unknown_keys(document, path, entry, FACT_KEYS, "a fact")
    for key in FACT_NEEDED:
        if key not in entry:
            raise refuse(document, path, f"'{name}' does not say '{key}'", f"Add the line '{key}: ...'.")
    if ("values" in entry) == ("range" in entry):
        raise refuse(document, path, f"'{name}' needs either 'values' or 'range'")

    def text(key: str) -> str:
        return str(entry.get(key, ""))

    def texts(key: str) -> tuple[str, ...]:
        return _texts(document, (*path, key), entry[key]) if key in entry else ()

    def number(key: str, unit: str) -> float:
        return _number(document, (*path, key), text(key), unit)

    low, high = _range(document, (*path, "range"), text("range")) if "range" in entry else (0.0, 0.0)
    fact = Fact(
        name=name,
        means=text("means"),
        subject=_member(document, (*path, "about"), Subject, text("about")),
        worse=_member(document, (*path, "worse when"), Worse, text("worse when")),
        unit=text("unit"),
        low=low,
        high=high,
        values=texts("values"),
        section=text("written in"),
        error=number("reading error", text("unit")),
        error_share=number("reading error share", "%") / 100.0,
        error_if=_error_if(document, (*path, "reading error if"), entry.get("reading error if"), text("unit")),
        missing=text("when missing") if entry.get("when missing", "unknown") != "unknown" else None,
        measure=text("measure"),
        changeable=_is_yes(document, (*path, "changeable"), text("changeable") or "no"),
        synonyms=texts("synonyms"),
        stage=text("stage"),
        group=text("asked with"),
        decimals=_decimals(document, (*path, "decimals"), text("decimals") or "0"),
        file=document.name,
        at=document.line(path),
        follows=_follows(document, (*path, "follows from"), text("follows from")),
    )
    _fits_together(document, path, fact)
    return fact


def _fits_together(document: Document, path: Path, fact: Fact) -> None:
    """Refuse a direction or a stand-in that a list, or a measure, cannot have."""
    directions = (Worse.LATER, Worse.NEITHER) if fact.is_listed else (Worse.BIGGER, Worse.SMALLER, Worse.NEITHER)
    if fact.worse not in directions:
        kind = "a list" if fact.is_listed else "a measure"
        raise refuse(
            document, (*path, "worse when"), f"{kind} is not worse when {fact.worse}",
            f"Write one of {', '.join(directions)}.",
        )  # fmt: skip
    if fact.is_given and fact.follows:
        raise refuse(
            document, (*path, "written in"), f"'{fact.name}' is written in the case itself",
            "Keep one of 'written in' and 'follows from'.",
        )  # fmt: skip
    if fact.missing is None:
        return
    path = (*path, "when missing")
    if fact.is_listed and fact.missing not in fact.values:
        raise refuse(
            document, path, f"'{fact.name}' cannot be '{fact.missing}'",
            f"Write one of: {', '.join(fact.values)}, unknown.",
        )  # fmt: skip
    if not fact.is_listed and not fact.low <= _number(document, path, fact.missing or "nothing", "") <= fact.high:
        raise refuse(
            document, path, f"{fact.missing} is outside the range of '{fact.name}'", "Write 'unknown' instead."
        )


def _decimals(document: Document, path: Path, text: str) -> int:
    if text not in tuple("0123456"):
        raise refuse(document, path, f"cannot read '{text}'", "Write how many decimals, from 0 to 6.")
    return int(text)


def _is_yes(document: Document, path: Path, text: str) -> bool:
    if text not in ("yes", "no"):
        raise refuse(document, path, f"'{text}' is neither yes nor no", "Write 'yes' or 'no'.")
    return text == "yes"


def _follows(document: Document, path: Path, text: str) -> tuple[str, ...]:
    parts = tuple(part.strip() for part in text.split(",")) if text else ()
    if len(parts) > 2 or not all(parts):
        instead = "Write where it is written: 'section, field', or a field of the case itself."
        raise refuse(document, path, f"cannot read '{text}'", instead)
    return parts


def _texts(document: Document, path: Path, value: object) -> tuple[str, ...]:
    if not isinstance(value, list) or not value:
        raise refuse(document, path, "this is no list", "Write [a, b].")
    return tuple(str(v) for v in value)


def _range(document: Document, path: Path, text: str) -> tuple[float, float]:
    match = _RANGE.match(text)
    if match is None or float(match[1]) >= float(match[2]):
        raise refuse(document, path, f"cannot read the range '{text}'", "Write for example '0 to 600'.")
    return float(match[1]), float(match[2])


def _number(document: Document, path: Path, text: str, unit: str) -> float:
    if not text:
        return 0.0
    figure = text.removesuffix(unit).strip() if unit else text
    if not _FIGURE.fullmatch(figure):
        raise refuse(document, path, f"cannot read '{text}'", f"Write a number in {unit or 'plain figures'}.")
    return float(figure)


def _error_if(document: Document, path: Path, entry: object, unit: str) -> tuple[tuple[str, str, float], ...]:
    if entry is None:
        return ()
    if not isinstance(entry, dict) or not all(isinstance(errors, dict) for errors in entry.values()):
        raise refuse(document, path, "this names no fact with its errors", "Write '{fact: {value: error}}'.")
    return tuple(
        (fact, value, _number(document, (*path, fact, value), str(error), unit))
        for fact, errors in entry.items()
        for value, error in errors.items()
    )


def _member(document: Document, path: Path, kind: type[_Kind], text: str) -> _Kind:
    try:
        return kind(text)
    except ValueError:
        known = ", ".join(member.value for member in kind)
        raise refuse(document, path, f"'{text}' is not one of {known}") from None
