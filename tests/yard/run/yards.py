"""Small invented yards, and jobs that take no time: what is tried here is the running, not the judging."""

import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import polars as pl

from mendbook.triage import Shop
from mendbook.yard.batch import FAULT_SCHEMA, Batch
from mendbook.yard.review import Reviewed
from mendbook.yard.run.options import Options

ROWS_A_TYRE = 3
OUTCOMES = ("repair", "hold", "serve", "reject", "stop")


@dataclass(frozen=True)
class Yard:
    """`tyres` with two injuries and one without, in turn; every eleventh has a speed that nobody can read."""

    tyres: int
    salt: str = ""

    @property
    def rows(self) -> int:
        return sum(2 if number % 3 else 1 for number in range(self.tyres))

    def batches(self, size: int) -> Iterator[Batch]:
        row = 2
        for first in range(0, self.tyres, size):
            tyres: list[tuple[Any, ...]] = []
            injuries: list[tuple[Any, ...]] = []
            for number in range(first, min(first + size, self.tyres)):
                speed = "fast" if number % 11 == 10 else f"20 km/h{self.salt}"
                tyres.append((number, f"T{number}", row, speed))
                for injury in range(2 if number % 3 else 0):
                    injuries.append((row, number, injury, "AB"[injury], f"{number} mm"))
                    row += 1
                row += 0 if number % 3 else 1
            yield Batch(
                pl.DataFrame(tyres, ["tyre", "tag", "row", "service.speed"], orient="row").cast({"tyre": pl.Int32}),
                pl.DataFrame(
                    injuries,
                    {"row": pl.Int64, "tyre": pl.Int32, "injury": pl.Int32, "name": pl.String, "length": pl.String},
                    orient="row",
                ),
            )


def judge(batch: Batch) -> Reviewed:
    """Judge as quickly as can be: outcome by the number of the tyre; a list column; tyres that cannot be read go."""
    lone = batch.tyres.join(batch.injuries, on="tyre", how="anti").select("row", "tyre", "tag", "service.speed")
    rows = batch.injuries.join(batch.tyres.select("tyre", "tag", "service.speed"), on="tyre")
    rows = pl.concat([rows, lone], how="diagonal").sort("row")
    bad = pl.col("service.speed") == "fast"
    outcome = (pl.col("tyre") % 5).replace_strict(dict(enumerate(OUTCOMES)))
    held = pl.when(outcome == "hold").then(pl.lit(["rule/one", "rule/two"]))
    verdict = pl.when(outcome != "stop").then(pl.lit("section")).alias("tyre's verdict")
    return Reviewed(
        decisions=rows.filter(~bad)
        .with_columns(outcome.alias("outcome"), verdict, held.alias("held by"))
        .drop("service.speed"),
        quarantined=rows.filter(bad).select(
            "row", "tag", pl.lit("service.speed").alias("column"), pl.lit("'fast' is no speed; 'x, y'").alias("words")
        ),
        repairable=pl.DataFrame(),
    )


def judge_slowly(batch: Batch) -> Reviewed:
    """Judge, but take a moment."""
    time.sleep(0.3)
    return judge(batch)


def lose_a_row(batch: Batch) -> Reviewed:
    """Lose one."""
    found = judge(batch)
    return replace(found, decisions=found.decisions.tail(-1))


def judge_twice(batch: Batch) -> Reviewed:
    """Give the place of one row to another, so that the sums are right and the rows are not."""
    found = judge(batch)
    return replace(found, decisions=pl.concat([found.decisions.tail(-1), found.decisions.tail(1)]))


def with_a_fault(batch: Batch) -> Batch:
    """Return `batch` with a row that belongs to no tyre."""
    fault = pl.DataFrame([(999, None, "tag", "no tag")], FAULT_SCHEMA, orient="row")
    return replace(batch, faults=fault)


def options(**asked: Any) -> Options:
    """Return options of a small review by a book that nobody opens."""
    shop = cast(Shop, SimpleNamespace(book=SimpleNamespace(digest=asked.pop("digest", "abc"), own=None)))
    return Options(**{"shop": shop, "on": date(2026, 11, 25), "tyres_a_part": 10, "workers": 1, **asked})


def written(output: Path) -> dict[str, bytes]:
    """Return the files of a review by their names; nothing else may lie there."""
    return {path.name: path.read_bytes() for path in sorted(output.parent.iterdir())}
