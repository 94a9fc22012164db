"""Invented yards: seeded, the same bytes on every machine. No tyre, fleet or measurement in them is real.

python -m tests.yard.made --tyres 40 --seed 7 --dirty 0 --out examples/yard/three_sites.csv
"""

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from tests.yard.columns import count_injuries, draw_injuries, draw_tyres
from tests.yard.dice import Dice
from tests.yard.dirt import FIRST, KEYS, spoil

CARRIED = ("site", "tag")


@dataclass(frozen=True)
class Made:
    """A yard: one row an injury with the columns of its tyre, and one for a tyre without any.

    `rows` have row (as a person counts it), tyre and injury (from 0, null without one) before the columns of the
    sheet; `dirt` says which rows are spoilt, and how.
    """

    rows: pl.DataFrame
    dirt: pl.DataFrame

    @property
    def sheet(self) -> pl.DataFrame:
        """The sheet as a fleet would send it."""
        return self.rows.drop(KEYS)

    @property
    def tyres(self) -> pl.DataFrame:
        """One row a tyre: tyre, tag, row and its columns as its first row has them."""
        own = [name for name in self.rows.columns if _is_of_tyre(name)]
        return self.rows.unique("tyre", keep="first", maintain_order=True).select("tyre", "tag", "row", *own)

    @property
    def injuries(self) -> pl.DataFrame:
        """One row an injury: row, tyre, injury, name and its columns."""
        own = [name for name in self.rows.columns if not _is_of_tyre(name) and name not in (*KEYS, *CARRIED)]
        return self.rows.filter(pl.col("injury").is_not_null()).select(*KEYS, *own)


def make(tyres: int, seed: int, dirty: int = 0) -> Made:
    """Return a yard of `tyres`, of which `dirty` in a thousand are spoilt in one way each."""
    return next(pieces(tyres, seed, dirty, tyres))


def pieces(tyres: int, seed: int, dirty: int = 0, size: int = 200_000) -> Iterator[Made]:
    """Yield the same yard in pieces of `size` tyres, so that it may be larger than memory."""
    injuries, rows = 0, FIRST
    for first in range(0, tyres, size):
        drawn = draw_tyres(Dice(seed, first), min(size, tyres - first))
        tyre, number = count_injuries(Dice(seed, first), drawn.text.height)
        keys = pl.DataFrame({"tyre": tyre, "injury": number}, schema={"tyre": pl.Int32, "injury": pl.Int32})
        found = keys.hstack(draw_injuries(Dice(seed, injuries), drawn, tyre, number).get_columns())
        text = drawn.text.with_row_index("tyre").with_columns(pl.col("tyre").cast(pl.Int32))
        sheet = text.join(found, on="tyre", how="left", maintain_order="left_right").with_row_index("row")
        sheet = sheet.select(
            pl.col("row").cast(pl.Int64) + rows, (pl.col("tyre") + first).cast(pl.Int32), "injury", pl.exclude(KEYS)
        )
        injuries, rows = injuries + len(tyre), rows + sheet.height
        yield Made(*spoil(Dice(seed, first), sheet, dirty))


def _is_of_tyre(name: str) -> bool:
    return "." in name or name in ("earlier repairs", "judged on")


def main(arguments: list[str] | None = None) -> None:
    """Write a made yard as CSV."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tyres", type=int, required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--dirty", type=float, default=0.0, help="share of the tyres that are spoilt, 0 to 1")
    parser.add_argument("--out", type=Path, required=True)
    given = parser.parse_args(arguments)
    injuries = spoilt = 0
    with given.out.open("wb") as out:
        for number, made in enumerate(pieces(given.tyres, given.seed, round(given.dirty * 1000))):
            made.sheet.write_csv(out, include_header=not number)
            injuries, spoilt = injuries + made.injuries.height, spoilt + made.dirt.height
    parser.exit(message=f"{given.tyres} tyres, {injuries} injuries, {spoilt} spoilt rows\n")


if __name__ == "__main__":
    main()
