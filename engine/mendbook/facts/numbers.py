"""How many repairs a tyre would carry, old and new, against the number allowed."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.facts.injuries import share
from mendbook.facts.lookup import Lookup
from mendbook.facts.pairs import WALLS
from mendbook.facts.runs import Runs, fold_choices
from mendbook.facts.scenarios import END, INJURY, INJURY_CHOICE, ROW
from mendbook.facts.spacing import CLASS
from mendbook.facts.steps import Step, add_by_number
from mendbook.terms.case import Repair

SIDES = ("serial side", "opposite side")


def number_steps(lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to the numbers of repairs allowed."""
    yield from lookup.steps("section repairs allowed", "sidewall repairs allowed", "all repairs allowed")


def derive_numbers(tyres: pl.DataFrame, injuries: pl.DataFrame, repairs: Sequence[Repair]) -> pl.DataFrame:
    """Return the tyre rows with the numbers of repairs as shares of the numbers allowed [%].

    An injury counts once, however many zones it touches and ways there are to read it: in all of them at the
    good reading, in any of them else. An earlier repair counts by its class.
    """
    sections = [repair for repair in repairs if repair.repair_class == "section"]
    in_wall = [repair for repair in sections if "sidewall" in (repair.zone or "sidewall")]
    counted = _count(tyres, injuries).with_columns(
        pl.col("sections") + len(sections),
        pl.max_horizontal(pl.col(side) + sum(r.side in (side, None) for r in in_wall) for side in SIDES).alias("wall"),
        pl.col("repairs") + sum(repair.repair_class != "dress" for repair in repairs),
    )
    pairs = (("sections", "section"), ("wall", "sidewall"), ("repairs", "all"))
    shares = [
        share(pl.col(number).cast(pl.Float64), pl.col(f"{what} repairs allowed")).alias(
            "share of all repairs" if what == "all" else f"share of {what} repairs"
        )
        for number, what in pairs
    ]
    return counted.with_columns(shares).drop("sections", "wall", "repairs", *SIDES)


def _count(tyres: pl.DataFrame, injuries: pl.DataFrame) -> pl.DataFrame:
    names = ("sections", *SIDES, "repairs")
    if injuries.is_empty():
        return tyres.with_columns(pl.lit(0).alias(name) for name in names)
    is_section = pl.col(CLASS) == "section"
    in_wall = is_section & pl.col("zone").is_in(WALLS)
    flags = {
        "sections": is_section,
        SIDES[0]: in_wall & (pl.col("side") != SIDES[1]),
        SIDES[1]: in_wall & (pl.col("side") == SIDES[1]),
        "repairs": pl.col(CLASS).is_in(["spot", "reinforce", "section"]),
    }
    keys = (ROW, INJURY, INJURY_CHOICE)
    by_zone = injuries.select(*keys, END, *(flag.fill_null(value=False).alias(name) for name, flag in flags.items()))
    by_way = Runs(by_zone, keys).fold(by_zone, most=names)
    by_injury = fold_choices(by_way, (ROW, INJURY), bigger=names).select(ROW, pl.col(names).cast(pl.Int32))
    numbers = Runs(by_injury, (ROW,)).fold(by_injury, total=names)
    counted = add_by_number(tyres, numbers, ROW)
    return counted.with_columns(pl.col(names).fill_null(0))  # a tyre without an injury has none of them
