"""A worse case never gets a milder answer: shown of the rules, over all facts within their ranges."""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Protocol

import polars as pl
import z3

from mendbook.proof.expressions import Lowering
from mendbook.proof.functions import OrderedFunctions
from mendbook.proof.speech import Speech
from mendbook.proof.symbols import Finite, Symbol, all_of, any_of, opposite, read_value
from mendbook.proof.unknowns import no_better, unknown
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Outcome, Rule
from mendbook.terms.vocabulary import Worse


@dataclass(frozen=True)
class Milder:
    """A line that speaks of the better of two cases, while of the worse one no rule says as much.

    `differs` names the facts of its rule in which the second case is the worse; `rank` is that of a lost verdict.
    """

    rule: Rule
    line: int
    says: str
    rank: int | None
    differs: tuple[str, ...]


class Pair:
    """Two cases of free facts, the second in no way better, and what the rules say of each.

    Facts that are `held` are the same in both; `definitions` tell what some listed facts follow from.
    """

    def __init__(
        self, book: Rulebook, held: Collection[str] = (), definitions: Mapping[str, pl.Expr] = MappingProxyType({})
    ) -> None:
        self._book = book
        self._first: dict[str, Symbol] = {}
        self._second: dict[str, Symbol] = {}
        self._solver = z3.Solver()
        for fact in book.vocabulary:
            one, within = unknown(fact)
            self._first[fact.name] = self._second[fact.name] = one
            self._solver.add(within)
            if fact.worse is not Worse.NEITHER and fact.name not in held:
                other, within = unknown(fact, "'")
                self._second[fact.name] = other
                self._solver.add(within, no_better(fact.worse, fact.values, one, other))
        for row in (self._first, self._second):
            self._solver.add(*_defined(definitions, row))
        self._better, self._worse = (Speech(book.rules, row, book.verdicts) for row in (self._first, self._second))
        for row, speech in ((self._first, self._better), (self._second, self._worse)):
            self._solver.add(*what_was_said(book, row, speech))

    def find_milder(self) -> Iterator[Milder]:
        """Yield for each verdict, for holds and for stops a line that the worse case loses, where there is one."""
        for rank in range(1, len(self._book.verdicts)):
            lost = (self._better.at_least(rank), opposite(self._worse.at_least(rank)))
            yield from self._ask(lost, self._book.verdicts[rank], rank)
        yield from self._ask((hold_is_lost(self._book, self._better, self._worse),), "hold", None)
        yield from self._ask((self._better.says("stop"), opposite(self._worse.says("stop"))), "stop", None)

    def _ask(self, lost: tuple[z3.BoolRef, ...], says: str, rank: int | None) -> Iterator[Milder]:
        self._solver.push()
        self._solver.add(*lost)
        model = self._solver.model() if self._solver.check() == z3.sat else None
        self._solver.pop()
        if model is not None:
            rule, line = self._find_line(model, lambda outcome: self._is_said(outcome, says, rank))
            yield Milder(rule, line, says, rank, self._differing(model, rule))

    def _is_said(self, outcome: Outcome, says: str, rank: int | None) -> bool:
        if rank is None:
            return says in outcome.words()
        return outcome.verdict is not None and self._book.rank(outcome.verdict) >= rank

    def _find_line(self, model: z3.ModelRef, is_said: Callable[[Outcome], bool]) -> tuple[Rule, int]:
        return next(
            (rule, place)
            for rule in self._book.rules
            for place, guard in enumerate(self._better.lines[rule.id])
            if is_said(rule.lines[place].outcome) and z3.is_true(model.eval(guard, True))
        )

    def _differing(self, model: z3.ModelRef, rule: Rule) -> tuple[str, ...]:
        return tuple(
            name
            for name in sorted(rule.facts())
            if self._first[name] is not self._second[name]
            and read_value(model, self._first[name]) != read_value(model, self._second[name])
        )


class Said(Protocol):
    """What is said of a case."""

    def at_least(self, rank: int) -> z3.BoolRef:
        """Return when the verdict of `rank` or a more severe one is said."""

    def says(self, word: str) -> z3.BoolRef:
        """Return when `word` is said."""


def verdict_is_lost(book: Rulebook, better: Said, worse: Said) -> z3.BoolRef:
    """Return when the worse case has the milder verdict."""
    return any_of(
        all_of((better.at_least(rank), opposite(worse.at_least(rank)))) for rank in range(1, len(book.verdicts))
    )


def hold_is_lost(book: Rulebook, better: Said, worse: Said) -> z3.BoolRef:
    """Return when the worse case loses a hold, and neither a more severe verdict nor a stop has taken its place."""
    more_severe = any_of(
        all_of((worse.at_least(rank), opposite(better.at_least(rank)))) for rank in range(len(book.verdicts))
    )
    severest = worse.at_least(len(book.verdicts) - 1)
    instead = any_of((worse.says("hold"), worse.says("stop"), severest, more_severe))
    return all_of((better.says("hold"), opposite(instead)))


def _defined(definitions: Mapping[str, pl.Expr], row: Mapping[str, Symbol]) -> Iterator[z3.BoolRef]:
    """Yield that each listed fact is what its definition gives."""
    functions = OrderedFunctions()
    for name, definition in definitions.items():
        own, found = row[name], Lowering(row, functions).lower(definition)
        if isinstance(own, Finite) and isinstance(found, Finite):
            for value, guard in found.cases.items():
                yield own.cases[value] == guard
    yield from functions.conditions()


def what_was_said(book: Rulebook, row: Mapping[str, Symbol], speech: Speech) -> Iterator[z3.BoolRef]:
    """Yield that a fact whose values are the verdicts tells a verdict that some rule has said."""
    for fact in book.vocabulary:
        symbol = row[fact.name]
        if fact.values == book.verdicts and isinstance(symbol, Finite):
            for rank, verdict in enumerate(book.verdicts[1:], start=1):
                yield z3.Implies(symbol.cases[verdict], speech.at_least(rank))
