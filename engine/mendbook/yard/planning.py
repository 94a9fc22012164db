"""How the repairs of a yard are done: process, kit, setpoint and minutes, each different repair planned once."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.facts.scenarios import INJURY
from mendbook.facts.spacing import CLASS
from mendbook.plan.bench import Bench
from mendbook.plan.draft import Draft
from mendbook.plan.method import choose
from mendbook.plan.repairs import WORKED
from mendbook.plan.request import Said, Wanted
from mendbook.plan.way import Way, find_way
from mendbook.rulebook.tree import Value
from mendbook.triage.passes import Judged
from mendbook.triage.shop import Shop
from mendbook.yard.benches import BENCH, Benches
from mendbook.yard.bound import RULED_OUT, Binding
from mendbook.yard.cures import Cure, CureFinder
from mendbook.yard.deciding import OUTCOME
from mendbook.yard.reading import TYRE

PROCESS, KIT, PIECES, LACKING = "process", "kit", "pieces", "lacking"
SETPOINT, CURE, RELEASE = "setpoint", "cure minutes", "release minutes"
SCHEMA: dict[str, pl.DataType | type[pl.DataType]] = {
    PROCESS: pl.String, KIT: pl.String, PIECES: pl.List(pl.String), LACKING: pl.List(pl.String), SETPOINT: pl.Float64,
    CURE: pl.Float64, RELEASE: pl.Float64,
}  # fmt: skip
PLANNED_BY = (
    "casing", "moisture", "kind", "reaches", "cavity depth", "thickness", "deciding length", "deciding width", "length",
    "width", "outside length", "inside length", "inside width", "reinforcement extra", "reinforcement thickness",
    "crown high", "shoulder high", "sidewall high", "section width", "inflated width", "height", "rim", "half girth",
    "bead ends", "lower edge", "upper edge",
)  # fmt: skip
PLAN = "plan"


def kit_is_lacking() -> pl.Expr:
    """Return the expression for a repair that cannot be begun with the kit there is; it holds the tyre."""
    return pl.col(LACKING).list.len().fill_null(0) > 0


def with_plans(decisions: pl.DataFrame, plans: pl.DataFrame) -> pl.DataFrame:
    """Return `decisions` with the columns of their `plans`; a tyre with a repair whose kit is lacking is on hold."""
    held = plans.filter(kit_is_lacking()).get_column(TYRE).unique()
    is_held = pl.col(TYRE).is_in(held.implode())
    joined = decisions.join(plans, on=[TYRE, INJURY], how="left", maintain_order="left")
    return joined.with_columns(pl.when(is_held).then(pl.lit("hold")).otherwise(pl.col(OUTCOME)).alias(OUTCOME))


@dataclass(frozen=True)
class Planned:
    """One of the repairs that differ. A dressed one has no way; one of which every way is ruled out says so."""

    way: Way | None
    bench: Bench
    cures: range  # of those found together
    closed: tuple[str, ...] = ()


class YardPlanner:
    """Plans the repairs of yards by one rulebook."""

    def __init__(self, shop: Shop) -> None:
        self._book, self._stock = shop.book, shop.stock
        self._binding = Binding(shop.book)
        self._benches = Benches(shop.book, shop.stock)
        self._finder = CureFinder()

    def plan(self, repairable: pl.DataFrame, judged: Judged, tyres: pl.DataFrame) -> pl.DataFrame:
        """Return TYRE, INJURY and the columns of SCHEMA for each row of `repairable`, in its order.

        repairable : without the tyres that are rejected whatever is done
        judged : the frames up to the verdict
        tyres : TYRE and the columns of text, of which those of the workshop are read
        """
        if repairable.is_empty():
            return pl.DataFrame(schema={TYRE: pl.Int32, INJURY: pl.Int32, **SCHEMA})
        placed = self._benches.place(self._binding.bind(repairable, judged), tyres)
        looked = repairable.select(CLASS, "zone", *PLANNED_BY).hstack(placed.rows.select(RULED_OUT, BENCH))
        distinct = looked.unique(maintain_order=True).with_row_index(PLAN)
        plans = self._plan(distinct, placed.benches)
        which = looked.join(distinct, on=looked.columns, how="left", nulls_equal=True, maintain_order="left")
        return repairable.select(TYRE, INJURY).hstack(plans[which.get_column(PLAN)])

    def _plan(self, distinct: pl.DataFrame, benches: Sequence[Bench]) -> pl.DataFrame:
        drafts: list[Draft] = []
        planned: list[Planned] = []
        for row in distinct.iter_rows(named=True):
            wanted, bench = self._wanted(row), benches[row[BENCH]]
            choice = choose(wanted, self._book.methods) if wanted.verdict in WORKED else None
            if choice is None or choice.closed:
                planned.append(Planned(None, bench, range(0), () if choice is None else choice.closed))
                continue
            way = find_way(wanted, choice, bench, self._book.methods, self._stock)
            own = way.drafts(wanted, bench)
            planned.append(Planned(way, bench, range(len(drafts), len(drafts) + len(own))))
            drafts += own
        cures = self._finder.find(drafts)
        rows = [self._row(one, [cures[place] for place in one.cures]) for one in planned]
        return pl.DataFrame(rows, schema=SCHEMA, orient="row")

    def _wanted(self, row: dict[str, Value]) -> Wanted:
        ruled_out = tuple(Said(method, "", "") for method in self._binding.ruled_out(int(row[RULED_OUT])))
        return Wanted("", str(row[CLASS]), str(row["zone"]), row, ruled_out)

    def _row(self, planned: Planned, cures: Sequence[Cure]) -> tuple[object, ...]:
        way, bench = planned.way, planned.bench
        if way is None:
            lacking = (*planned.closed, *bench.remarks) if planned.closed else ()
            return (None, None, None, list(lacking), None, None, None)
        method = way.method
        process = ", ".join(filter(None, (method.heat, method.stages, method.reinforcement, method.heating)))
        lacking = way.not_served([cure.why_not for cure in cures], bench, self._stock)
        timed = bool(cures) and not any(cure.why_not for cure in cures)
        return (
            process,
            method.kit or None,
            [item.words for item in way.outfit.items] or None,
            list(lacking),
            cures[0].setpoint if cures and not cures[0].why_not else None,
            round(sum(cure.minutes for cure in cures), 1) if timed else None,
            round(sum(cure.to_release for cure in cures), 1) if timed else None,
        )
