"""Earlier repairs as neighbours of an injury: what the map leaves out is mild at the good reading, else the worst."""

from collections.abc import Iterator, Sequence
from itertools import product

import polars as pl

from mendbook.facts.pairs import WALLS, run_through
from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.scenarios import END
from mendbook.facts.zones import zone_bits
from mendbook.terms.case import Repair
from mendbook.terms.quantity import Quantity

SIDES = ("serial side", "opposite side")
CROWN = ("crown centre", "crown edge")
# House default: a reinforcement of unknown size is as large as the tyre is wide. The largest box within the limits,
# with its relief and the reach on both sides, comes to 0.99 of that.
LARGEST = 1.0
WIDEST_TYRE = 952.5  # mm; where the tyre's own width is not known

_SCHEMA: dict[str, pl.DataType | type[pl.DataType]] = {
    "item": pl.Int32, "choice of item": pl.Int32, END: pl.Int8, "serious": pl.Boolean, "sectioned": pl.Boolean,
    "side": pl.String, "zones": pl.Int64, "clock": pl.Float64, "from bead": pl.Float64,
    "from centre": pl.Float64, "length": pl.Float64, "width": pl.Float64,
}  # fmt: skip


def list_earlier(tyres: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Return the earlier `repairs` as items of each of `tyres`, at its own end of the readings.

    `tyres` hold half girth and inflated width [mm]. A repair is one item for each side that it may lie on.
    """
    listed = pl.DataFrame(list(_read(repairs)), schema=_SCHEMA, orient="row")
    largest = LARGEST * pl.col("inflated width").fill_null(WIDEST_TYRE)
    half = pl.col("width") / 2.0
    place = pl.coalesce(pl.col("from bead") + half, pl.col("half girth") - pl.col("from centre") - half)
    return (
        tyres.join(listed, on=END, how="inner", maintain_order="left_right")
        .with_columns(pl.col("length", "width").fill_null(largest))
        .with_columns(
            run_through(pl.col("side"), place).alias("centre"),
            pl.col("length").alias("reinforcement length"),
            pl.col("width").alias("reinforcement width"),
            pl.lit(0.0).alias("ply share"),
        )
        .drop(END, "half girth", "inflated width", "from bead", "from centre")
    )


def _read(repairs: Sequence[Repair]) -> Iterator[tuple[object, ...]]:
    for (n, repair), end in product(enumerate(repairs), (GOOD, READ, BAD)):
        for choice, side in enumerate(_sides(repair)):
            yield (
                -1 - n, choice, end, repair.repair_class in ("reinforce", "section"), repair.repair_class == "section",
                side, zone_bits(_zones(repair, side)), _number(repair.clock), _number(repair.distance_from_bead),
                _number(repair.distance_from_centreline), _size(repair.length, end), _size(repair.width, end),
            )  # fmt: skip


def _sides(repair: Repair) -> Sequence[str]:
    """Return the sides that a repair may lie on; one in the wall does not lie on the crown."""
    if repair.side:
        return (repair.side,)
    return (*SIDES, "crown") if repair.zone in (None, *CROWN) else SIDES


def _zones(repair: Repair, side: str) -> Sequence[str]:
    """Return where a repair may lie; one that is on a side but in no zone may lie anywhere in it."""
    if repair.zone:
        return (repair.zone,)
    return CROWN if side == "crown" else ("shoulder", *WALLS)


def _size(size: Quantity | None, end: int) -> float | None:
    """Return the size [mm] at one end of its reading, None for the largest that it may be."""
    if size is None or size.bounds is None:
        return 0.0 if end == GOOD else None
    low, high = size.bounds
    return (low, (low + high) / 2.0 if size.value is None else size.value, high)[end]


def _number(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value
