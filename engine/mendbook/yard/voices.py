"""Which rules hold or stop a tyre: heard in all rows at once as bits, and named where they have been put together."""

from collections.abc import Iterable, Sequence

import polars as pl

from mendbook.columns.speak import lines
from mendbook.facts.runs import Runs
from mendbook.facts.steps import roots
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Subject
from mendbook.yard.reading import TYRE

Part = tuple[Sequence[str], Subject]  # stages, and whom their rules are about

_BITS = 62  # of a number that is never negative


class Voices:
    """The rules of some parts of a book that say `what`, hold or stop."""

    def __init__(self, book: Rulebook, parts: Iterable[Part], what: str) -> None:
        spoken = {part: _saying(book, part, what) for part in parts}
        self._names = sorted({name for saying in spoken.values() for name in saying})
        self._columns = [f"voices {place}" for place in range(0, len(self._names), _BITS)]
        self._bits = {part: self._as_bits(saying) for part, saying in spoken.items()}

    def hear(self, part: Part, frame: pl.DataFrame, counts: pl.Expr) -> pl.DataFrame:
        """Return TYRE and as bits the rules of `part` that speak of its rows that count: a row for each run of them."""
        bits = self._bits[part]
        needed = {TYRE, *roots((*bits, counts))}
        rows = frame.select(name for name in frame.columns if name in needed).filter(counts)
        heard = rows.select(TYRE, *bits)
        return Runs(heard, (TYRE,)).fold(heard, union=self._columns)

    def name(self, heard: Sequence[pl.DataFrame], column: str) -> pl.DataFrame:
        """Return TYRE and in `column` the ids of the rules that were heard of it; no tyre of which none was."""
        together = pl.concat(heard).group_by(TYRE, maintain_order=True).agg(pl.col(self._columns).bitwise_or())
        different = together.select(self._columns).unique()
        names = pl.Series(column, [self._named(row) for row in different.iter_rows()], pl.List(pl.String))
        told = together.join(different.with_columns(names), on=self._columns, how="left", maintain_order="left")
        return told.filter(pl.col(column).list.len() > 0).select(TYRE, column)

    def _as_bits(self, saying: dict[str, pl.Expr]) -> list[pl.Expr]:
        found = []
        for place, column in enumerate(self._columns):
            names = self._names[place * _BITS : (place + 1) * _BITS]
            said = [
                pl.when(saying[name]).then(pl.lit(1 << bit, pl.Int64)).otherwise(pl.lit(0, pl.Int64))
                for bit, name in enumerate(names)
                if name in saying
            ]
            none = pl.repeat(0, pl.len(), dtype=pl.Int64)
            found.append((pl.sum_horizontal(said) if said else none).alias(column))
        return found

    def _named(self, bits: Sequence[int]) -> list[str]:
        return [name for n, name in enumerate(self._names) if bits[n // _BITS] >> n % _BITS & 1]


def _saying(book: Rulebook, part: Part, what: str) -> dict[str, pl.Expr]:
    """Return for each rule of `part` that says `what` whether it does, by its id."""
    stages, subject = part
    found: dict[str, pl.Expr] = {}
    for rule in book.rules_of(*stages):
        says = [int(_says(rule, n, what)) for n in range(len(rule.lines))]
        if rule.subject is subject and any(says):
            found[rule.id] = lines(rule, says) > 0
    return found


def _says(rule: Rule, line: int, what: str) -> bool:
    """Return whether a line says `what`; a hold beside a stop is not told."""
    outcome = rule.lines[line].outcome
    return outcome.stop is not None if what == "stop" else outcome.hold is not None and outcome.stop is None
