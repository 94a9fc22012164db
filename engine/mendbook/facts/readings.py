"""What a case says, as three readings of every measure and the values still possible of every listed fact."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from mendbook.terms.case import UNKNOWN, Section
from mendbook.terms.quantity import Quantity
from mendbook.terms.vocabulary import Fact, Vocabulary, Worse

GOOD, READ, BAD = 0, 1, 2
Triple = tuple[float | None, float | None, float | None]


@dataclass(frozen=True)
class Reading:
    """Everything known about one subject, the tyre or an injury.

    `measures` holds (good end, as read, bad end); what is unknown is read at its bad end. `listed` holds the
    values still possible, from good to bad where the list has an order. `uncertain` names the facts of which
    another look could tell more; `assumed` those that the case leaves out and the vocabulary fills in.
    """

    measures: Mapping[str, Triple]
    listed: Mapping[str, tuple[str, ...]]
    uncertain: tuple[str, ...] = ()
    assumed: Mapping[str, str] = field(default_factory=dict)
    missing: frozenset[str] = frozenset()

    def alternatives(self, vocabulary: Vocabulary) -> dict[str, tuple[str, ...]]:
        """Return the unordered listed facts of which more than one value is still possible."""
        return {n: v for n, v in self.listed.items() if len(v) > 1 and vocabulary[n].worse is Worse.NEITHER}


@dataclass(frozen=True)
class Readings:
    """A whole case, read."""

    tyre: Reading
    injuries: tuple[Reading, ...]
    names: tuple[str, ...]
    uses: tuple[str, ...]


@dataclass
class Draft:
    """A reading being put together."""

    measures: dict[str, Triple]
    listed: dict[str, tuple[str, ...]]
    uncertain: dict[str, None]
    assumed: dict[str, str]
    missing: frozenset[str]

    def settle(self, name: str, *values: str) -> None:
        """Set the values still possible of a listed fact."""
        self.listed[name] = values
        if len(values) > 1:
            self.uncertain[name] = None
        else:
            self.uncertain.pop(name, None)

    def put(self, name: str, number: float | None) -> None:
        """Set a number that no reading error touches."""
        self.measures[name] = (number, number, number)

    def put_or_leave_open(self, fact: Fact, number: float | None) -> None:
        """Set a number that no reading error touches, or leave open every value that `fact` can have."""
        if number is None:
            self.measures[fact.name] = _unknown(fact)
        else:
            self.put(fact.name, number)

    def finish(self) -> Reading:
        """Return the reading."""
        return Reading(self.measures, self.listed, tuple(self.uncertain), self.assumed, self.missing)


def read_facts(facts: Iterable[Fact], section_of: Callable[[Fact], Section]) -> Draft:
    """Read every fact of `facts` from the section that `section_of` gives."""
    measures: dict[str, Triple] = {}
    listed: dict[str, tuple[str, ...]] = {}
    uncertain: list[str] = []
    assumed: dict[str, str] = {}
    missing: set[str] = set()
    for fact in facts:
        section = section_of(fact)
        written = section.written(fact.name)
        if written is None:
            missing.add(fact.name)
            if fact.missing is not None and not fact.is_look:
                assumed[fact.name] = f"{fact.missing} {fact.unit}".strip()
        if fact.is_listed:
            listed[fact.name] = values = _possible(fact, written)
            if len(values) > 1:
                uncertain.append(fact.name)
        else:
            measures[fact.name] = triple = _triple(fact, written, section)
            if triple[GOOD] != triple[BAD]:
                uncertain.append(fact.name)
    return Draft(measures, listed, dict.fromkeys(uncertain), assumed, frozenset(missing))


def _possible(fact: Fact, written: Quantity | str | None) -> tuple[str, ...]:
    # A look of which nobody knows how it came out is not done.
    is_unwritten = written is None or (fact.is_look and written == UNKNOWN)
    if is_unwritten and fact.missing is not None:
        return (fact.missing,)
    if written is None or written == UNKNOWN:
        return fact.values
    return (str(written),)


def _triple(fact: Fact, written: Quantity | str | None, section: Section) -> Triple:
    scale = 100.0 if fact.unit == "%" else 1.0
    if not isinstance(written, Quantity):
        if fact.missing is not None:
            number = float(fact.missing)
            return number, number, number
        return _unknown(fact)
    if written.is_unknown:
        return _unknown(fact)
    if written.low is not None and written.high is not None:
        good, bad = fact.ends(written.low * scale, written.high * scale)
        return good, bad if written.value is None else written.value * scale, bad
    value = (written.value or 0.0) * scale
    error = reading_error(fact, value, section)
    low, high = max(fact.low, value - error), min(fact.high, value + error)
    good, bad = fact.ends(low, high)
    return (value, value, value) if fact.worse is Worse.NEITHER else (good, value, bad)


def _unknown(fact: Fact) -> Triple:
    if fact.worse is Worse.NEITHER:
        return None, None, None
    good, bad = fact.ends(fact.low, fact.high)
    return good, bad, bad


def reading_error(fact: Fact, value: float, section: Section) -> float:
    """Return the reading error (~95 %) of `value` [the unit of `fact`]."""
    for other, answer, error in fact.error_if:
        if section.written(other) == answer:
            return error
    return max(fact.error, abs(value) * fact.error_share)
