"""The output, put together from the parts without ever holding all of them."""

from collections.abc import Sequence
from pathlib import Path

import polars as pl

ROWS_A_GROUP = 100_000  # of a Parquet file: fixed, so that the bytes do not hang on the machine
BETWEEN = "; "
QUARANTINE_WORDS = {"words": "what is wrong, and what to write instead"}


def gather(parts: Sequence[Path]) -> pl.LazyFrame:
    """Return the rows of Parquet files one after the other; a column that some of them lack is empty there."""
    return pl.concat([pl.scan_parquet(part, glob=False) for part in parts], how="diagonal_relaxed")


def write_parquet(rows: pl.LazyFrame, path: Path) -> None:
    """Write `rows` to a Parquet file."""
    rows.sink_parquet(path, row_group_size=ROWS_A_GROUP, maintain_order=True, engine="streaming")


def write_csv(rows: pl.LazyFrame, path: Path) -> None:
    """Write `rows` to a CSV that office programs open without asking: UTF-8 with a mark in front."""
    as_text(rows).sink_csv(path, include_bom=True, maintain_order=True, engine="streaming")


def as_text(rows: pl.LazyFrame) -> pl.LazyFrame:
    """Return `rows` with each list written out in one cell, an empty one as an empty cell."""
    lists = [name for name, kind in rows.collect_schema().items() if isinstance(kind, pl.List)]
    return rows.with_columns(
        pl.when(pl.col(name).list.len() > 0).then(pl.col(name).cast(pl.List(pl.String)).list.join(BETWEEN)).alias(name)
        for name in lists
    )


def name_columns(rows: pl.LazyFrame) -> pl.LazyFrame:
    """Return the rows in quarantine under headings that say what stands below."""
    return rows.rename(QUARANTINE_WORDS)
