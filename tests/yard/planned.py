"""The plans of a yard beside those of its tyres judged one by one."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

import polars as pl

from mendbook.facts.scenarios import TooManyChoices
from mendbook.terms.docket import Docket
from mendbook.terms.plan import Repair
from mendbook.triage import Shop, judge
from mendbook.triage.places import ImpossibleCase
from mendbook.yard.batch import Batch
from mendbook.yard.planning import CURE, KIT, LACKING, PIECES, PROCESS, RELEASE, SETPOINT
from mendbook.yard.review import Reviewed, Reviewer
from tests.triage.cases import Tree, read

ON = date(2026, 11, 25)
SHORT, LONG = -0.005, 0.01  # what many cures at once promise of their minutes

RELEASED = 0.04  # of the minutes to release: when the last of a thick wall is cool hangs on its elements


def batch_of(tyres: pl.DataFrame, injuries: pl.DataFrame) -> Batch:
    """Return frames as a sheet gives them, numbered where they are not."""
    rows = pl.int_range(pl.len(), dtype=pl.Int64)
    if "row" not in tyres.columns:
        tyres = tyres.with_columns(rows.alias("row"))
        injuries = injuries.with_columns((rows + tyres.height).alias("row"))
    tag = pl.col("tag") if "tag" in tyres.columns else pl.lit(None, pl.String).alias("tag")
    return Batch(tyres.with_columns(tag), injuries)


def reviewed(shop: Shop, tyres: pl.DataFrame, injuries: pl.DataFrame) -> Reviewed:
    """Return the review of a yard, with plans."""
    return Reviewer(shop, ON, plan=True).review(batch_of(tyres, injuries))


def dockets(shop: Shop, alone: Sequence[Tree]) -> Iterator[tuple[int, Docket]]:
    """Yield the number and the docket of each tyre that can be judged."""
    for number, tree in enumerate(alone):
        try:
            yield number, judge(read(tree, shop.book.vocabulary), shop)
        except (ImpossibleCase, TooManyChoices):
            continue


def unlike(row: dict[str, Any], repair: Repair) -> list[str]:
    """Return in what the plan of `row` is not that of `repair`."""
    method = repair.method
    told = {
        PROCESS: None
        if method is None
        else ", ".join(w for w in (method.heat, method.stages, method.reinforcement, method.heating) if w),
        KIT: method.kit or None if method else None,
        SETPOINT: repair.cure_order.outside.setpoint_C if repair.cure_order else None,
    }
    wrong = [f"{name}: {row[name]} instead of {said}" for name, said in told.items() if row[name] != said]
    pieces = [item.item if item.count == 1 else f"{item.item}, {item.count} pieces" for item in repair.kit]
    if (row[PIECES] or []) != pieces:
        wrong.append(f"pieces: {row[PIECES]} instead of {pieces}")
    if bool(row[LACKING]) != bool(repair.not_served):
        wrong.append(f"lacking: {row[LACKING]} instead of {repair.not_served}")
    sheets = [sheet for sheet in (repair.cure, repair.second_cure) if sheet is not None]
    is_timed = len(sheets) == (2 if method and method.stages == "two stages" else 1)
    heating = sum(sheet.minutes_from_switch_on for sheet in sheets)
    cooling = sum(sheet.minutes_to_release for sheet in sheets)
    for name, minutes, less, more in ((CURE, heating, SHORT, LONG), (RELEASE, cooling, -RELEASED, RELEASED)):
        found = row[name]
        is_near = found is not None and less * minutes - 0.21 <= found - minutes <= more * minutes + 0.31
        if not (is_near if is_timed else found is None):
            wrong.append(f"{name}: {found} instead of {minutes}")
    return wrong


def compare(shop: Shop, tyres: pl.DataFrame, injuries: pl.DataFrame, alone: Sequence[Tree]) -> int:
    """Compare the plans of a yard with those of its tyres one by one; return how many repairs were compared."""
    decisions = reviewed(shop, tyres, injuries).decisions
    rows = decisions.filter(pl.col("injury").is_not_null()).partition_by("tyre", as_dict=True)
    outcomes = dict(decisions.select("tyre", "outcome").iter_rows())
    compared = 0
    for number, docket in dockets(shop, alone):
        assert outcomes[number] == docket.outcome, f"tyre {number}: {outcomes[number]} instead of {docket.outcome}"
        repairs = {repair.injury: repair for repair in (docket.plan.repairs if docket.plan else ())}
        for row in rows[(number,)].iter_rows(named=True) if (number,) in rows else ():
            repair = repairs.get(row["name"])
            if repair is None:
                assert (row[PROCESS], row[LACKING]) == (None, None), f"tyre {number}: planned in the yard alone"
                continue
            assert not (wrong := unlike(row, repair)), f"tyre {number}, {row['name']}: {wrong}"
            compared += 1
    return compared
