"""Spacing: what one injury's repair means for the next, once each has a repair class."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.facts.earlier import list_earlier
from mendbook.facts.lookup import Lookup
from mendbook.facts.pairs import FAR, NO_ANGLE, NONE_NEAR, measure_pair, place_pair, run_through, share_pairs
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END, INJURY, INJURY_CHOICE, ROW
from mendbook.facts.section import ZONES
from mendbook.facts.steps import Step, add_columns, run
from mendbook.facts.zones import HIGH, LOW, zone_bits
from mendbook.terms.case import Repair

CLASS, TYRE_CLASS = "repair class", "tyre class"

_ITEM = (
    "item", "choice of item", "serious", "sectioned", "side", "zones", "clock", "length", "width", "centre",
    "reinforcement length", "reinforcement width", "ply share",
)  # fmt: skip

_LEAST = ("gap", "angle of pair", "facing angle")
_MOST = ("joint length", "joint width")
_SUMMED = ("path length", "path plies")
_BETWEEN = ("joint length", "joint width", "path length", "path plies", "angle of pair")
_OF_ITEM = [ROW, "item", "choice of item"]
_BITS = pl.col("zone").replace_strict(list(ZONES), [zone_bits([zone]) for zone in ZONES], return_dtype=pl.Int64)
_SERIOUS = ("reinforce", "section", "reject")
SPACED_BY = (
    ROW, INJURY, INJURY_CHOICE, END, CLASS, "construction", "cord path offset", "half girth", "rim", "height",
    "least gap", "least angle", "ply share", "side", "clock", "zone", "deciding length", "deciding width",
    "reinforcement extra", LOW, HIGH,
)  # fmt: skip


def spacing_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the least gap [mm] and the least angle [deg]."""
    yield from lookup.steps("least gap", "least angle")


def derive_spacing(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Return the injury rows with gap, angle, the box round two close injuries, and shared cord paths.

    Gaps run between reinforcement edges [mm] and are set against the least gap of the class; angles [deg] are
    those between two section repairs in one zone and side. A place that is not known is taken as far at the
    good reading and as near else.
    """
    items = _items(rows)
    others = items if not repairs else pl.concat([items, _earlier(rows, repairs)], how="diagonal_relaxed")
    if not _is_any_pair(others):
        return rows.with_columns(alone())
    own = [ROW, INJURY, INJURY_CHOICE]
    rows = add_columns(rows, _near(items, others), on=own, right_on=_OF_ITEM)
    return share_pairs()(rows).drop(_BETWEEN)


def space_many(rows: pl.DataFrame, case: str) -> pl.DataFrame:
    """Return the injury rows of many tyres, told apart by the column `case`, with the same columns.

    Neighbours are sought on those tyres alone that have two injuries which need a reinforcement.
    """
    needed = [name for name in SPACED_BY if name in rows.columns]
    looked_at = rows.select(case, *needed)
    serious = looked_at.filter(pl.col(CLASS).is_in(_SERIOUS))
    paired = serious.group_by(case, ROW).agg(pl.col(INJURY).n_unique().alias("number")).filter(pl.col("number") > 1)
    if paired.is_empty():
        return rows.with_columns(alone())
    items = _items(looked_at.join(paired.select(case).unique(), on=case, how="semi"))
    own = [ROW, INJURY, INJURY_CHOICE]
    rows = add_columns(rows, _near(items, items), on=own, right_on=_OF_ITEM)
    is_alone = pl.col("angle of pair").is_null()
    by_itself = {one.meta.output_name(): one for one in alone()}
    shared = share_pairs()(rows)
    return shared.with_columns(
        pl.when(is_alone).then(one).otherwise(pl.col(name)).alias(name) for name, one in by_itself.items()
    ).drop(_BETWEEN)


def _near(items: pl.DataFrame, others: pl.DataFrame) -> pl.DataFrame:
    """Return for each item what lies between it and the nearest, widest and longest of its neighbours."""
    right = others.select(ROW, *(pl.col(name).alias(f"other {name}") for name in _ITEM))
    pairs = items.join(right, on=ROW, how="inner").filter(pl.col("item") != pl.col("other item"))
    pairs = run((place_pair(), measure_pair()), pairs)
    return (
        pairs.group_by([*_OF_ITEM, "other item"], maintain_order=True)
        .agg(_over_choices())
        .group_by(_OF_ITEM, maintain_order=True)
        .agg(pl.col(*_LEAST).min(), pl.col(*_MOST).max(), pl.col(*_SUMMED).sum())
    )


def _is_any_pair(items: pl.DataFrame) -> bool:
    """Return whether any reading holds two items that need a reinforcement; spacing is between those alone."""
    serious = items.filter("serious")
    if serious.get_column("item").n_unique() < 2:
        return False
    return bool((serious.group_by(ROW).agg(pl.col("item").n_unique()).get_column("item") > 1).any())


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
    keys = [ROW, INJURY, INJURY_CHOICE]
    extra = 2.0 * pl.col("reinforcement extra").max()
    length, width = pl.col("deciding length").first(), pl.col("deciding width").first()
    return (
        rows.group_by(keys, maintain_order=True)
        .agg(
            pl.col(
                END, "construction", "cord path offset", "half girth", "rim", "height", "least gap", "least angle",
                "ply share", "side", "clock",
            ).first(),
            _BITS.bitwise_or().alias("zones"),
            pl.col(CLASS).first().is_in(_SERIOUS).alias("serious"),
            pl.col(CLASS).first().is_in(["section", "reject"]).alias("sectioned"),
            length.alias("length"),
            width.alias("width"),
            run_through(pl.col("side"), (pl.col(LOW) + pl.col(HIGH)) / 2.0).first().alias("centre"),
            (length + extra).alias("reinforcement length"),
            (width + extra).alias("reinforcement width"),
        )
        .rename({INJURY: "item", INJURY_CHOICE: "choice of item"})
    )  # fmt: skip


def _earlier(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    tyres = rows.unique(ROW, keep="first", maintain_order=True)
    return list_earlier(tyres.select(ROW, END, "half girth", "inflated width"), repairs)


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
