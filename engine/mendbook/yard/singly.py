"""Tyres that columns have no place for, judged one by one: those with earlier repairs on a map."""

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time
from typing import Any

import polars as pl
from pydantic import ValidationError

from mendbook.facts.scenarios import INJURY, TooManyChoices
from mendbook.terms.docket import Docket, Finding
from mendbook.triage.findings import deciding, is_heard
from mendbook.triage.judgement import judge
from mendbook.triage.places import ImpossibleCase
from mendbook.triage.shop import Shop
from mendbook.yard.batch import FAULT_SCHEMA, Batch
from mendbook.yard.deciders import DECIDED_BY, LIMIT, LINE, MARGIN, MARGIN_OF
from mendbook.yard.deciding import HELD_BY, MILDEST, OUTCOME, STOPPED_BY, VERDICT, WORST
from mendbook.yard.impossible import written_case
from mendbook.yard.questions import BETWEEN, MOST, NEXT
from mendbook.yard.reading import NAME, TYRE

REPAIRS = "earlier repairs"
NOON = time(12, tzinfo=UTC)
Row = dict[str, Any]


def mapped(batch: Batch) -> pl.DataFrame:
    """Return TYRE of those whose earlier repairs are written one by one."""
    if REPAIRS not in batch.tyres.columns:
        return pl.DataFrame(schema={TYRE: pl.Int32})
    return batch.tyres.filter(pl.col(REPAIRS).str.starts_with("[")).select(TYRE)


def judge_singly(
    batch: Batch, alone: pl.DataFrame, shop: Shop, on: date, law: str | None, of_tyre: str
) -> tuple[list[Row], pl.DataFrame]:
    """Return the rows of decisions of the tyres `alone`, and the faults of those that cannot be judged.

    of_tyre : begins the names of what is of the tyre in the row of an injury
    """
    rows: list[Row] = []
    faults: list[tuple[int, int, str, str]] = []
    for tyre in batch.tyres.join(alone, on=TYRE, how="semi").iter_rows(named=True):
        injuries = list(batch.injuries.filter(pl.col(TYRE) == tyre[TYRE]).iter_rows(named=True))
        try:
            case = written_case(tyre, injuries, shop.book, name=str(tyre["tag"]))
            docket = judge(case, shop, law=law, now=datetime.combine(on, NOON))
        except (ValidationError, ImpossibleCase, TooManyChoices) as problem:
            faults.append((tyre["row"], tyre[TYRE], "", _words(problem)))
        else:
            rows += _rows(tyre, injuries, docket, shop, of_tyre)
    return rows, pl.DataFrame(faults, schema=FAULT_SCHEMA, orient="row")


def _words(problem: Exception) -> str:
    if isinstance(problem, ValidationError):
        first = problem.errors()[0]
        place = ".".join(str(step) for step in first["loc"])
        return f"{place}: {str(first['msg']).removeprefix('Value error, ')}"
    return str(problem)


def _rows(
    tyre: Mapping[str, Any], injuries: list[dict[str, Any]], docket: Docket, shop: Shop, of_tyre: str
) -> Iterator[Row]:
    uses = [docket.tyre.use] if docket.tyre.use in shop.book.vocabulary["use"].values else [*docket.uses]
    heard = [f for f in docket.findings if is_heard(f, uses)]
    whole: Row = {
        "tag": tyre["tag"],
        TYRE: tyre[TYRE],
        OUTCOME: docket.outcome,
        HELD_BY: sorted({f.rule for f in heard if "hold" in f.says and "stop" not in f.says}) or None,
        STOPPED_BY: sorted({f.rule for f in heard if "stop" in f.says}) or None,
    }
    if docket.verdict is not None and docket.bracket is not None:
        final = deciding(docket.findings, uses, docket.verdict, shop.book)
        own = _decided(docket.verdict, docket.bracket, final)
        whole |= {f"{of_tyre}{name}": value for name, value in own.items()}
    if not injuries:
        yield {**whole, "row": tyre["row"]}
    if docket.measure_next:
        whole[NEXT] = [f"{look.about}{BETWEEN}{look.fact}" for look in docket.measure_next[:MOST]]
    by_name = {one.name: one for one in docket.injuries}
    for row in injuries:
        mine: Row = {INJURY: row[INJURY], NAME: row[NAME], "row": row["row"]}
        if found := by_name.get(str(row[NAME])):
            of_it = [f for f in docket.findings if f.about == found.name]
            if found.verdict is not None and found.bracket is not None:
                mine |= _decided(found.verdict, found.bracket, deciding(of_it, uses, found.verdict, shop.book))
            mine["zone"] = found.zone.split(" (")[0]
        yield {**whole, **mine}


def _decided(verdict: str, bracket: tuple[str, str], final: Finding | None) -> Row:
    told: Row = {VERDICT: verdict, MILDEST: bracket[0], WORST: bracket[1]}
    if final is None:
        return told
    told |= {DECIDED_BY: final.rule, LINE: final.line}
    told[LIMIT] = "; ".join(f"{fact} {limit}" for fact, limit in final.limit.items())
    if final.margin:
        told[MARGIN_OF], told[MARGIN] = min(final.margin.items(), key=lambda one: one[1])
    return told
