"""Spacing: what one injury's repair means for the next, once each has a repair class."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.facts.earlier import list_earlier
from mendbook.facts.lookup import Lookup
from mendbook.facts.pairs import FAR, NO_ANGLE, NONE_NEAR, measure_pair, place_pair, run_through, share_pairs
from mendbook.facts.runs import Runs, fold_choices
from mendbook.facts.scenarios import END, INJURY, INJURY_CHOICE, ROW
from mendbook.facts.section import ZONES
from mendbook.facts.steps import Step, places_in, run
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
_WAY, _OF_ITEM = (ROW, INJURY, INJURY_CHOICE), (ROW, "item", "choice of item")
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
    good reading and as near else. Neighbours are sought among those injuries alone that may need a reinforcement,
    on tyres that have two of them, or `repairs` on the map.
    """
    paired = _paired(rows, has_earlier=bool(repairs))
    by_itself = {one.meta.output_name(): one for one in alone()}
    if not paired.any():
        return rows.with_columns(by_itself.values())
    looked_at = {*SPACED_BY, *share_pairs().looks_at}
    some = rows.select(name for name in rows.columns if name in looked_at).filter(paired)
    items = _items(some)
    others = items if not repairs else pl.concat([items, _earlier(rows, repairs)], how="diagonal_relaxed")
    near = Runs(some, _WAY).spread(_near(items, others).select(*_LEAST, *_MOST, *_SUMMED))
    shared = share_pairs()(some.hstack(near.get_columns())).select(*by_itself)
    place = places_in(paired.arg_true(), rows.height)
    laid = rows.hstack(shared.select(pl.all().gather(place)).get_columns())
    return laid.with_columns(
        pl.when(paired).then(pl.col(name)).otherwise(one).alias(name) for name, one in by_itself.items()
    )


def _paired(rows: pl.DataFrame, *, has_earlier: bool) -> pl.Series:
    """Return which rows are of an injury that may need a reinforcement, beside another such or an earlier repair."""
    injuries, serious = Runs(rows, (ROW, INJURY)), pl.col("serious")
    by_injury = injuries.fold(rows.select(ROW, pl.col(CLASS).is_in(_SERIOUS).alias("serious")), most=["serious"])
    tyres = Runs(by_injury, (ROW,))
    number = tyres.fold(by_injury.select(serious.cast(pl.Int32)), total=["serious"])
    is_paired = by_injury.get_column("serious") & (tyres.spread(number).to_series() > (0 if has_earlier else 1))
    return injuries.spread(is_paired.to_frame()).to_series()


def _near(items: pl.DataFrame, others: pl.DataFrame) -> pl.DataFrame:
    """Return for each item what lies between it and the nearest, widest and longest of its neighbours."""
    left, right = (frame.select(ROW, "item").with_row_index(at) for at, frame in (("at", items), ("other at", others)))
    met = left.join(right, on=ROW, maintain_order="left_right").filter(pl.col("item") != pl.col("item_right"))
    beside = others.select(pl.col(name).alias(f"other {name}") for name in _ITEM)[met.get_column("other at")]
    pairs = run((place_pair(), measure_pair()), items[met.get_column("at")].hstack(beside.get_columns()))
    is_near = pl.col("gap") < pl.col("least gap")
    pairs = pairs.with_columns(pl.when(is_near).then(pl.col(name)).otherwise(0.0).alias(name) for name in _MOST)
    between = pairs.select(*_OF_ITEM, "other item", END, *_LEAST, *_MOST, *_SUMMED)
    by_other = fold_choices(between, (*_OF_ITEM, "other item"), bigger=(*_MOST, *_SUMMED), smaller=_LEAST)
    nearest = Runs(by_other, _OF_ITEM).fold(by_other, least=_LEAST, most=_MOST, total=_SUMMED)
    return nearest.drop("other item", END)


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
    extra = pl.col("reinforcement extra")
    each = rows.select(
        ROW, pl.col(INJURY).alias("item"), pl.col(INJURY_CHOICE).alias("choice of item"),
        END, "construction", "cord path offset", "half girth", "rim", "height", "least gap", "least angle",
        "ply share", "side", "clock",
        _BITS.alias("zones"),
        pl.col(CLASS).is_in(_SERIOUS).alias("serious"),
        pl.col(CLASS).is_in(["section", "reject"]).alias("sectioned"),
        pl.col("deciding length").alias("length"),
        pl.col("deciding width").alias("width"),
        run_through(pl.col("side"), (pl.col(LOW) + pl.col(HIGH)) / 2.0).alias("centre"),
        extra,
    )  # fmt: skip
    folded = Runs(each, _OF_ITEM).fold(each, union=["zones"], most=["reinforcement extra"])
    return folded.with_columns(
        (pl.col("length") + 2.0 * extra).alias("reinforcement length"),
        (pl.col("width") + 2.0 * extra).alias("reinforcement width"),
    )


def _earlier(rows: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    tyres = rows.unique(ROW, keep="first", maintain_order=True)
    return list_earlier(tyres.select(ROW, END, "half girth", "inflated width"), repairs)
