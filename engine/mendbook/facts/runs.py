"""Rows that stand together and are alike in some keys: folded as they stand, for looking them up costs most."""

from collections.abc import Collection, Sequence

import numpy as np
import polars as pl

from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END


class Runs:
    """The runs of a frame: as many rows as stand together and are alike in `keys`, whole numbers."""

    def __init__(self, frame: pl.DataFrame, keys: Sequence[str]) -> None:
        """Find them."""
        is_first = np.ones(frame.height, bool)
        numbers = [frame.get_column(key).to_numpy() for key in keys]
        is_first[1:] = np.logical_or.reduce([one[1:] != one[:-1] for one in numbers])
        self._is_first, self._first = is_first, np.flatnonzero(is_first)

    def fold(
        self, frame: pl.DataFrame, *, most: Collection[str] = (), least: Collection[str] = (),
        total: Collection[str] = (), union: Collection[str] = (),
    ) -> pl.DataFrame:  # fmt: skip
        """Return the first row of each run, and in these columns the most, least, total or union of bits of all rows.

        Nothing is missing in them, and what is added up is no truth value.
        """
        first = frame[self._first]
        if first.height == frame.height:
            return first
        asked = ((np.fmax, most), (np.fmin, least), (np.add, total), (np.bitwise_or, union))
        return first.with_columns(
            pl.Series(name, how.reduceat(frame.get_column(name).to_numpy(), self._first), frame.schema[name])
            for how, names in asked
            for name in names
        )

    def places(self) -> pl.Series:
        """Return for each row which of its run it is, from 0."""
        return pl.Series(np.arange(len(self._is_first)) - self._first[self._is_first.cumsum() - 1], dtype=pl.Int32)

    def spread(self, folded: pl.DataFrame) -> pl.DataFrame:
        """Return for each row of the frame what stands in `folded` for its run."""
        return folded[self._is_first.cumsum() - 1]


def fold_choices(
    frame: pl.DataFrame, keys: Sequence[str], *, bigger: Collection[str] = (), smaller: Collection[str] = ()
) -> pl.DataFrame:
    """Return the first row of each run, folded over the ways to read it: the mildest at the good end, else the worst.

    bigger, smaller : the columns to fold, in which that is worse
    """
    runs, names = Runs(frame, keys), (*bigger, *smaller)
    most, least = runs.fold(frame, most=names), runs.fold(frame.select(names), least=names)
    is_good = most.get_column(END) == GOOD
    mild, bad = least.get_columns(), [most.get_column(name) for name in names]
    return most.with_columns(
        low.zip_with(is_good if low.name in bigger else ~is_good, high) for low, high in zip(mild, bad, strict=True)
    )
