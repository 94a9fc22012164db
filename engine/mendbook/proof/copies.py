"""Two copies of one expression, the inputs of the second in no way better than those of the first.

Whether the second result can be better all the same is asked of the solver; where it can, the inputs are told.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

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
    number,
    read_value,
    spell_value,
)
from mendbook.proof.unknowns import no_better
from mendbook.terms.vocabulary import Fact, Worse

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


class Copies:
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


def _spell(model: z3.ModelRef, row: Mapping[str, Symbol]) -> dict[str, str]:
    """Return the inputs of a model in words."""
    return {name: spell_value(read_value(model, symbol)) for name, symbol in row.items()}
