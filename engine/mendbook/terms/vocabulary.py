"""The vocabulary: every fact a rule may name, with its unit, its range and the direction in which it is worse."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Worse(StrEnum):
    """The direction in which a fact is worse."""

    BIGGER = "bigger"
    SMALLER = "smaller"
    LATER = "later"  # a list written from good to bad
    NEITHER = "neither"


class Subject(StrEnum):
    """What a fact is about: the whole tyre or one injury."""

    TYRE = "tyre"
    INJURY = "injury"


@dataclass(frozen=True)
class Fact:
    """One fact of the trade.

    A *measure* has a unit and a range; a *listed* fact has values. A fact with a `section` is written in a case
    file under that heading; one without is derived. `error` is the reading error of a measure (~95 %) in its
    unit, `error_share` the same as a share of the reading; `error_if` gives another error for each value of
    a listed fact (skived or not). `missing` is what stands in when the case file says nothing: one value, or
    None, which means every value of the range or list is still possible. `group` names what a guided inspection
    asks for it with; `follows` is where a person writes what a derived fact is read from: a section and a field.
    `file` and `at` (a line) are where it is described.
    """

    name: str
    means: str
    subject: Subject
    worse: Worse
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    values: tuple[str, ...] = ()
    section: str = ""
    error: float = 0.0
    error_share: float = 0.0
    error_if: tuple[tuple[str, str, float], ...] = ()
    missing: str | None = None
    measure: str = ""
    changeable: bool = False
    synonyms: tuple[str, ...] = ()
    stage: str = ""
    group: str = ""
    decimals: int = 0
    file: str = field(default="", compare=False)
    at: int = field(default=1, compare=False)
    follows: tuple[str, ...] = ()

    @property
    def is_listed(self) -> bool:
        """True for a fact with a list of values, False for a measure."""
        return bool(self.values)

    @property
    def is_given(self) -> bool:
        """True when a person writes it in a case file, False when the machine derives it."""
        return bool(self.section)

    @property
    def is_look(self) -> bool:
        """True for a look or a decision: not done until somebody writes it, and then it may turn out either way."""
        return self.worse is Worse.LATER and self.missing in self.values[1:-1]

    def ends(self, low: float, high: float) -> tuple[float, float]:
        """Return `low, high` as (good end, bad end) in the direction of this fact."""
        return (high, low) if self.worse is Worse.SMALLER else (low, high)

    def rank(self, value: str) -> int:
        """Return the place of `value` in the list, from good to bad."""
        return self.values.index(value)


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """All facts by name, and the synonyms that the checker answers with the one right word."""

    facts: Mapping[str, Fact]
    synonyms: Mapping[str, str]

    def __iter__(self) -> Iterator[Fact]:
        return iter(self.facts.values())

    def __contains__(self, name: str) -> bool:
        return name in self.facts

    def __getitem__(self, name: str) -> Fact:
        return self.facts[name]

    def only(self, names: Collection[str]) -> "Vocabulary":
        """Return the vocabulary of the facts called `names` alone."""
        return Vocabulary({name: fact for name, fact in self.facts.items() if name in names}, self.synonyms)

    def given(self, subject: Subject | None = None) -> tuple[Fact, ...]:
        """Facts that a case file may hold, of one subject or of both."""
        return tuple(f for f in self if f.is_given and subject in (None, f.subject))
