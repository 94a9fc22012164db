"""The outline of the section from the designation: where the zones lie, measured from the bead toe."""

import polars as pl

from mendbook.facts.lookup import Lookup

ZONES = ("bead", "lower sidewall", "upper sidewall", "shoulder", "crown edge", "crown centre")


def derive_section(frame: pl.DataFrame, lookup: Lookup) -> pl.DataFrame:
    """Return the rows with the outline [mm along the surface from the bead toe].

    A measured outside diameter wins over the height from the designation. All outline numbers are house
    defaults of the tables `section geometry` and `section outline`; a tape on the tyre beats them.
    """
    frame = lookup.attach(
        frame,
        "bead share", "bead floor", "lower sidewall share", "upper sidewall share", "shoulder share",
        "crown edge share", "side per height", "side per width", "flange per height", "flange plus", "flange least",
        "bead beyond flange", "tread width share", "belt edge floor", "belt edge share",
    )  # fmt: skip
    height = pl.coalesce((pl.col("outside diameter") - pl.col("rim")) / 2.0, pl.col("section height"))
    frame = frame.with_columns(
        height.alias("height"), (pl.col("tread width share") * pl.col("inflated width")).alias("tread width")
    )
    height = pl.col("height")
    side = pl.col("side per height") * height - pl.col("side per width") * pl.col("inflated width")
    flange = pl.max_horizontal(pl.col("flange least"), pl.col("flange per height") * height + pl.col("flange plus"))
    half = pl.col("tread width") / 2.0
    frame = frame.with_columns(
        side.alias("side"),
        (side + half).alias("half girth"),
        pl.max_horizontal(
            pl.col("bead share") * height, pl.col("bead floor"), flange + pl.col("bead beyond flange")
        ).alias("bead ends"),
    )
    girth = pl.col("half girth")
    return frame.with_columns(
        pl.max_horizontal("bead ends", pl.col("lower sidewall share") * pl.col("side")).alias("lower sidewall ends"),
        (pl.col("upper sidewall share") * pl.col("side")).alias("upper sidewall ends"),
        (girth - pl.col("shoulder share") * half).alias("shoulder ends"),
        (girth - pl.col("crown edge share") * half).alias("crown edge ends"),
        girth.alias("crown centre ends"),
        pl.max_horizontal("belt edge floor", pl.col("belt edge share") * pl.col("tread width")).alias("belt edge band"),
    )


def zone_bounds(zone: str) -> tuple[pl.Expr, pl.Expr]:
    """Return where `zone` begins and ends [mm from the bead toe]."""
    place = ZONES.index(zone)
    start = pl.lit(0.0) if place == 0 else pl.col(f"{ZONES[place - 1]} ends")
    return start, pl.col(f"{zone} ends")
