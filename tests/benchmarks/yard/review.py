"""What is timed: a sheet of a yard in, its decisions out."""

import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any
from unittest.mock import patch

import polars as pl

from mendbook.columns import Columns
from mendbook.triage import Shop
from mendbook.yard.batch import Batch
from mendbook.yard.review import Reviewer
from mendbook.yard.run.options import TYRES_A_PART
from tests.yard.made import Made

DAY = date(2026, 11, 25)


def review(sheet: Path, out: Path, shop: Shop) -> float:
    """Judge every row of `sheet`, a made CSV, and write the decisions to `out`, Parquet; return what rules took [s]."""
    reviewer = Reviewer(shop, DAY)
    with listening() as heard:
        decided = [reviewer.review(batch).decisions for batch in batches(sheet)]
    pl.concat(decided, how="diagonal_relaxed").write_parquet(out)
    return sum(heard)


@contextmanager
def listening() -> Iterator[list[float]]:
    """Yield how long each folding of rules over rows takes [s]."""
    heard: list[float] = []
    fold = Columns.fold

    def timed(*asked: Any) -> pl.DataFrame:
        start = time.perf_counter()
        found = fold(*asked)
        heard.append(time.perf_counter() - start)
        return found

    with patch.object(Columns, "fold", timed):
        yield heard


def run(sheet: Path, out: Path) -> None:
    """Give the command for it, which takes as many processes as there are processors."""
    command = [sys.executable, "-m", "mendbook", "review", str(sheet), "--out", str(out), "--on", str(DAY), "--force"]
    subprocess.run(command, check=False, capture_output=True)


def batches(sheet: Path) -> Iterator[Batch]:
    """Yield whole tyres, whose rows stand together."""
    rows = pl.read_csv(sheet, infer_schema=False).with_row_index("row", 2).with_columns(
        pl.col("row").cast(pl.Int64), (pl.col("tag").rle_id().cast(pl.Int32)).alias("tyre")
    )  # fmt: skip
    number = pl.int_range(pl.len(), dtype=pl.Int32).over("tyre")
    rows = rows.with_columns(pl.when(pl.col("name").is_not_null()).then(number).alias("injury"))
    for first in range(0, rows.item(-1, "tyre") + 1, TYRES_A_PART):
        made = Made(rows.filter(pl.col("tyre").is_between(first, first + TYRES_A_PART, closed="left")), pl.DataFrame())
        yield Batch(made.tyres, made.injuries)
