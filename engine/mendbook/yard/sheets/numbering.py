"""Which row belongs to which tyre: one look over the tags alone, before anything else is read."""

from dataclasses import dataclass

import polars as pl

NUMBER, TAG = "number", "tag"


@dataclass(frozen=True)
class Numbering:
    """The number of the tyre of each row, in the order in which tyres first appear; null where no tag is written.

    `tags` are the tags by that number. `is_grouped` tells that the rows of a tyre lie together, in that order.
    """

    numbers: pl.Series
    tags: pl.Series
    is_grouped: bool


def number_tyres(tags: pl.Series) -> Numbering:
    """Return the numbering that follows from the tags of all rows."""
    written = tags.drop_nulls()
    starts = (written != written.shift(1)).fill_null(value=True)
    runs = int(starts.sum())
    if runs == written.n_unique():
        firsts = written.filter(starts)
        numbers = (starts.cum_sum().cast(pl.Int32) - 1).cast(pl.Int32)
        return Numbering(_over_all(tags, numbers), firsts, is_grouped=True)
    firsts = written.unique(maintain_order=True)
    return Numbering(number_by(tags, firsts), firsts, is_grouped=False)


def number_by(tags: pl.Series, known: pl.Series) -> pl.Series:
    """Return for each of `tags` its place among the `known`; null for one that is not there."""
    index = known.to_frame(TAG).with_row_index(NUMBER)
    found = tags.to_frame(TAG).join(index, on=TAG, how="left", maintain_order="left")
    return found.get_column(NUMBER).cast(pl.Int32)


def _over_all(tags: pl.Series, numbers: pl.Series) -> pl.Series:
    if not tags.null_count():
        return numbers.alias(NUMBER)
    places = pl.DataFrame({"place": tags.is_not_null().arg_true(), NUMBER: numbers})
    every = pl.DataFrame({"place": pl.int_range(len(tags), dtype=pl.UInt32, eager=True)})
    return every.join(places, on="place", how="left", maintain_order="left").get_column(NUMBER)


def is_rising(numbers: pl.Series) -> bool:
    """Return whether the numbers, those missing left out, never fall."""
    return numbers.drop_nulls().is_sorted()
