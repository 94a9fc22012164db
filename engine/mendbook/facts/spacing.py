"""Spacing: what one injury's repair means for the next, once each has a repair class."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.facts.pairs import FAR, NO_ANGLE, NONE_NEAR, WALLS, measure_pair, place_pair, share_pairs
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import CHOICE, END, INJURY, INJURY_CHOICE, USE, VARIANT
from mendbook.facts.steps import Step, run
from mendbook.facts.zones import HIGH, LOW
from mendbook.terms.case import Repair
from mendbook.terms.quantity import Quantity

CLASS, TYRE_CLASS = "repair class", "tyre class"
TYRE_KEYS = (VARIANT, CHOICE, USE)

_ITEM = (
    "item", "choice of item", "serious", "sectioned", "side", "zones", "clock", "length", "width", "centre",
    "reinforcement length", "reinforcement width", "ply share",
)  # fmt: skip

_LEAST = ("gap", "angle of pair", "facing angle")
_MOST = ("joint length", "joint width")
_SUMMED = ("path length", "path plies")


def spacing_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the least gap [mm] and the least angle [deg]."""
    yield from lookup.steps("least gap", "least angle")


def derive_spacing(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Return the injury rows with gap, angle, the box round two close injuries, and shared cord paths.

    Gaps run between reinforcement edges [mm] and are set against the least gap of the class; angles [deg] are
    those between two section repairs in one zone and side. A place that is not known is taken as near at the
    bad reading and as far at the good one.
    """
    items = _items(rows)
    others = items if not repairs else pl.concat([items, _earlier(rows, repairs)], how="diagonal_relaxed")
    keys = list(TYRE_KEYS)
    if not _is_any_pair(others, keys):
        return rows.with_columns(alone())
    right = others.select(*keys, *(pl.col(name).alias(f"other {name}") for name in _ITEM))
    pairs = items.join(right, on=keys, how="inner").filter(pl.col("item") != pl.col("other item"))
    pairs = run((place_pair(), measure_pair()), pairs)
    item = [*keys, "item", "choice of item"]
    near = (
        pairs.group_by([*item, "other item"], maintain_order=True)
        .agg(_over_choices())
        .group_by(item, maintain_order=True)
        .agg(pl.col(*_LEAST).min(), pl.col(*_MOST).max(), pl.col(*_SUMMED).sum())
    )
    own = [*keys, INJURY, INJURY_CHOICE]
    rows = rows.join(near, left_on=own, right_on=item, how="left", maintain_order="left")
    return share_pairs()(rows).drop("joint length", "joint width", "path length", "path plies", "angle of pair")


def _is_any_pair(items: pl.DataFrame, keys: list[str]) -> bool:
    """Return whether any reading holds two items that need a reinforcement; spacing is between those alone."""
    serious = items.filter("serious")
    if serious.get_column("item").n_unique() < 2:
        return False
    return bool((serious.group_by(keys).agg(pl.col("item").n_unique()).get_column("item") > 1).any())


def alone() -> list[pl.Expr]:
    """Return the expressions of an injury that has no neighbour."""
    return [
        pl.lit(NONE_NEAR).alias("gap"),
        pl.lit(FAR).alias("gap share"),
        pl.lit(FAR).alias("angle share"),
        pl.lit(NO_ANGLE).alias("facing angle"),
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
    """One item for each injury and each way to read it, with every zone that it touches."""
    keys = [*TYRE_KEYS, INJURY, INJURY_CHOICE]
    extra = 2.0 * pl.col("reinforcement extra").max()
    length, width = pl.col("deciding length").first(), pl.col("deciding width").first()
    return (
        rows.group_by(keys, maintain_order=True)
        .agg(
            pl.col(
                END, "construction", "cord path offset", "half girth", "rim", "height", "least gap", "least angle",
                "ply share", "side", "clock",
            ).first(),
            pl.col("zone").alias("zones"),
            pl.col(CLASS).first().is_in(["reinforce", "section", "reject"]).alias("serious"),
            pl.col(CLASS).first().is_in(["section", "reject"]).alias("sectioned"),
            length.alias("length"),
            width.alias("width"),
            _through(pl.col("side"), (pl.col(LOW) + pl.col(HIGH)) / 2.0).first().alias("centre"),
            (length + extra).alias("reinforcement length"),
            (width + extra).alias("reinforcement width"),
        )
        .rename({INJURY: "item", INJURY_CHOICE: "choice of item"})
    )  # fmt: skip


def _earlier(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Earlier repairs as items of every reading; what the map leaves out is filled from the tyre."""
    tyres = rows.unique(list(TYRE_KEYS), keep="first", maintain_order=True).select(*TYRE_KEYS, "half girth")
    columns = {
        "item": [-1 - n for n in range(len(repairs))],
        "choice of item": [0] * len(repairs),
        "serious": [r.repair_class in ("reinforce", "section") for r in repairs],
        "sectioned": [r.repair_class == "section" for r in repairs],
        "side": [r.side or "crown" for r in repairs],
        "zones": [list(_zones(r)) for r in repairs],
        "clock": [_number(r.clock) for r in repairs],
        "from bead": [_number(r.distance_from_bead) for r in repairs],
        "from centre": [_number(r.distance_from_centreline) for r in repairs],
        "reinforcement length": [_number(r.length) or 0.0 for r in repairs],
        "reinforcement width": [_number(r.width) or 0.0 for r in repairs],
    }
    numbers = {"clock": pl.Float64, "from bead": pl.Float64, "from centre": pl.Float64}
    frame = pl.DataFrame(columns, schema_overrides={"item": pl.Int32, "choice of item": pl.Int32, **numbers})
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


def _over_choices() -> list[pl.Expr]:
    """Fold over the ways to read a neighbour: the mildest at the good reading, the worst else."""
    is_good, is_near = pl.col(END).first() == GOOD, pl.col("gap") < pl.col("least gap")
    worst_is_least = [(pl.col(name), True) for name in _LEAST]
    worst_is_most = [(pl.when(is_near).then(pl.col(name)).otherwise(0.0), False) for name in _MOST]
    worst_is_most += [(pl.col(name), False) for name in _SUMMED]
    names = (*_LEAST, *_MOST, *_SUMMED)
    return [
        pl.when(is_good == is_least).then(one.max()).otherwise(one.min()).alias(name)
        for name, (one, is_least) in zip(names, (*worst_is_least, *worst_is_most), strict=True)
    ]


def _zones(repair: Repair) -> Sequence[str]:
    """Return where an earlier repair may lie; one that is on a side but in no zone may lie anywhere in it."""
    if repair.zone:
        return (repair.zone,)
    return ("crown centre", "crown edge") if repair.side == "crown" else ("shoulder", *WALLS)


def _number(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value
