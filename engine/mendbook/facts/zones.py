"""Every zone that an injury's edge touches: one row for each, and the strictest row wins later."""

from collections.abc import Iterable, Iterator, Sequence

import polars as pl

from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END, INJURY_CHOICE
from mendbook.facts.section import ZONES, zone_bounds
from mendbook.facts.steps import Step, columns, roots

LOW, HIGH = "lower edge", "upper edge"


def zone_steps() -> Iterator[Step]:
    """Yield the steps to the injury's edges [mm from the bead toe] and to one row for each zone they touch.

    Edges move out at the bad reading and in at the good one. An injury whose place was measured from the
    crown centreline is brought to the same measure. One whose place was not measured, but whose zone was
    named, is taken as near to the bead as its zone allows (at the good reading, as far).
    """
    low, high = _edges()
    yield columns(lower_edge=low.clip(0.0), upper_edge=high)
    yield Touch()
    yield columns(upper_edge=pl.max_horizontal(LOW, HIGH))


def _edges() -> tuple[pl.Expr, pl.Expr]:
    placed, good = pl.col("placed from"), pl.col(END) == GOOD
    beyond = pl.col("separation halo") + pl.col("rust")
    # A tunnel may run up or down the section: both ways it may touch more, at the good reading neither.
    slant = pl.when(good).then(0.0).otherwise(pl.col("slant"))
    width = pl.max_horizontal("width", "inside width") + 2.0 * beyond
    named_low, named_high = (_by_zone(side) for side in (0, 1))
    named = pl.when(good).then(pl.max_horizontal(named_low, named_high - width)).otherwise(named_low)
    bead, centre = placed == "bead", placed == "centreline"
    from_crown = pl.col("half girth") + beyond
    low = (
        pl.when(bead)
        .then(pl.col("distance from bead") - beyond - slant)
        .when(centre)
        .then(from_crown - pl.col("opposite centreline distance") - width - slant)
        .otherwise(named)
    )
    high = (
        pl.when(bead)
        .then(pl.col("opposite distance") - beyond + width + slant)
        .when(centre)
        .then(from_crown - pl.col("distance from centreline") + slant)
        .otherwise(named + width)
    )
    return low, high


def zone_bits(zones: Iterable[str]) -> int:
    """Return a set of zones as a number, a bit for each: where sets are compared row by row, numbers are quickest."""
    return sum(1 << ZONES.index(zone) for zone in {*zones})


def radius_at(from_bead: pl.Expr) -> pl.Expr:
    """Return the radius [mm] of the tyre at a distance from the bead toe along the surface [mm]."""
    return pl.col("rim") / 2.0 + (from_bead / pl.col("half girth")).clip(0.0, 1.0) * pl.col("height")


def _by_zone(side: int) -> pl.Expr:
    """Return where the named zone begins (side 0) or ends (side 1) [mm from the bead toe]."""
    chain: pl.Expr = pl.lit(None, pl.Float64)
    for zone in ZONES:
        chain = pl.when(pl.col("zone") == zone).then(zone_bounds(zone)[side]).otherwise(chain)
    return chain


class Touch:
    """Spreads each row to one row for each zone between the injury's edges; a zone that was named stays as it is.

    Zones follow one another from bead to crown, so the zones touched run from the one that holds the lower edge
    to the one that holds the upper. The crown centre runs on past the centreline to its mirror image. Where the
    edges cross, as those of a narrow injury do at the good reading, it lies somewhere between them, and each zone
    there is another way to read it. `first` and `last` give the places of the two in ZONES.
    """

    def __init__(self) -> None:
        measured = pl.col("placed from") != "zone"
        named = pl.col("zone").replace_strict(list(ZONES), list(range(len(ZONES))), return_dtype=pl.Int64)
        low, high = (_count([pl.col(edge) >= pl.col(f"{zone} ends") for zone in ZONES[:-1]]) for edge in (LOW, HIGH))
        end = _count([pl.col(HIGH) > pl.col(f"{zone} ends") for zone in ZONES[:-1]])
        crossed = measured & (pl.col(HIGH) < pl.col(LOW))
        self.first = pl.when(crossed).then(high).when(measured).then(low).otherwise(named).alias("first")
        self.last = pl.when(measured).then(pl.max_horizontal(low, end)).otherwise(named).alias("last")
        self._crossed = crossed.alias("crossed")
        self.looks_at = roots((self.first, self.last, self._crossed)) | {INJURY_CHOICE}

    def __call__(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return the spread rows."""
        found = frame.select(self.first, self.last, self._crossed)
        if found.get_column("first").equals(found.get_column("last").alias("first")):
            places = found.get_column("first")  # the common case: nothing is to be multiplied
        else:
            spread = found.with_row_index("row").with_columns(pl.int_ranges("first", pl.col("last") + 1).alias("place"))
            spread = spread.explode("place")
            frame, places = frame[spread.get_column("row")], spread.get_column("place")
            way = pl.when(spread.get_column("crossed")).then(places).otherwise(0).cast(pl.Int32)
            frame = frame.with_columns(pl.col(INJURY_CHOICE) * len(ZONES) + way)
        names = places.replace_strict(list(range(len(ZONES))), list(ZONES), return_dtype=frame.schema["zone"])
        return frame.with_columns(names.alias("zone"))


def _count(conditions: Sequence[pl.Expr]) -> pl.Expr:
    return pl.sum_horizontal([condition.cast(pl.Int64) for condition in conditions])
