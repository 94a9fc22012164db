"""What is timed: a sheet of a yard in, its decisions out."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import polars as pl

from mendbook.triage import Shop
from mendbook.yard.batch import Batch
from mendbook.yard.review import Reviewer
from tests.yard.made import Made

DAY = date(2026, 11, 25)
SIZE = 10_000  # tyres of a batch


def review(sheet: Path, out: Path, shop: Shop) -> None:
    """Judge every row of `sheet`, a made CSV, and write the decisions to `out`, Parquet."""
    reviewer = Reviewer(shop, DAY)
    pl.concat([reviewer.review(batch).decisions for batch in batches(sheet)], how="diagonal_relaxed").write_parquet(out)


def batches(sheet: Path) -> Iterator[Batch]:
    """Yield whole tyres, whose rows stand together."""
    rows = pl.read_csv(sheet, infer_schema=False).with_row_index("row", 2).with_columns(
        pl.col("row").cast(pl.Int64), (pl.col("tag").rle_id().cast(pl.Int32)).alias("tyre")
    )  # fmt: skip
    number = pl.int_range(pl.len(), dtype=pl.Int32).over("tyre")
    rows = rows.with_columns(pl.when(pl.col("name").is_not_null()).then(number).alias("injury"))
    for first in range(0, rows.item(-1, "tyre") + 1, SIZE):
        made = Made(rows.filter(pl.col("tyre").is_between(first, first + SIZE, closed="left")), pl.DataFrame())
        yield Batch(made.tyres, made.injuries)
