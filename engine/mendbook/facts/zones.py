"""Every zone that an injury's edge touches: one row for each, and the strictest row wins later."""

from collections.abc import Callable

import polars as pl

from mendbook.facts.readings import BAD, GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.section import ZONES, zone_bounds

LOW, HIGH = "lower edge", "upper edge"


def derive_edges(frame: pl.DataFrame) -> pl.DataFrame:
    """Return the rows with the injury's edges [mm from the bead toe], moved out at the bad reading, in at the good.

    An injury whose place was measured from the crown centreline is brought to the same measure. One whose
    place was not measured, but whose zone was named, is taken as near to the bead as its zone allows (at
    the good reading: as far).
    """
    width = pl.col("deciding width")
    beyond_edge = pl.col("separation halo") + pl.col("rust")
    from_bead = pl.col("distance from bead")
    shift = pl.when(pl.col(END) == BAD).then(3.0).when(pl.col(END) == GOOD).then(-3.0).otherwise(0.0)
    from_centre = pl.col("distance from centreline")
    named_low = _by_zone(lambda zone: zone_bounds(zone)[0])
    named_high = _by_zone(lambda zone: zone_bounds(zone)[1])
    placed = pl.col("placed from")
    low = (
        pl.when(placed == "bead")
        .then(from_bead - beyond_edge)
        .when(placed == "centreline")
        .then(pl.col("half girth") - from_centre - width - shift + beyond_edge)
        .when(pl.col(END) == GOOD)
        .then(pl.max_horizontal(named_low, named_high - width))
        .otherwise(named_low)
    )
    high = (
        pl.when(placed == "bead")
        .then(from_bead - beyond_edge + width + 2.0 * (pl.col("distance as read") - from_bead))
        .when(placed == "centreline")
        .then(pl.col("half girth") - from_centre + shift + beyond_edge)
        .otherwise(low + width)
    )
    return frame.with_columns(low.clip(0.0).alias(LOW), high.alias(HIGH)).with_columns(
        pl.max_horizontal(LOW, HIGH).alias(HIGH)
    )


def _by_zone(of: Callable[[str], pl.Expr]) -> pl.Expr:
    chain: pl.Expr = pl.lit(None, pl.Float64)
    for zone in ZONES:
        chain = pl.when(pl.col("zone") == zone).then(of(zone)).otherwise(chain)
    return chain


def touch_zones(frame: pl.DataFrame) -> pl.DataFrame:
    """Return one row for each zone between the edges; a zone that was named and not measured stays as it is."""
    touched = []
    for zone in ZONES:
        start, end = zone_bounds(zone)
        # The crown centre runs on past the centreline to its mirror image.
        beyond = pl.lit(value=True) if zone == ZONES[-1] else pl.col(LOW) < end
        inside = beyond & ((pl.col(HIGH) > start) | ((pl.col(LOW) >= start) & (pl.col(LOW) <= end)))
        touched.append(pl.when(inside).then(pl.lit(zone)))
    measured = pl.col("placed from") != "zone"
    zones = pl.when(measured).then(pl.concat_list(touched)).otherwise(pl.concat_list("zone"))
    return frame.with_columns(zones.list.drop_nulls().alias("zone")).explode("zone")
