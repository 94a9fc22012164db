"""Every zone that an injury's edge touches: one row for each, and the strictest row wins later."""

from collections.abc import Iterator

import polars as pl

from mendbook.facts.readings import BAD, GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.section import ZONES, zone_bounds
from mendbook.facts.steps import Step, columns

LOW, HIGH = "lower edge", "upper edge"
CENTRELINE_ERROR = 3.0  # mm; house default for a tape laid over the crown


def zone_steps() -> Iterator[Step]:
    """Yield the steps to the injury's edges [mm from the bead toe] and to one row for each zone they touch.

    Edges move out at the bad reading and in at the good one. An injury whose place was measured from the
    crown centreline is brought to the same measure. One whose place was not measured, but whose zone was
    named, is taken as near to the bead as its zone allows (at the good reading, as far).
    """
    low, high = _edges()
    yield columns(lower_edge=low.clip(0.0), upper_edge=high)
    yield columns(upper_edge=pl.max_horizontal(LOW, HIGH))
    yield _touch()


def _edges() -> tuple[pl.Expr, pl.Expr]:
    width, placed, good = pl.col("deciding width"), pl.col("placed from"), pl.col(END) == GOOD
    from_bead, from_centre = pl.col("distance from bead"), pl.col("distance from centreline")
    beyond = pl.col("separation halo") + pl.col("rust")
    shift = pl.when(pl.col(END) == BAD).then(CENTRELINE_ERROR).when(good).then(-CENTRELINE_ERROR).otherwise(0.0)
    named_low, named_high = (_by_zone(side) for side in (0, 1))
    named = pl.when(good).then(pl.max_horizontal(named_low, named_high - width)).otherwise(named_low)
    bead, centre = placed == "bead", placed == "centreline"
    low = (
        pl.when(bead)
        .then(from_bead - beyond)
        .when(centre)
        .then(pl.col("half girth") - from_centre - width - shift + beyond)
        .otherwise(named)
    )
    high = (
        pl.when(bead)
        .then(from_bead - beyond + width + 2.0 * (pl.col("distance as read") - from_bead))
        .when(centre)
        .then(pl.col("half girth") - from_centre + shift + beyond)
        .otherwise(named + width)
    )
    return low, high


def _by_zone(side: int) -> pl.Expr:
    """Return where the named zone begins (side 0) or ends (side 1) [mm from the bead toe]."""
    chain: pl.Expr = pl.lit(None, pl.Float64)
    for zone in ZONES:
        chain = pl.when(pl.col("zone") == zone).then(zone_bounds(zone)[side]).otherwise(chain)
    return chain


def _touch() -> Step:
    """Return the step to one row for each zone between the edges; a zone that was named stays as it is."""
    touched = []
    for zone in ZONES:
        start, end = zone_bounds(zone)
        # The crown centre runs on past the centreline to its mirror image.
        before_end = pl.lit(value=True) if zone == ZONES[-1] else pl.col(LOW) < end
        touched.append(pl.when(before_end & ((pl.col(HIGH) > start) | (pl.col(LOW) >= start))).then(pl.lit(zone)))
    measured = pl.col("placed from") != "zone"
    zones = pl.when(measured).then(pl.concat_list(touched).list.drop_nulls()).otherwise(pl.concat_list("zone"))

    def touch(frame: pl.DataFrame) -> pl.DataFrame:
        found = frame.select(zones.alias("zone")).get_column("zone")
        if found.list.len().max() == 1:  # the common case; nothing is to be multiplied
            return frame.with_columns(found.list.first())
        return frame.with_columns(found).explode("zone")

    return touch
