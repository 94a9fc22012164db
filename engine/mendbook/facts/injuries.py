"""Facts of one injury in one zone: the sizes that decide, the limits after every factor, shares and clearances."""

from collections.abc import Iterator
from math import pi

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.steps import Step, columns
from mendbook.facts.zones import LOW, radius_at

OVER_ANY_LIMIT = 100_000.0  # per cent; stands for a size where none is allowed
NO_SPLICE_GAP = 2000.0  # mm; as the vocabulary has it
NO_SPLICE = 1000.0  # per cent of section width; where no open splice is near
UNCOUNTED = 1.2  # house default: cords worked out from length and pitch are taken a fifth higher
NO_CORD_LIMIT = 100.0  # where no cord table speaks (bias, textile, crown) cords are not what limits


def size_steps() -> Iterator[Step]:
    """Yield the steps to the sizes that decide [mm].

    The larger of the size at cord level and the break seen from inside, with the separation halo and rust on
    both sides. A slanted path that was not skived adds its sideways run, depth x tan(angle), both ways.
    """
    around = 2.0 * (pl.col("separation halo") + pl.col("rust"))
    is_slanted = (pl.col("skived") == "no") & (pl.col("path angle") > 0.0)
    slant = pl.when(is_slanted).then(pl.col("depth") * pl.col("path angle").radians().tan()).otherwise(0.0)
    length = (pl.max_horizontal("length", "inside length") + around + slant).clip(0.0, 5000.0)
    width = (pl.max_horizontal("width", "inside width") + around + slant).clip(0.0, 5000.0)
    outer = pl.max_horizontal("outside length", "length", "width")
    yield columns(deciding_length=length, deciding_width=width, slant=slant, outer_cut=outer)
    hole = pl.max_horizontal("deciding length", "deciding width")
    yield columns(
        hole=hole,
        hole_share=(hole / pl.col("section width") * 100.0).round(6),
        outer_cut_share=(pl.col("outer cut") / pl.col("section width") * 100.0).round(6),
        splice_share=_splice_share(),
    )


def _splice_share() -> pl.Expr:
    """Return the distance to the nearest open splice as a share of section width [%]; its top stands for none."""
    gap = pl.col("splice gap")
    near = (gap / pl.col("section width") * 100.0).round(6).clip(0.0, NO_SPLICE)
    return pl.when(gap >= NO_SPLICE_GAP).then(NO_SPLICE).otherwise(near)


def table_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the numbers that hang on listed facts alone."""
    yield from lookup.steps(
        "cord pitch", "table length", "table width", "table cords", "casing factor", "area share", "rubber box",
        "round down", "extra share", "extra floor",
    )  # fmt: skip


def count_steps() -> Iterator[Step]:
    """Yield the steps to plies, belts and cords damaged, counted or worked out, as shares of what there is [%]."""
    excess = pl.when(pl.col(END) == GOOD).then(1.0).otherwise(UNCOUNTED)
    worked_out = (pl.col("deciding length") / pl.col("cord pitch") * excess).round(3).ceil()
    cords = pl.when(pl.col("cords are counted") == "yes").then(pl.col("cords cut")).otherwise(worked_out)
    is_through, is_deep = pl.col("reaches") == "through", pl.col("reaches").is_in(["plies", "through"])
    plies = (pl.col("plies damaged") / pl.col("plies") * 100.0).clip(0.0, 100.0)
    belts = (pl.col("belts damaged") / pl.col("belts") * 100.0).clip(0.0, 100.0)
    yield columns(
        cords_cut_counted=pl.when(is_deep).then(cords).otherwise(0.0).clip(0.0, 1000.0),
        ply_share=pl.when(is_through).then(100.0).when(is_deep).then(plies).otherwise(0.0).round(6),
        belt_share=pl.when(is_deep).then(belts).otherwise(0.0).round(6),
    )
    is_cut = pl.col("cords cut counted") > 0.0
    yield columns(cut_cords=pl.when(is_cut).then(pl.lit("some")).otherwise(pl.lit("none")))


def limit_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to limits and shares: table limit x factors, rounded down, then size over limit [%]."""
    yield from lookup.steps("relief factor", "few plies factor")
    factor = pl.col("severity factor")
    for name in ("casing factor", "few plies factor"):
        factor = factor * pl.col(name).fill_null(1.0)
    relief = pl.col("relief factor").fill_null(1.0)
    yield columns(
        length_limit=_rounded_down(pl.col("table length") * factor * relief),
        width_limit=_rounded_down(pl.col("table width") * factor * relief),
        # Rounded after its own factor, as relief is: rounding first would make the rubber box the tighter one.
        rubber_length_limit=_rounded_down(pl.col("table length") * factor * pl.col("rubber box")),
        cord_limit=(pl.col("table cords") * pl.col("severity factor")).round(6).floor().fill_null(NO_CORD_LIMIT),
    )
    length, width = pl.col("deciding length"), pl.col("deciding width")
    box = pl.col("area share") * pl.col("length limit") * pl.col("width limit")
    cords = share(pl.col("cords cut counted"), pl.col("cord limit"))
    yield columns(
        share_of_length_limit=share(length, pl.col("length limit")),
        share_of_width_limit=share(width, pl.col("width limit")),
        share_of_area_limit=share(length * width, box),
        share_of_cord_limit=pl.when(pl.col("table cords").is_null()).then(0.0).otherwise(cords),
        **{"share of length limit, rubber": share(length, pl.col("rubber length limit"))},
    )


def _rounded_down(limit: pl.Expr) -> pl.Expr:
    step = pl.col("round down")
    # The product of decimal factors may fall a hair short of the step it reaches on paper.
    return (limit / step).round(6).floor() * step


def share(size: pl.Expr, limit: pl.Expr) -> pl.Expr:
    """Return size / limit [%]; anything above nothing is over any limit where the limit is nothing."""
    where_none = pl.when(size > 0.0).then(OVER_ANY_LIMIT).otherwise(0.0)
    return pl.when(limit > 0.0).then((size / limit * 100.0).round(6)).otherwise(where_none).clip(0.0, OVER_ANY_LIMIT)


def clearance_steps() -> Iterator[Step]:
    """Yield the steps to the distances from the bands where nothing may be repaired [mm], negative inside them.

    With them the distance to the edge of the zone for minor repairs, and the share of the girth [%] that an injury
    takes at its inner edge, where the girth is shortest.
    """
    extra = pl.max_horizontal("extra floor", pl.col("extra share") * pl.col("inflated width"))
    by_name = pl.col("placed from") == "zone"
    clear = pl.col(LOW) - pl.col("bead ends")
    bead = (
        pl.when(by_name & (pl.col("zone") == "bead"))
        .then(-1.0)
        .when(by_name)
        .then(clear.fill_null(0.0))
        .otherwise(clear)
    )
    belt = pl.col("belt edge distance") - pl.col("belt edge band")
    inside_minor = pl.col("minor zone width") / 2.0 - (pl.col("half girth") - pl.col(LOW))
    girth = 2.0 * pi * radius_at(pl.col(LOW))
    yield columns(
        reinforcement_extra=extra,
        bead_clearance=bead.round(3).clip(-1000.0, 3000.0),
        reinforcement_clearance=(bead - extra).round(3).clip(-3000.0, 3000.0),
        belt_edge_clearance=belt.round(3).clip(-1000.0, 3000.0),
        minor_zone_margin=inside_minor.round(3).clip(-3000.0, 1000.0),
        girth_share=(pl.col("deciding length") / girth * 100.0).round(6).clip(0.0, 100.0),
    )
