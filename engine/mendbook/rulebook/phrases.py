"""From a phrase of the trade ("up to 25 mm", "at least C3") to a bound, and back to words."""

import re
from collections.abc import Iterable

from mendbook.rulebook.tree import Bound, Op
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Fact, Worse

_PHRASE = re.compile(r"^(up to|below|at least|over) (.+)$")
_NUMBER = re.compile(r"^(-?\d+(?:\.\d+)?)(?: (\S.*))?$")
_LIST = re.compile(r"^any of \[(.+)\]$")

GOOD_SIDE = {Worse.BIGGER: (Op.UP_TO, Op.BELOW), Worse.SMALLER: (Op.AT_LEAST, Op.OVER)}
BAD_SIDE = {Worse.BIGGER: (Op.OVER, Op.AT_LEAST), Worse.SMALLER: (Op.BELOW, Op.UP_TO)}


class PhraseError(ValueError):
    """A phrase that cannot be read: `what` is wrong and what to write `instead`."""

    def __init__(self, what: str, instead: str = "") -> None:
        super().__init__(what)
        self.what, self.instead = what, instead


def read_bounds(fact: Fact, written: object) -> tuple[Bound, ...]:
    """Read what a rule writes beside `fact`: a phrase, a value, a list of values, or two phrases with "and".

    Raises PhraseError with what to write instead.
    """
    if isinstance(written, list):
        return (_listed(fact, [str(v) for v in written], f"any of [{', '.join(map(str, written))}]"),)
    if not isinstance(written, str):
        raise PhraseError(f"'{fact.name}' needs a phrase, not a map")
    text = " ".join(written.split())
    if fact.is_listed:
        return (_listed_phrase(fact, text),)
    return tuple(_measured(fact, part) for part in text.split(" and "))


def read_number(fact: Fact, text: str) -> float:
    """Read `25 mm` for a fact measured in mm. Raises PhraseError when number or unit is wrong."""
    match = _NUMBER.match(text)
    if match is None:
        raise PhraseError(f"'{text}' is not a number with its unit", f"Write for example '25 {fact.unit}'.")
    number, unit = float(match[1]), match[2] or ""
    if unit != fact.unit and not (number == 0 and not unit):
        said = unit or "no unit"
        raise PhraseError(
            f"{fact.name} is measured in {fact.unit or 'plain numbers'}, not {said}",
            f"Write '{match[1]} {fact.unit}'.",
        )
    if not fact.low <= number <= fact.high:
        raise PhraseError(
            f"{fact.name} runs from {fact.low:g} to {fact.high:g} {fact.unit}; {number:g} is outside",
            "Correct the number, or the range in the vocabulary.",
        )
    return number


def _measured(fact: Fact, text: str) -> Bound:
    match = _PHRASE.match(text)
    if match is None:
        raise PhraseError(
            f"cannot read '{fact.name}: {text}'",
            f"Write 'up to', 'below', 'at least' or 'over' and a number in {fact.unit or 'plain figures'}.",
        )
    return Bound(fact.name, Op(match[1]), read_number(fact, match[2]), text=text)


def _listed_phrase(fact: Fact, text: str) -> Bound:
    if match := _LIST.match(text):
        return _listed(fact, [part.strip() for part in match[1].split(",")], text)
    match = _PHRASE.match(text)
    if match is None or text in fact.values:
        return _listed(fact, [text], text)
    if fact.worse is not Worse.LATER:
        raise PhraseError(f"the values of '{fact.name}' have no order", "Name the values you mean: [a, b].")
    place = fact.rank(known_value(fact, match[2]))
    chosen = {
        "up to": fact.values[: place + 1], "below": fact.values[:place],
        "at least": fact.values[place:], "over": fact.values[place + 1 :],
    }[match[1]]  # fmt: skip
    if not chosen:
        raise PhraseError(f"no value of '{fact.name}' is {text}", f"Its values run: {', '.join(fact.values)}.")
    return _among(fact, chosen, text)


def _listed(fact: Fact, values: list[str], text: str) -> Bound:
    if not fact.is_listed:
        raise PhraseError(f"'{fact.name}' is a measure; a list of values does not fit it")
    if not values:
        raise PhraseError(f"'{fact.name}' has an empty list", f"Write some of: {', '.join(fact.values)}.")
    chosen = tuple(known_value(fact, value) for value in values)
    for value in chosen:
        if chosen.count(value) > 1:
            raise PhraseError(f"'{value}' stands twice in the list of '{fact.name}'", "Keep one of the two.")
    return _among(fact, chosen, text)


def _among(fact: Fact, chosen: tuple[str, ...], text: str) -> Bound:
    rest = tuple(value for value in fact.values if value not in chosen)
    return Bound(fact.name, Op.IN, values=chosen, others=rest, text=text)


def known_value(fact: Fact, value: str) -> str:
    """Return `value` when `fact` has it. Raises PhraseError with the nearest one."""
    if value in fact.values:
        return value
    near = suggest(value, fact.values)
    hint = f"Did you mean '{near}'?" if near else f"Write one of: {', '.join(fact.values)}."
    raise PhraseError(f"'{fact.name}' cannot be '{value}'", hint)


def is_on_good_side(fact: Fact, bound: Bound) -> bool:
    """Return whether `bound` limits `fact` on its good side only, as a chart line must."""
    if bound.op is Op.IN:
        return fact.worse is not Worse.LATER or set(bound.values) == set(fact.values[: len(bound.values)])
    return bound.op in GOOD_SIDE.get(fact.worse, ())


def is_on_bad_side(fact: Fact, bound: Bound) -> bool:
    """Return whether `bound` limits `fact` on its bad side only, as a `when` must."""
    if bound.op is Op.IN:
        worst = fact.values[len(fact.values) - len(bound.values) :]
        return fact.worse is not Worse.LATER or set(bound.values) == set(worst)
    return bound.op in BAD_SIDE.get(fact.worse, ())


def spell_bounds(bounds: Iterable[Bound]) -> str:
    """Return the bounds as words for `<limit>`: "length up to 60 mm and width up to 150 mm"."""
    return " and ".join(f"{b.fact} {b.text or b.op.value}" for b in bounds)
