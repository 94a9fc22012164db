"""Tyres that columns have no place for, judged one by one: earlier repairs on a map, or a reject overruled."""

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
from mendbook.yard.deciders import DECIDED_BY, LIMIT, LINE
from mendbook.yard.deciding import HELD_BY, MILDEST, OUTCOME, STOPPED_BY, VERDICT, WORST
from mendbook.yard.impossible import written_case
from mendbook.yard.overrules import OVERRULE, OVERRULES, place_of, told_of
from mendbook.yard.questions import BETWEEN, MOST, NEXT
from mendbook.yard.reading import NAME, TYRE
from mendbook.yard.rooms import MARGIN, MARGIN_OF

REPAIRS = "earlier repairs"
MISSING = "it is missing. An overrule takes a rule, a person's name, a day and a reason."
NOON = time(12, tzinfo=UTC)
Row = dict[str, Any]


def mapped(batch: Batch) -> pl.DataFrame:
    """Return TYRE of those whose earlier repairs are written one by one, or of which a reject is overruled.

    One that is at fault already is left to the others, which set it aside.
    """
    signs = {REPAIRS: pl.col(REPAIRS).str.starts_with("["), OVERRULES: pl.col(OVERRULES).is_not_null()}
    alone = [sign.fill_null(value=False) for name, sign in signs.items() if name in batch.tyres.columns]
    if not alone:
        return pl.DataFrame(schema={TYRE: pl.Int32})
    faulty = batch.faults.get_column(TYRE).drop_nulls().unique().implode()
    return batch.tyres.filter(pl.any_horizontal(alone) & ~pl.col(TYRE).is_in(faulty)).select(TYRE)


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
            row, column = place_of(_path(problem), tyre.get(OVERRULES), shop.book)
            faults.append((row or tyre["row"], tyre[TYRE], column, _words(problem)))
        else:
            rows += _rows(tyre, injuries, docket, shop, of_tyre)
    return rows, pl.DataFrame(faults, schema=FAULT_SCHEMA, orient="row")


def _path(problem: Exception) -> tuple[str | int, ...]:
    if isinstance(problem, ValidationError):
        return problem.errors()[0]["loc"]
    return problem.path if isinstance(problem, ImpossibleCase) else ()


def _said(fault: Any) -> str:
    if str(fault["type"]).startswith("date"):
        return f"'{fault['input']}' is not a date. Write year-month-day, such as 2026-11-25."
    return str(fault["msg"]).removeprefix("Value error, ")


def _words(problem: Exception) -> str:
    if isinstance(problem, ValidationError):
        first = problem.errors()[0]
        if first["loc"][0] == OVERRULE:
            return MISSING if first["type"] == "missing" else _said(first)
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
        yield {**whole, **told_of(docket, None), "row": tyre["row"]}
    if docket.measure_next:
        whole[NEXT] = [f"{look.about}{BETWEEN}{look.fact}" for look in docket.measure_next[:MOST]]
    by_name = {one.name: one for one in docket.injuries}
    for row in injuries:
        mine: Row = {INJURY: row[INJURY], NAME: row[NAME], "row": row["row"], **told_of(docket, str(row[NAME]))}
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
