"""Steps of a derivation. They are built once for a rulebook, then run on any number of frames, or read by a proof."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import polars as pl


class Step(Protocol):
    """Takes a frame and returns it with what follows."""

    @property
    def looks_at(self) -> frozenset[str]:
        """The columns that it needs."""

    def __call__(self, frame: pl.DataFrame, /) -> pl.DataFrame:
        """Return `frame` with what follows."""


@dataclass(frozen=True, eq=False)
class Columns:
    """Adds columns, each by one expression over those that are there."""

    expressions: tuple[pl.Expr, ...]

    @property
    def looks_at(self) -> frozenset[str]:
        """The columns that it needs."""
        return roots(self.expressions)

    def __call__(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return `frame` with the columns."""
        return frame.with_columns(self.expressions)


@dataclass(frozen=True, eq=False)
class Join:
    """Adds the numbers of a table to the rows that hold its keys, as text or coded; null where the table has none."""

    keys: tuple[str, ...]
    cells: pl.DataFrame  # a row for each combination of values, the last key running fastest

    @property
    def looks_at(self) -> frozenset[str]:
        """The columns that it needs."""
        return frozenset(self.keys)

    def __call__(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return `frame` with the numbers."""
        place = pl.lit(0, pl.UInt32)
        for key, kind in self._codes.items():
            code = pl.col(key).cast(kind, strict=False).to_physical().cast(pl.UInt32)
            place = place * len(kind.categories) + code
        numbers = self.cells.drop(self.keys)
        return frame.hstack(numbers.select(pl.all().gather(frame.select(place).to_series())).get_columns())

    @cached_property
    def _codes(self) -> Mapping[str, pl.Enum]:
        return {key: pl.Enum(self.cells.get_column(key).unique(maintain_order=True)) for key in self.keys}


def columns(**expressions: pl.Expr) -> Columns:
    """Return the step that adds columns. Underscores in a name stand for the spaces of the fact's name."""
    return Columns(tuple(expression.alias(name.replace("_", " ")) for name, expression in expressions.items()))


def roots(expressions: Iterable[pl.Expr]) -> frozenset[str]:
    """Return the columns that `expressions` look at."""
    return frozenset(name for expression in expressions for name in expression.meta.root_names())


def add_columns(frame: pl.DataFrame, right: pl.DataFrame, on: Sequence[str]) -> pl.DataFrame:
    """Return `frame` with the columns of `right`, whose keys stand there once; null where they do not stand.

    The keys alone are joined: what else stands in a wide frame is not copied.
    """
    keys = list(on)
    found = frame.select(keys).join(right, on=keys, how="left", maintain_order="left")
    return frame.hstack(found.drop(keys).get_columns())


def add_by_number(frame: pl.DataFrame, right: pl.DataFrame, by: str) -> pl.DataFrame:
    """Return `frame` with the columns of `right`, in which each of the small whole numbers `by` stands at most once."""
    known, wanted = right.get_column(by), frame.get_column(by)
    size = 1 + max((int(one.max()) for one in (known.to_numpy(), wanted.to_numpy()) if len(one)), default=-1)
    place = places_in(known, size).gather(wanted)
    return frame.hstack(right.drop(by).select(pl.all().gather(place)).get_columns())


def places_in(numbers: pl.Series, size: int) -> pl.Series:
    """Return for each number below `size` its place in `numbers`, null for one that does not stand there."""
    nowhere = pl.Series("place", dtype=pl.UInt32).extend_constant(None, size)
    return nowhere.scatter(numbers, pl.int_range(len(numbers), dtype=pl.UInt32, eager=True))


def run(steps: Iterable[Step], frame: pl.DataFrame) -> pl.DataFrame:
    """Return `frame` after all `steps`, in order."""
    for step in steps:
        frame = step(frame)
    return frame
