"""Facts that decide how a repair is done: thickness, sag under a rigid shoe, dew point."""

from collections.abc import Iterator

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.sectors import CROWN
from mendbook.facts.spacing import CLASS
from mendbook.facts.steps import Step, columns

SIDEWALL_RADIUS = 0.45  # of section height; house default, a template on the tyre beats it
CROWN_RADIUS = 1.3  # of section width, across the crown; house default


def method_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the facts of the method stage.

    A cavity depth that was not measured is previewed from the thickness of such a casing (house, from
    memory): its low end at the good reading, else its high end. Sag of a rigid shoe of length L on a wall
    of radius r is L^2 / (8 r) (circular arc, small angle). Dew point after Magnus (WMO Guide to Instruments
    No. 8, annex 4.B; from memory).
    """
    yield from lookup.steps(
        "sidewall low", "sidewall high", "shoulder low", "shoulder high", "crown low", "crown high",
        "reinforcement low", "reinforcement high",
    )  # fmt: skip
    crown, shoulder = pl.col("zone").is_in(CROWN), pl.col("zone") == "shoulder"
    wall = (
        pl.when(crown).then(_preview("crown")).when(shoulder).then(_preview("shoulder")).otherwise(_preview("sidewall"))
    )
    measured = pl.when(pl.col("depth is known") == "yes").then(pl.col("depth")).otherwise(wall)
    # Heat goes through the casing that is left under a cavity too.
    under = (
        pl.when(pl.col("reaches") == "through")
        .then(pl.col("cavity depth"))
        .otherwise(pl.max_horizontal(pl.col("cavity depth"), wall))
    )
    reinforced = pl.col(CLASS).is_in(["reinforce", "section", "reject"])
    yield columns(
        cavity_depth=measured,
        reinforcement_thickness=pl.when(reinforced).then(_preview("reinforcement")).otherwise(0.0),
    )
    border = 2.0 * pl.max_horizontal(pl.lit(40.0), 0.8 * pl.col("cavity depth"))
    around = pl.col("rim") / 2.0 + pl.col("height")
    across = pl.when(crown).then(CROWN_RADIUS * pl.col("inflated width")).otherwise(SIDEWALL_RADIUS * pl.col("height"))
    sag = pl.max_horizontal(
        (pl.col("deciding length") + border) ** 2 / (8.0 * around),
        (pl.col("deciding width") + border) ** 2 / (8.0 * across),
    )
    warm = pl.col("shop temperature")
    gamma = (pl.col("shop humidity") / 100.0).clip(0.01, 1.0).log() + 17.62 * warm / (243.12 + warm)
    yield columns(
        thickness=pl.when(reinforced).then(under).otherwise(pl.col("cavity depth")) + pl.col("reinforcement thickness"),
        shoe_sag=sag.fill_null(500.0).clip(0.0, 500.0),
        dew_point_margin=warm - 243.12 * gamma / (17.62 - gamma),
    )


def _preview(part: str) -> pl.Expr:
    return pl.when(pl.col(END) == GOOD).then(pl.col(f"{part} low")).otherwise(pl.col(f"{part} high"))
