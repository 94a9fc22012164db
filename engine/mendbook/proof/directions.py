"""In which direction each derived column is worse, proven expression by expression.

Of every expression two copies are laid out, the inputs of the second in no way better than those of the first. When
the result can then not be better either, the expression keeps the order; what keeps it step by step keeps it from end
to end.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

import polars as pl
import z3

from mendbook.proof.expressions import Lowering
from mendbook.proof.functions import OrderedFunctions
from mendbook.proof.operations import truth, valued
from mendbook.proof.symbols import (
    NEVER,
    Finite,
    Number,
    Plain,
    Symbol,
    Truth,
    all_of,
    any_of,
    exact,
    null_of,
    number,
    read_value,
    spell_value,
)
from mendbook.proof.unknowns import no_better
from mendbook.terms.vocabulary import Fact, Vocabulary, Worse

PATIENCE_MS = 10_000


@dataclass(frozen=True)
class Column:
    """What is known of a column: its direction, its values if few, else its ends, and whether it may be null.

    A condition is worse where it holds, when it has a direction at all. `expression` is what a
    derived column with a direction follows from.
    """

    name: str
    worse: Worse
    values: tuple[Plain, ...] = ()
    is_condition: bool = False
    low: float | None = None
    high: float | None = None
    is_nullable: bool = False
    expression: pl.Expr | None = None


@dataclass(frozen=True)
class Turn:
    """A column whose direction could not be proven: inputs in order, the result not.

    Where the vocabulary names no direction, `other_way` is what speaks against the opposite one.
    """

    column: str
    wanted: Worse
    first: Mapping[str, str] = field(default_factory=dict)
    second: Mapping[str, str] = field(default_factory=dict)
    is_unsettled: bool = False
    other_way: "Turn | None" = None


class Directions:
    """Follows the directions of columns through a derivation."""

    def __init__(self, given: Iterable[Column], vocabulary: Vocabulary) -> None:
        self.columns: dict[str, Column] = {column.name: column for column in given}
        self.turns: list[Turn] = []
        self.proven: list[str] = []
        self._vocabulary = vocabulary

    def table(self, name: str, keys: Iterable[str], numbers: Iterable[float | None]) -> None:
        """Take in a column that a table gives for listed keys. Raises ValueError when a key has a direction."""
        directed = [key for key in keys if self.columns[key].worse is not Worse.NEITHER]
        if directed:
            raise ValueError(f"the table that gives '{name}' hangs on '{directed[0]}', which has a direction")
        found = tuple(dict.fromkeys(numbers))
        self.columns[name] = Column(name, Worse.NEITHER, values=found, is_nullable=None in found)

    def follow(self, name: str, expression: pl.Expr) -> None:
        """Take in a column by its expression, and prove its direction."""
        pair = _Pair(self.columns, expression, is_deep=False)
        fact = self._vocabulary.facts.get(name)
        worse = Worse.NEITHER
        if any(self.columns[root].worse is not Worse.NEITHER for root in pair.roots):
            worse = self._prove(name, pair, expression, fact)
        self.columns[name] = _described(name, worse, pair, fact, expression)

    def expect(self, name: str, expression: pl.Expr, worse: Worse, given: pl.Expr) -> None:
        """Prove that `expression` is worse in the direction `worse` wherever the condition `given` holds."""
        pair = _Pair(self.columns, expression, is_deep=False, given=given)
        turn = pair.find_turn(name, worse, None)
        if turn is None:
            self.proven.append(name)
        else:
            self.turns.append(turn)

    def _prove(self, name: str, pair: "_Pair", expression: pl.Expr, fact: Fact | None) -> Worse:
        """Return the direction of the result: the one the vocabulary names, or either that can be proven.

        First over the columns that the expression names; where these hang together, over what they follow from.
        """
        candidates = (Worse.BIGGER, Worse.SMALLER) if fact is None else (fact.worse,)
        turns = []
        for is_deep in (False, True):
            own = _Pair(self.columns, expression, is_deep=True) if is_deep else pair
            for wanted in candidates:
                turn = own.find_turn(name, wanted, fact)
                if turn is None:
                    self.proven.append(name)
                    return wanted
                turns.append(turn)
        rising, *falling = turns[-len(candidates) :]
        self.turns.append(replace(rising, other_way=falling[0]) if falling else rising)
        return candidates[0]


class _Pair:
    """Two copies of one expression, over inputs that never get better from the first to the second."""

    def __init__(
        self, columns: Mapping[str, Column], expression: pl.Expr, *, is_deep: bool, given: pl.Expr | None = None
    ) -> None:
        self._columns = columns
        # What null means shows only where it is used: a column that may be null is always looked into.
        self._opened = {c.name for c in columns.values() if c.expression is not None and (is_deep or c.is_nullable)}
        read = (expression,) if given is None else (expression, given)
        self.roots = tuple(dict.fromkeys(name for one in read for name in _roots(columns, self._opened, one)))
        self.conditions: list[z3.BoolRef] = []
        self._functions = OrderedFunctions()
        self.first: dict[str, Symbol] = {}
        self.second: dict[str, Symbol] = {}
        for root in self.roots:
            self._lay_out(columns[root])
        self.results = (self._lower(self.first, expression), self._lower(self.second, expression))
        if given is not None:
            self.conditions += [truth(self._lower(copy, given)) for copy in (self.first, self.second)]
        self.conditions += self._functions.conditions()

    def find_turn(self, name: str, wanted: Worse, fact: Fact | None) -> Turn | None:
        """Return inputs that are in order while the results are not, None when there are none."""
        solver = z3.Solver()
        solver.set("timeout", PATIENCE_MS)
        solver.add(*self.conditions, _is_better(*self.results, wanted, fact))
        answer = solver.check()
        if answer == z3.unsat:
            return None
        if answer == z3.unknown:
            return Turn(name, wanted, is_unsettled=True)
        model = solver.model()
        return Turn(name, wanted, _spell(model, self.first), _spell(model, self.second))

    def is_possible(self, condition: z3.BoolRef) -> bool:
        """Return whether `condition` can hold; True as well when the solver does not know."""
        solver = z3.Solver()
        solver.set("timeout", PATIENCE_MS)
        solver.add(*self.conditions, condition)
        return bool(solver.check() != z3.unsat)

    def _lay_out(self, column: Column) -> None:
        self.first[column.name] = one = self._unknown(column, "")
        if column.worse is Worse.NEITHER:
            self.second[column.name] = one
            return
        self.second[column.name] = other = self._unknown(column, "'")
        self.conditions.append(no_better(column.worse, column.values, one, other))

    def _unknown(self, column: Column, copy: str) -> Symbol:
        name = column.name + copy
        if column.is_condition:
            return Truth(z3.Bool(name))
        if column.values:
            guards = [z3.Bool(f"{name} = {value}") for value in column.values]
            self.conditions.append(z3.PbEq([(guard, 1) for guard in guards], 1))
            return Finite(dict(zip(column.values, guards, strict=True)))
        term = z3.Real(name)
        if column.low is not None:
            self.conditions.append(term >= exact(column.low))
        if column.high is not None:
            self.conditions.append(term <= exact(column.high))
        return Number(term, z3.Bool(f"{name} is null")) if column.is_nullable else Number(term)

    def _lower(self, copy: Mapping[str, Symbol], expression: pl.Expr) -> Symbol:
        row = dict(copy)
        lowering = Lowering(row, self._functions)
        for root, kept in _nested(self._columns, self._opened, expression).items():
            row[root] = lowering.lower(kept)
        return lowering.lower(expression)


def _roots(columns: Mapping[str, Column], opened: Collection[str], expression: pl.Expr) -> Iterable[str]:
    """Yield the columns that an expression rests on; one that is opened is looked into."""
    for name in expression.meta.root_names():
        kept = columns[name].expression
        if kept is None or name not in opened:
            yield name
        else:
            yield from _roots(columns, opened, kept)


def _nested(columns: Mapping[str, Column], opened: Collection[str], expression: pl.Expr) -> dict[str, pl.Expr]:
    """Return the columns to be looked into, innermost first."""
    found: dict[str, pl.Expr] = {}
    for name in expression.meta.root_names():
        kept = columns[name].expression
        if kept is not None and name in opened:
            found |= _nested(columns, opened, kept)
            found[name] = kept
    return found


def _is_better(first: Symbol, second: Symbol, worse: Worse, fact: Fact | None) -> z3.BoolRef:
    """Return when the second result is better than the first: what must not happen."""
    if fact is not None and fact.is_listed and isinstance(first, Finite) and isinstance(second, Finite):
        return any_of(
            all_of((first.cases.get(value, NEVER), second.cases.get(before, NEVER)))
            for place, value in enumerate(fact.values)
            for before in fact.values[:place] + (fact.values[place + 1 :] if worse is Worse.NEITHER else ())
        )
    one, other = number(valued(first)), number(valued(second))
    if worse is Worse.NEITHER:
        return one.term != other.term
    return one.term > other.term if worse is Worse.BIGGER else one.term < other.term


def _described(name: str, worse: Worse, pair: _Pair, fact: Fact | None, expression: pl.Expr) -> Column:
    result = pair.results[0]
    kept = None if worse is Worse.NEITHER else expression
    if fact is not None and fact.is_listed:
        return Column(name, worse, values=fact.values, expression=kept)
    if isinstance(result, Truth):
        return Column(name, worse, is_condition=True, expression=kept)
    if isinstance(result, Finite) and worse is Worse.NEITHER:
        return Column(name, worse, values=tuple(result.cases), is_nullable=None in result.cases)
    own = number(valued(result))
    nullable = not isinstance(result, Truth) and not z3.is_false(null_of(result)) and pair.is_possible(own.null)
    column = Column(name, worse, is_nullable=nullable, expression=kept)
    if fact is not None:
        column = replace(column, low=fact.low, high=fact.high)
    elif not pair.is_possible(own.term < 0):
        column = replace(column, low=0.0)
    return column


def _spell(model: z3.ModelRef, row: Mapping[str, Symbol]) -> dict[str, str]:
    """Return the inputs of a model in words."""
    return {name: spell_value(read_value(model, symbol)) for name, symbol in row.items()}
