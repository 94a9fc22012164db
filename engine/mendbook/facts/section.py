"""The outline of the section from the designation: where the zones lie, measured from the bead toe."""

from collections.abc import Iterator

import polars as pl

from mendbook.facts.steps import Step, columns

OUTLINE_NUMBERS = (
    "bead share", "bead floor", "lower sidewall share", "upper sidewall share", "shoulder share", "crown edge share",
    "side per height", "side per width", "flange per height", "flange plus", "flange least", "bead beyond flange",
    "tread width share", "belt edge floor", "belt edge share",
)  # fmt: skip
ZONES = ("bead", "lower sidewall", "upper sidewall", "shoulder", "crown edge", "crown centre")


def section_steps() -> Iterator[Step]:
    """Yield the steps to the outline [mm along the surface from the bead toe], from OUTLINE_NUMBERS.

    A measured outside diameter wins over the height from the designation. All outline numbers are house
    defaults of the tables `section geometry` and `section outline`; a tape on the tyre beats them.
    """
    yield columns(
        height=pl.coalesce((pl.col("outside diameter") - pl.col("rim")) / 2.0, pl.col("section height")).clip(0.0),
        tread_width=pl.col("tread width share") * pl.col("inflated width"),
    )
    height, half = pl.col("height"), pl.col("tread width") / 2.0
    flange = pl.max_horizontal(pl.col("flange least"), pl.col("flange per height") * height + pl.col("flange plus"))
    bead = pl.max_horizontal(pl.col("bead share") * height, "bead floor", flange + pl.col("bead beyond flange"))
    side = pl.col("side per height") * height - pl.col("side per width") * pl.col("inflated width")
    yield columns(
        bead_ends=bead,
        lower_sidewall_ends=pl.max_horizontal(bead, pl.col("lower sidewall share") * side),
        upper_sidewall_ends=pl.col("upper sidewall share") * side,
        shoulder_ends=side + half - pl.col("shoulder share") * half,
        crown_edge_ends=side + half - pl.col("crown edge share") * half,
        crown_centre_ends=side + half,
        half_girth=(side + half).clip(1.0),  # others are divided by it
        belt_edge_band=pl.max_horizontal("belt edge floor", pl.col("belt edge share") * pl.col("tread width")),
    )


def zone_bounds(zone: str) -> tuple[pl.Expr, pl.Expr]:
    """Return where `zone` begins and ends [mm from the bead toe]."""
    place = ZONES.index(zone)
    start = pl.lit(0.0) if place == 0 else pl.col(f"{ZONES[place - 1]} ends")
    return start, pl.col(f"{zone} ends")
