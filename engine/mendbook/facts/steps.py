"""Steps of a derivation. They are built once for a rulebook, then run on any number of frames, or read by a proof."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import polars as pl

Step = Callable[[pl.DataFrame], pl.DataFrame]


@dataclass(frozen=True, eq=False)
class Columns:
    """Adds columns, each by one expression over those that are there."""

    expressions: tuple[pl.Expr, ...]

    def __call__(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return `frame` with the columns."""
        return frame.with_columns(self.expressions)


@dataclass(frozen=True, eq=False)
class Join:
    """Adds the numbers of a table to the rows that hold its keys; null where the table has none."""

    keys: tuple[str, ...]
    cells: pl.DataFrame

    def __call__(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return `frame` with the numbers."""
        return frame.join(self.cells, on=list(self.keys), how="left", maintain_order="left")


def columns(**expressions: pl.Expr) -> Columns:
    """Return the step that adds columns. Underscores in a name stand for the spaces of the fact's name."""
    return Columns(tuple(expression.alias(name.replace("_", " ")) for name, expression in expressions.items()))


def run(steps: Iterable[Step], frame: pl.DataFrame) -> pl.DataFrame:
    """Return `frame` after all `steps`, in order."""
    for step in steps:
        frame = step(frame)
    return frame
