"""Runs folded as they stand: against the group-by of Polars, which looks its groups up."""

import polars as pl
from hypothesis import given
from hypothesis import strategies as st
from polars.testing import assert_frame_equal

from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.runs import Runs, fold_choices
from mendbook.facts.scenarios import END

KEYS = ("tyre", "injury")
ROWS = st.lists(
    st.tuples(
        st.integers(0, 4), st.integers(0, 2), st.integers(-1, 5), st.integers(0, 9), st.booleans(),
        st.integers(0, 63), st.floats(-5.0, 5.0),
    ),
    max_size=30,
)  # fmt: skip
SCHEMA = {
    "tyre": pl.UInt32, "injury": pl.Int32, "rank": pl.Int16, "holds": pl.Int64, "serious": pl.Boolean,
    "zones": pl.Int64, "gap": pl.Float64,
}  # fmt: skip


def as_frame(rows: list[tuple[float, ...]]) -> pl.DataFrame:
    """Return the rows, those of one injury together, and each tyre at one end of its readings."""
    frame = pl.DataFrame(sorted(rows, key=lambda row: row[:2]), SCHEMA, orient="row")
    return frame.with_columns((pl.col("tyre") % 3).cast(pl.Int8).replace({0: GOOD, 1: READ, 2: BAD}).alias(END))


@given(ROWS)
def test_a_fold_is_that_of_groups(rows: list[tuple[float, ...]]) -> None:
    frame = as_frame(rows)
    wanted = frame.group_by(KEYS, maintain_order=True).agg(
        pl.col("rank").max(), pl.col("holds").sum(), pl.col("serious").any(), pl.col("zones").bitwise_or(),
        pl.col("gap").min(), pl.col(END).first(),
    )  # fmt: skip
    runs = Runs(frame, KEYS)
    assert runs.places().to_list() == frame.select(pl.int_range(pl.len()).over(KEYS)).to_series().to_list()
    folded = runs.fold(frame, most=["rank", "serious"], total=["holds"], union=["zones"], least=["gap"])
    assert_frame_equal(folded, wanted.select(frame.columns), check_exact=True)
    spread = frame.select(KEYS).join(wanted, on=KEYS, how="left", maintain_order="left")
    assert_frame_equal(runs.spread(folded), spread.select(frame.columns), check_exact=True)


@given(ROWS)
def test_choices_fold_to_the_mildest_at_the_good_end_and_to_the_worst_else(rows: list[tuple[float, ...]]) -> None:
    frame = as_frame(rows)
    good = pl.col(END).first() == GOOD
    wanted = frame.group_by(KEYS, maintain_order=True).agg(
        pl.col(END).first(),
        pl.when(good).then(pl.col("rank").min()).otherwise(pl.col("rank").max()),
        pl.when(good).then(pl.col("gap").max()).otherwise(pl.col("gap").min()).alias("gap"),
    )
    folded = fold_choices(frame, KEYS, bigger=["rank"], smaller=["gap"])
    assert_frame_equal(folded.select(wanted.columns), wanted, check_exact=True)
