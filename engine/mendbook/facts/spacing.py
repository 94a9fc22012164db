"""Number and spacing: what one injury's repair means for the next, once each has a repair class."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.facts.injuries import share
from mendbook.facts.lookup import Lookup
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import CHOICE, END, INJURY, USE, VARIANT
from mendbook.facts.steps import Step
from mendbook.facts.zones import HIGH, LOW
from mendbook.terms.case import Repair
from mendbook.terms.quantity import Quantity

CLASS, TYRE_CLASS = "repair class", "tyre class"
TYRE_KEYS = (VARIANT, CHOICE, USE)
FAR = 10_000.0  # per cent of the least gap or angle: nothing near
PATH_MARGIN_DEG = 10.0  # house default: clock angle by which cord paths of a radial are taken wider than the injury

_ITEM = (
    "item", "serious", "sectioned", "side", "zone", "clock", "length", "width", "centre",
    "reinforcement length", "reinforcement width", "ply share",
)  # fmt: skip


def number_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the numbers of repairs allowed."""
    yield from lookup.steps("section repairs allowed", "sidewall repairs allowed", "all repairs allowed")


def spacing_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the least gap [mm] and the least angle [deg]."""
    yield from lookup.steps("least gap", "least angle")


def derive_numbers(tyres: pl.DataFrame, injuries: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Return the tyre rows with the numbers of repairs as shares of the numbers allowed [%].

    `injuries` holds one row for each injury, with its repair class. An earlier repair counts by its class.
    """
    old_section = sum(r.repair_class == "section" for r in repairs)
    old_sidewall = {
        side: sum(
            r.repair_class == "section" and r.side == side and "sidewall" in (r.zone or "sidewall") for r in repairs
        )
        for side in ("serial side", "opposite side")
    }
    keys = list(TYRE_KEYS)
    if injuries.is_empty():
        counted = tyres.select(keys).with_columns(
            pl.lit(0).alias("counted sections"),
            pl.lit(0).alias("counted serial"),
            pl.lit(0).alias("counted opposite"),
            pl.lit(0).alias("counted all"),
        )
    else:
        section = pl.col(CLASS) == "section"
        in_wall = pl.col("zone").is_in(["upper sidewall", "lower sidewall"])
        counted = injuries.group_by(keys, maintain_order=True).agg(
            section.sum().alias("counted sections"),
            (section & in_wall & (pl.col("side") != "opposite side")).sum().alias("counted serial"),
            (section & in_wall & (pl.col("side") == "opposite side")).sum().alias("counted opposite"),
            pl.col(CLASS).is_in(["spot", "reinforce", "section"]).sum().alias("counted all"),
        )
    rows = tyres.join(counted, on=keys, how="left", maintain_order="left")
    wall = pl.max_horizontal(
        pl.col("counted serial") + old_sidewall["serial side"],
        pl.col("counted opposite") + old_sidewall["opposite side"],
    )
    return rows.with_columns(
        share((pl.col("counted sections") + old_section).cast(pl.Float64), pl.col("section repairs allowed")).alias(
            "share of section repairs"
        ),
        share(wall.cast(pl.Float64), pl.col("sidewall repairs allowed")).alias("share of sidewall repairs"),
        share(
            (pl.col("counted all") + sum(r.repair_class != "dress" for r in repairs)).cast(pl.Float64),
            pl.col("all repairs allowed"),
        ).alias("share of all repairs"),
    ).drop("counted sections", "counted serial", "counted opposite", "counted all")


def derive_spacing(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Return the injury rows with gap, angle, the box round two close injuries, and shared cord paths.

    Gaps run between reinforcement edges [mm] and are set against the least gap of the class; angles [deg] are
    those between two section repairs in one zone and side. A place that is not known is taken as near at the
    bad reading and as far at the good one.
    """
    items = _items(rows)
    others = items if not repairs else pl.concat([items, _earlier(rows, repairs)], how="diagonal_relaxed")
    if others.get_column("item").n_unique() < 2:
        return rows.with_columns(_alone())
    keys = list(TYRE_KEYS)
    right = others.select(*keys, *(pl.col(name).alias(f"other {name}") for name in _ITEM))
    pairs = items.join(right, on=keys, how="inner").filter(pl.col("item") != pl.col("other item"))
    pairs = _measure(pairs)
    near = pairs.group_by([*keys, "item"], maintain_order=True).agg(
        pl.col("gap").min(),
        pl.col("angle of pair").min().alias("least angle of pairs"),
        pl.col("joint length").filter(pl.col("gap") < pl.col("least gap")).max(),
        pl.col("joint width").filter(pl.col("gap") < pl.col("least gap")).max(),
        pl.col("path length").sum(),
        pl.col("path plies").sum(),
    )
    rows = rows.join(near, left_on=[*keys, INJURY], right_on=[*keys, "item"], how="left", maintain_order="left")
    length, width = pl.col("joint length"), pl.col("joint width")
    box = pl.col("area share") * pl.col("length limit") * pl.col("width limit")
    path = pl.col("path length").fill_null(0.0)
    return rows.with_columns(
        pl.col("gap").fill_null(20_000.0).clip(-5000.0, 20_000.0),
        (pl.col("gap") / pl.col("least gap") * 100.0).clip(0.0, FAR).fill_null(FAR).round(3).alias("gap share"),
        (pl.col("least angle of pairs") / pl.col("least angle") * 100.0)
        .clip(0.0, FAR)
        .fill_null(FAR)
        .round(3)
        .alias("angle share"),
        share(length, pl.col("length limit")).fill_null(0.0).alias("joint share of length limit"),
        share(width, pl.col("width limit")).fill_null(0.0).alias("joint share of width limit"),
        share(length * width, box).fill_null(0.0).alias("joint share of area limit"),
        pl.when(path > 0.0)
        .then(share(pl.col("deciding length") + path, pl.col("length limit")))
        .otherwise(0.0)
        .alias("path share of length limit"),
        (pl.col("ply share") + pl.col("path plies").fill_null(0.0)).clip(0.0, 1000.0).alias("path share of plies"),
    ).drop("joint length", "joint width", "path length", "path plies", "least angle of pairs")


def _alone() -> list[pl.Expr]:
    return [
        pl.lit(20_000.0).alias("gap"),
        pl.lit(FAR).alias("gap share"),
        pl.lit(FAR).alias("angle share"),
        *(
            pl.lit(0.0).alias(name)
            for name in (
                "joint share of length limit", "joint share of width limit", "joint share of area limit",
                "path share of length limit",
            )
        ),
        pl.col("ply share").alias("path share of plies"),
    ]  # fmt: skip


def _items(rows: pl.DataFrame) -> pl.DataFrame:
    """One item for each injury: the zone row with the larger reinforcement stands for all."""
    needs = pl.col(CLASS).is_in(["reinforce", "section", "reject"])
    items = rows.unique([*TYRE_KEYS, INJURY], keep="first", maintain_order=True)
    extra = 2.0 * pl.col("reinforcement extra")
    return items.select(
        *TYRE_KEYS, END, "construction", "half girth", "rim", "height", "least gap", "least angle", "ply share",
        pl.col(INJURY).alias("item"),
        needs.alias("serious"),
        pl.col(CLASS).is_in(["section", "reject"]).alias("sectioned"),
        "side", "zone", "clock",
        pl.col("deciding length").alias("length"),
        pl.col("deciding width").alias("width"),
        _through(pl.col("side"), (pl.col(LOW) + pl.col(HIGH)) / 2.0).alias("centre"),
        (pl.col("deciding length") + extra).alias("reinforcement length"),
        (pl.col("deciding width") + extra).alias("reinforcement width"),
    )  # fmt: skip


def _earlier(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Earlier repairs as items of every reading; what the map leaves out is filled from the tyre."""
    tyres = rows.unique(list(TYRE_KEYS), keep="first", maintain_order=True).select(*TYRE_KEYS, "half girth")
    frame = pl.DataFrame({
        "item": [-1 - n for n in range(len(repairs))],
        "serious": [r.repair_class in ("reinforce", "section") for r in repairs],
        "sectioned": [r.repair_class == "section" for r in repairs],
        "side": [r.side or "crown" for r in repairs],
        "zone": [r.zone or "crown centre" for r in repairs],
        "clock": [_number(r.clock) for r in repairs],
        "from bead": [_number(r.distance_from_bead) for r in repairs],
        "from centre": [_number(r.distance_from_centreline) for r in repairs],
        "reinforcement length": [_number(r.length) or 0.0 for r in repairs],
        "reinforcement width": [_number(r.width) or 0.0 for r in repairs],
    }, schema_overrides={"item": pl.Int32, "clock": pl.Float64, "from bead": pl.Float64, "from centre": pl.Float64})  # fmt: skip
    half = pl.col("reinforcement width") / 2.0
    place = pl.coalesce(pl.col("from bead") + half, pl.col("half girth") - pl.col("from centre") - half)
    return (
        tyres.join(frame, how="cross")
        .with_columns(
            _through(pl.col("side"), place).alias("centre"),
            pl.col("reinforcement length").alias("length"),
            pl.col("reinforcement width").alias("width"),
            pl.lit(0.0).alias("ply share"),
        )
        .drop("half girth", "from bead", "from centre")
    )


def _through(side: pl.Expr, from_bead: pl.Expr) -> pl.Expr:
    """Return the place along the whole section [mm], from the serial-side bead over the crown to the other bead."""
    return pl.when(side == "opposite side").then(2.0 * pl.col("half girth") - from_bead).otherwise(from_bead)


def _measure(pairs: pl.DataFrame) -> pl.DataFrame:
    turned = (pl.col("clock") - pl.col("other clock")).abs() % 360.0
    unknown = pl.when(pl.col(END) == GOOD).then(180.0).otherwise(0.0)
    angle = pl.min_horizontal(turned, 360.0 - turned).fill_null(unknown)
    # The girth is longest at the tread: the arc is taken at the inner of the two radii, which is the shorter.
    reach = pl.min_horizontal(
        pl.min_horizontal(pl.col("centre"), 2.0 * pl.col("half girth") - pl.col("centre")),
        pl.min_horizontal(pl.col("other centre"), 2.0 * pl.col("half girth") - pl.col("other centre")),
    )
    radius = pl.col("rim") / 2.0 + (reach / pl.col("half girth")).clip(0.0, 1.0) * pl.col("height")
    arc = angle.radians() * radius
    across = (pl.col("centre") - pl.col("other centre")).abs().fill_null(
        pl.when(pl.col(END) == GOOD).then(5000.0).otherwise(0.0)
    )  # fmt: skip
    round_gap = arc - (pl.col("reinforcement length") + pl.col("other reinforcement length")) / 2.0
    cross_gap = across - (pl.col("reinforcement width") + pl.col("other reinforcement width")) / 2.0
    apart = (round_gap.clip(0.0) ** 2 + cross_gap.clip(0.0) ** 2).sqrt()
    gap = pl.when((round_gap < 0.0) & (cross_gap < 0.0)).then(pl.max_horizontal(round_gap, cross_gap)).otherwise(apart)
    both = pl.col("serious") & pl.col("other serious")
    facing = (pl.col("side") != pl.col("other side")) & _in_wall("zone") & _in_wall("other zone")
    half_lengths = (pl.col("length") + pl.col("other length")) / 2.0
    same_path = facing & both & (arc <= half_lengths + radius * PATH_MARGIN_DEG * 3.141592653589793 / 180.0)
    same_place = (pl.col("zone") == pl.col("other zone")) & (pl.col("side") == pl.col("other side"))
    return pairs.with_columns(
        pl.when(both).then(gap).alias("gap"),
        pl.when(pl.col("sectioned") & pl.col("other sectioned") & same_place).then(angle).alias("angle of pair"),
        (arc + half_lengths).alias("joint length"),
        (across + (pl.col("width") + pl.col("other width")) / 2.0).alias("joint width"),
        pl.when(same_path).then(pl.col("other length")).otherwise(0.0).alias("path length"),
        pl.when(same_path).then(pl.col("other ply share")).otherwise(0.0).alias("path plies"),
    )


def _in_wall(column: str) -> pl.Expr:
    return pl.col(column).is_in(["upper sidewall", "lower sidewall"])


def _number(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value
