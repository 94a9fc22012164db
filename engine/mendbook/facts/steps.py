"""Steps of a derivation. Their expressions are built once for a rulebook and then run on any number of frames."""

from collections.abc import Callable, Iterable

import polars as pl

Step = Callable[[pl.DataFrame], pl.DataFrame]


def columns(**expressions: pl.Expr) -> Step:
    """Return the step that adds columns. Underscores in a name stand for the spaces of the fact's name."""
    prepared = [expression.alias(name.replace("_", " ")) for name, expression in expressions.items()]

    def add(frame: pl.DataFrame) -> pl.DataFrame:
        return frame.with_columns(prepared)

    return add


def run(steps: Iterable[Step], frame: pl.DataFrame) -> pl.DataFrame:
    """Return `frame` after all `steps`, in order."""
    for step in steps:
        frame = step(frame)
    return frame
