"""Punctures that stand close together round the crown: a line of small holes tears like one long one."""

import polars as pl

from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END, INJURY, INJURY_CHOICE, ROW
from mendbook.facts.steps import add_columns

SECTOR_DEG = 60.0  # house default
CROWN = ("crown centre", "crown edge")
PUNCTURES = "punctures in sector"


def count_punctures(rows: pl.DataFrame) -> pl.DataFrame:
    """Return the injury rows with the number of punctures in the crown in the sector that begins at each of them.

    A puncture whose place round the tyre is not known counts as in the sector (at the good reading, as outside).
    """
    found = rows.filter(_is_one())
    if found.is_empty():
        return rows.with_columns(pl.lit(0.0).alias(PUNCTURES))
    item = [ROW, INJURY, INJURY_CHOICE]
    holes = found.unique(item, keep="first", maintain_order=True).select(*item, "clock", END)
    others = holes.select(ROW, pl.col(INJURY).alias("other"), pl.col("clock").alias("other clock"))
    ahead = (pl.col("other clock") - pl.col("clock")) % 360.0
    is_good = pl.col(END) == GOOD
    is_in = ((ahead <= SECTOR_DEG).fill_null(~is_good)) | (pl.col(INJURY) == pl.col("other"))
    near = holes.join(others, on=ROW, how="inner").with_columns(is_in.alias("is in"))
    # A neighbour that may be read in several ways counts when any of them lies in the sector.
    by_other = near.group_by([*item, "other"], maintain_order=True).agg(pl.col("is in").any())
    counted = by_other.group_by(item, maintain_order=True).agg(pl.col("is in").sum().cast(pl.Float64).alias(PUNCTURES))
    return add_columns(rows, counted, on=item).with_columns(pl.col(PUNCTURES).fill_null(0.0))


def alone_in_sector() -> pl.Expr:
    """Return the number for an injury that has no neighbour: itself, if it is such a puncture."""
    return pl.when(_is_one()).then(1.0).otherwise(0.0).alias(PUNCTURES)


def _is_one() -> pl.Expr:
    return (pl.col("kind") == "puncture") & pl.col("zone").is_in(CROWN)
