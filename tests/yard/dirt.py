"""What spoils rows of a sheet, kind by kind, so that a test knows what must be set aside and why."""

from dataclasses import dataclass

import polars as pl

from tests.yard.dice import Dice

KEYS = ("row", "tyre", "injury")
FIRST = 2  # row of a sheet, below its headings
CELL, CASE, SHEET = "cell", "case", "sheet"


@dataclass(frozen=True)
class Dirt:
    """One kind: what is put into which column. `whole` dirt stands in all rows of its tyre, any other in one.

    `seen` says what can see it: CELL when the cells alone are read, CASE when the figures of a tyre are held together
    (which nobody does while people must keep away from it), SHEET when its rows are.
    """

    name: str
    column: str
    text: str | None
    seen: str = CELL
    whole: bool = False


KINDS = (
    Dirt("no unit", "length", "48"),
    Dirt("unit of another kind", "width", "30 kg"),
    Dirt("words for a number", "depth", "see photo"),
    Dirt("number that may mean two things", "length", "1,250 mm"),
    Dirt("less than nothing", "width", "-5 mm"),
    Dirt("range that runs backwards", "length", "60 to 40 mm"),
    Dirt("half a cord", "cords cut", "2.5"),
    Dirt("word nobody knows", "kind", "gash"),
    Dirt("off the clock", "clock", "400 deg"),
    Dirt("size that is none", "tyre.designation", "26.5Q25", whole=True),
    Dirt("week that is none", "tyre.date code", "6023", whole=True),
    Dirt("week to come", "tyre.date code", "0127", whole=True),
    Dirt("pressure beyond belief", "service.pressure specified", "85 bar", whole=True),
    Dirt("speed in words", "service.speed", "fast", whole=True),
    Dirt("tread deeper than new", "tyre.tread left", "129 mm", CASE, whole=True),
    Dirt("beyond the centreline", "distance from bead", "1900 mm", CASE),
    Dirt("an injury without a size", "length", "0 mm", CASE),
    Dirt("row without a tyre", "tag", None, SHEET),
    Dirt("another tyre under the same tag", "tyre.designation", "13.00-24", SHEET),
)


def spoil(dice: Dice, rows: pl.DataFrame, in_a_thousand: int) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Return `rows` (an injury each) of which `in_a_thousand` tyres are spoilt in one way each, and what was done.

    The second frame has for each spoilt row `row` (as a person counts it), `tyre`, `kind`, `column`, `seen`, `whole`.
    """
    tyres = rows.select(*KEYS).group_by("tyre", maintain_order=True).agg("row", "injury")
    count = tyres.height
    kind = dice.pick("kind of dirt", count, [1] * len(KINDS))
    is_dirty = dice.chance("dirty", count, in_a_thousand)
    about = pl.DataFrame(
        {
            "kind": [one.name for one in KINDS],
            "column": [one.column for one in KINDS],
            "put": [one.text for one in KINDS],
            "seen": [one.seen for one in KINDS],
            "whole": [one.whole for one in KINDS],
        }
    )[kind]
    found = (
        tyres.hstack(about).filter(pl.Series(is_dirty)).explode("row", "injury", empty_as_null=True, keep_nulls=True)
    )
    # A tyre without injuries has no cell to spoil but its own; another tyre needs a tyre that was there before.
    is_last = pl.col("row") == pl.col("row").max().over("tyre")
    several = pl.len().over("tyre") > 1
    fits = (
        pl.when("whole")
        .then(pl.lit(value=True))
        .when(pl.col("kind") == KINDS[-1].name)
        .then(is_last & several)
        .otherwise(is_last & pl.col("injury").is_not_null())
    )
    found = found.filter(fits)
    return _put(rows, found), found.select("row", "tyre", "kind", "column", "seen", "whole").sort("row")


def _put(rows: pl.DataFrame, found: pl.DataFrame) -> pl.DataFrame:
    changed = []
    for column in dict.fromkeys(one.column for one in KINDS):
        here = found.filter(pl.col("column") == column)
        places, put = here.get_column("row") - rows.item(0, "row"), here.get_column("put")
        if not places.is_empty():
            changed.append(rows.get_column(column).scatter(places, put))
    return rows.with_columns(changed)
