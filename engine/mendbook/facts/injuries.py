"""Facts of one injury in one zone: the sizes that decide, the limits after every factor, shares and clearances."""

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.zones import LOW

OVER_ANY_LIMIT = 100_000.0  # per cent; stands for a size where none is allowed
UNCOUNTED = 1.2  # house default: cords worked out from length and pitch are taken a fifth higher


def derive_sizes(frame: pl.DataFrame) -> pl.DataFrame:
    """Return the rows with the sizes that decide [mm].

    The larger of the size at cord level and the break seen from inside, with the separation halo and rust on
    both sides. A slanted path that was not skived adds its sideways run, depth x tan(angle), both ways.
    """
    around = 2.0 * (pl.col("separation halo") + pl.col("rust"))
    slant = (
        pl.when((pl.col("skived") == "no") & (pl.col("path angle") > 0.0))
        .then(pl.col("depth") * pl.col("path angle").radians().tan())
        .otherwise(0.0)
    )
    frame = frame.with_columns(
        (pl.max_horizontal("length", "inside length") + around + slant).clip(0.0, 5000.0).alias("deciding length"),
        (pl.max_horizontal("width", "inside width") + around + slant).clip(0.0, 5000.0).alias("deciding width"),
    )
    hole = pl.max_horizontal("deciding length", "deciding width")
    outer = pl.max_horizontal("outside length", "length", "width")
    return frame.with_columns(
        hole.alias("hole"),
        (hole / pl.col("section width") * 100.0).round(6).alias("hole share"),
        outer.alias("outer cut"),
        (outer / pl.col("section width") * 100.0).round(6).alias("outer cut share"),
    )


def derive_counts(frame: pl.DataFrame, lookup: Lookup) -> pl.DataFrame:
    """Return the rows with plies, belts and cords damaged as shares of what there is [%]."""
    frame = lookup.attach(frame, "cord pitch")
    through = pl.col("reaches") == "through"
    worked_out = (pl.col("deciding length") / pl.col("cord pitch")) * pl.when(pl.col(END) == GOOD).then(
        1.0
    ).otherwise(UNCOUNTED)
    known = pl.col("cords are counted") == "yes"
    cords = pl.when(known).then(pl.col("cords cut")).otherwise(worked_out.round(3).ceil())
    deep = pl.col("reaches").is_in(["plies", "through"])
    plies = pl.when(through).then(100.0).otherwise((pl.col("plies damaged") / pl.col("plies") * 100.0).clip(0.0, 100.0))
    belts = (pl.col("belts damaged") / pl.col("belts") * 100.0).clip(0.0, 100.0)
    return frame.with_columns(
        pl.when(deep).then(cords).otherwise(0.0).clip(0.0, 1000.0).alias("cords cut counted"),
        pl.when(deep).then(plies).otherwise(0.0).round(6).alias("ply share"),
        pl.when(deep).then(belts).otherwise(0.0).round(6).alias("belt share"),
    )


def derive_limits(frame: pl.DataFrame, lookup: Lookup) -> pl.DataFrame:
    """Return the rows with limits and shares: table limit x factors, rounded down, then size over limit [%]."""
    frame = lookup.attach(
        frame, "table length", "table width", "table cords", "casing factor", "relief factor", "few plies factor",
        "area share", "rubber box", "round down",
    )  # fmt: skip
    factor = (
        pl.col("severity factor")
        * pl.col("casing factor").fill_null(1.0)
        * pl.col("relief factor").fill_null(1.0)
        * pl.col("few plies factor").fill_null(1.0)
    )
    step = pl.col("round down")
    frame = frame.with_columns(
        ((pl.col("table length") * factor / step).round(6).floor() * step).alias("length limit"),
        ((pl.col("table width") * factor / step).round(6).floor() * step).alias("width limit"),
        # Where no cord table speaks (bias, textile, crown) cords are not what limits.
        (pl.col("table cords") * pl.col("severity factor")).round(6).floor().fill_null(100.0).alias("cord limit"),
    )
    length, width = pl.col("deciding length"), pl.col("deciding width")
    box = pl.col("area share") * pl.col("length limit") * pl.col("width limit")
    return frame.with_columns(
        share(length, pl.col("length limit")).alias("share of length limit"),
        share(width, pl.col("width limit")).alias("share of width limit"),
        share(length * width, box).alias("share of area limit"),
        pl.when(pl.col("table cords").is_null())
        .then(0.0)
        .otherwise(share(pl.col("cords cut counted"), pl.col("cord limit")))
        .alias("share of cord limit"),
        share(length, pl.col("rubber box") * pl.col("length limit")).alias("share of length limit, rubber"),
    )


def share(size: pl.Expr, limit: pl.Expr) -> pl.Expr:
    """Return size / limit [%]; anything above nothing is over any limit where the limit is nothing."""
    return (
        pl.when(limit > 0.0)
        .then((size / limit * 100.0).round(6))
        .when(size > 0.0)
        .then(OVER_ANY_LIMIT)
        .otherwise(0.0)
        .clip(0.0, OVER_ANY_LIMIT)
    )


def derive_clearances(frame: pl.DataFrame, lookup: Lookup) -> pl.DataFrame:
    """Return the rows with distances to the bands where nothing may be repaired [mm], negative inside them."""
    frame = lookup.attach(frame, "extra share", "extra floor")
    extra = pl.max_horizontal("extra floor", pl.col("extra share") * pl.col("inflated width"))
    in_bead = (pl.col("placed from") == "zone") & (pl.col("zone") == "bead")
    by_name = pl.col("placed from") == "zone"
    clear = pl.col(LOW) - pl.col("bead ends")
    bead = pl.when(in_bead).then(-1.0).when(by_name).then(clear.fill_null(0.0)).otherwise(clear)
    return frame.with_columns(
        extra.alias("reinforcement extra"),
        bead.round(3).clip(-1000.0, 3000.0).alias("bead clearance"),
        (bead - extra).round(3).clip(-3000.0, 3000.0).alias("reinforcement clearance"),
        (pl.col("belt edge distance") - pl.col("belt edge band"))
        .round(3)
        .clip(-1000.0, 3000.0)
        .alias("belt edge clearance"),
    )
