"""Facts that decide how a repair is done: thickness, sag under a rigid shoe, dew point."""

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.spacing import CLASS

SIDEWALL_RADIUS = 0.45  # of section height; house default, a template on the tyre beats it
CROWN_RADIUS = 1.3  # of section width, across the crown; house default


def derive_method(rows: pl.DataFrame, lookup: Lookup) -> pl.DataFrame:
    """Return the injury rows with the facts of the method stage.

    A cavity depth that was not measured is previewed from the thickness of such a casing (house, from
    memory): its low end at the good reading, else its high end. Sag of a rigid shoe of length L on a wall
    of radius r is L^2 / (8 r) (circular arc, small angle). Dew point after Magnus (WMO Guide to Instruments
    No. 8, annex 4.B; from memory).
    """
    rows = lookup.attach(
        rows, "sidewall low", "sidewall high", "shoulder low", "shoulder high", "crown low", "crown high",
        "reinforcement low", "reinforcement high",
    )  # fmt: skip
    zone = pl.col("zone")
    good = pl.col(END) == GOOD

    def preview(part: str) -> pl.Expr:
        return pl.when(good).then(pl.col(f"{part} low")).otherwise(pl.col(f"{part} high"))

    wall = (
        pl.when(zone.str.starts_with("crown"))
        .then(preview("crown"))
        .when(zone == "shoulder")
        .then(preview("shoulder"))
        .otherwise(preview("sidewall"))
    )
    cavity = pl.when(pl.col("depth is known") == "yes").then(pl.col("depth")).otherwise(wall)
    reinforced = pl.col(CLASS).is_in(["reinforce", "section", "reject"])
    unit = pl.when(reinforced).then(preview("reinforcement")).otherwise(0.0)
    rows = rows.with_columns(cavity.alias("cavity depth"), unit.alias("reinforcement thickness"))
    rows = rows.with_columns((pl.col("cavity depth") + pl.col("reinforcement thickness")).alias("thickness"))
    border = 2.0 * pl.max_horizontal(pl.lit(40.0), 0.8 * pl.col("cavity depth"))
    around = pl.col("rim") / 2.0 + pl.col("height")
    across = (
        pl.when(zone.str.starts_with("crown"))
        .then(CROWN_RADIUS * pl.col("inflated width"))
        .otherwise(SIDEWALL_RADIUS * pl.col("height"))
    )
    sag = pl.max_horizontal(
        (pl.col("deciding length") + border) ** 2 / (8.0 * around), (pl.col("deciding width") + border) ** 2 / (8.0 * across)
    )
    humidity = (pl.col("shop humidity") / 100.0).clip(0.01, 1.0)
    warm = pl.col("shop temperature")
    gamma = humidity.log() + 17.62 * warm / (243.12 + warm)
    dew_point = 243.12 * gamma / (17.62 - gamma)
    return rows.with_columns(
        sag.fill_null(500.0).clip(0.0, 500.0).alias("shoe sag"), (warm - dew_point).alias("dew point margin")
    )
