"""The job itself: real tyres by the real book, here and in processes, and refused where another book lies."""

import io
import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from zipfile import Path as ZipPath
from zipfile import ZipFile

import polars as pl
import pytest

from mendbook.triage import Shop, open_shop
from mendbook.yard.batch import Batch
from mendbook.yard.run import RunError, run_review
from mendbook.yard.run.job import ReviewJob, digests_of, pack_book, prepare
from mendbook.yard.run.options import Options
from tests.yard.run.yards import written

DAY = date(2026, 11, 25)


class SmallYard:
    """Six tyres of the usual kind with an injury each, one of which has no length."""

    rows = 6

    def batches(self, size: int) -> Iterator[Batch]:
        places = pl.DataFrame({"tyre": range(6)}, schema={"tyre": pl.Int32})
        tyres = places.with_columns(
            pl.format("T{}", "tyre").alias("tag"),
            (pl.col("tyre").cast(pl.Int64) + 2).alias("row"),
            pl.lit("26.5R25").alias("tyre.designation"),
            pl.lit("loader").alias("service.machine"),
        )
        injuries = tyres.select(
            "row",
            "tyre",
            pl.lit(0, pl.Int32).alias("injury"),
            pl.lit("A").alias("name"),
            pl.lit("crown centre").alias("zone"),
            pl.when(pl.col("tyre") < 5)
            .then(pl.format("{} mm", pl.col("tyre") * 20 + 10))
            .otherwise(pl.lit("long"))
            .alias("length"),
        )
        for first in range(0, 6, size):
            own = pl.col("tyre").is_between(first, first + size - 1)
            yield Batch(tyres.filter(own), injuries.filter(own))


def test_processes_review_as_this_one_does(tmp_path: Path, shop: Shop) -> None:
    asked = Options(shop=shop, on=DAY, tyres_a_part=3, workers=1)
    for name, workers in (("a", 1), ("b", 2)):
        (tmp_path / name).mkdir()
        run_review(SmallYard(), tmp_path / name / "out.parquet", replace(asked, workers=workers))
    assert written(tmp_path / "a" / "out.parquet") == written(tmp_path / "b" / "out.parquet")
    summary = json.loads((tmp_path / "a" / "out.summary.json").read_bytes())
    assert (summary["rows"], summary["quarantined"]) == (6, 1)
    assert summary["review"]["rulebook"] == shop.book.digest


def test_an_own_book_travels_as_its_files(tmp_path: Path) -> None:
    own = _own_book(tmp_path)
    packed = pack_book(own)
    assert packed == pack_book(own)
    with ZipFile(io.BytesIO(packed)) as archive:
        assert archive.namelist() == ["rulebook.yaml"]
        assert ZipPath(archive, "rulebook.yaml").read_bytes() == (own / "rulebook.yaml").read_bytes()
    shop = open_shop(own)
    job = ReviewJob(digests_of(shop), packed, DAY, None)
    own.joinpath("rulebook.yaml").unlink()
    there = job(next(SmallYard().batches(6)))
    prepare(job, shop)
    assert there.decisions.equals(job(next(SmallYard().batches(6))).decisions)


def _own_book(folder: Path) -> Path:
    own = folder / "own"
    own.mkdir()
    (own / "rulebook.yaml").write_text(
        "rulebook: an invented shop\nedition: one\ndate: 2026-11-25\nowner: an invented foreman\n"
    )
    return own


@pytest.mark.parametrize("name", ["mendbook", "polars"])
def test_another_version_is_refused(shop: Shop, name: str) -> None:
    job = replace(ReviewJob(digests_of(shop), b"", DAY, None), **{name: "0.0.1"})
    with pytest.raises(RunError, match=f"has {name} .*, and this review runs by 0.0.1"):
        job(next(SmallYard().batches(6)))


def test_another_book_is_refused() -> None:
    job = ReviewJob(("0" * 64, ""), b"", DAY, None)
    with pytest.raises(RunError, match="is not the one that this review began with"):
        job(next(SmallYard().batches(6)))
