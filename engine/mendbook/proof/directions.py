"""In which direction each derived column is worse, proven expression by expression.

Of every expression two copies are laid out, the inputs of the second in no way better than those of the first. When
the result can then not be better either, the expression keeps the order; what keeps it step by step keeps it from end
to end.
"""

from collections.abc import Iterable
from dataclasses import replace

import polars as pl
import z3

from mendbook.proof.copies import Column, Copies, Turn
from mendbook.proof.operations import valued
from mendbook.proof.symbols import Finite, Truth, null_of, number
from mendbook.terms.vocabulary import Fact, Vocabulary, Worse


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
        pair = Copies(self.columns, expression, is_deep=False)
        fact = self._vocabulary.facts.get(name)
        worse = Worse.NEITHER
        if any(self.columns[root].worse is not Worse.NEITHER for root in pair.roots):
            worse = self._prove(name, pair, expression, fact)
        self.columns[name] = _described(name, worse, pair, fact, expression)

    def expect(self, name: str, expression: pl.Expr, worse: Worse, given: pl.Expr) -> None:
        """Prove that `expression` is worse in the direction `worse` wherever the condition `given` holds."""
        pair = Copies(self.columns, expression, is_deep=False, given=given)
        turn = pair.find_turn(name, worse, None)
        if turn is None:
            self.proven.append(name)
        else:
            self.turns.append(turn)

    def _prove(self, name: str, pair: Copies, expression: pl.Expr, fact: Fact | None) -> Worse:
        """Return the direction of the result: the one the vocabulary names, or either that can be proven.

        First over the columns that the expression names; where these hang together, over what they follow from.
        """
        candidates = (Worse.BIGGER, Worse.SMALLER) if fact is None else (fact.worse,)
        turns = []
        for is_deep in (False, True):
            own = Copies(self.columns, expression, is_deep=True) if is_deep else pair
            for wanted in candidates:
                turn = own.find_turn(name, wanted, fact)
                if turn is None:
                    self.proven.append(name)
                    return wanted
                turns.append(turn)
        rising, *falling = turns[-len(candidates) :]
        self.turns.append(replace(rising, other_way=falling[0]) if falling else rising)
        return candidates[0]


def _described(name: str, worse: Worse, pair: Copies, fact: Fact | None, expression: pl.Expr) -> Column:
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
