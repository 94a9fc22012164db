"""From the verdicts to the plan: the method and release rules speak, then the plan is drawn up."""

from collections.abc import Sequence

import polars as pl

from mendbook.facts.readings import READ, Readings
from mendbook.facts.scenarios import INJURY, USE, VARIANT
from mendbook.facts.spacing import CLASS, TYRE_CLASS
from mendbook.plan import plan_repairs
from mendbook.plan.request import Release, Said, Wanted
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import LIMIT, fill, placeholders
from mendbook.rulebook.tree import Value
from mendbook.terms.case import Case
from mendbook.terms.plan import Plan
from mendbook.terms.vocabulary import Subject
from mendbook.triage.evaluators import Asked, Spoken
from mendbook.triage.injuries import FINAL
from mendbook.triage.overruled import most_of_repair
from mendbook.triage.shop import Shop
from mendbook.triage.stages import METHOD, RELEASE


def make_plan(
    case: Case, shop: Shop, rows: pl.DataFrame, readings: Readings, asked: Asked, before: Sequence[Spoken]
) -> Plan | None:
    """Return the plan for every injury that may be repaired, as read; None when there is none.

    `rows` come from `final_rows`; `before` is what was spoken up to the verdict: the methods ruled out and the limits
    set there bind the plan as well.
    """
    verdicts = shop.book.verdicts
    if rows.is_empty():
        return None
    rows = rows.filter(pl.col(VARIANT) == READ).unique(INJURY, keep="first", maintain_order=True)
    repairable = (pl.col(FINAL) > 0) & (pl.col(FINAL) < len(verdicts) - 1)
    rows = rows.filter(repairable).with_columns(
        pl.col(FINAL).replace_strict(list(range(len(verdicts))), list(verdicts), return_dtype=pl.String).alias(CLASS)
    )
    if rows.is_empty():
        return None
    most = max(verdicts.index(v) for v in rows.get_column(CLASS))
    is_overruled = any(one.rule.subject is Subject.TYRE for one in asked.overruled.values())
    if is_overruled:
        most = most_of_repair(verdicts)
    rows = shop.derivation.method(rows.with_columns(pl.lit(verdicts[most]).alias(TYRE_CLASS)))
    shop.evaluator.listen(METHOD, Subject.INJURY, rows, asked)
    tyre = rows.head(1)
    shop.evaluator.listen(METHOD, Subject.TYRE, tyre, asked)
    binding = _binding(before, rows, readings)
    on_injuries, on_tyre = [*binding, *asked.spoken], Asked(asked.possible)
    shop.evaluator.listen(RELEASE, Subject.INJURY, rows, on_tyre)
    if is_overruled:  # a small repair then goes back under the limits of the largest, beside its own
        shop.evaluator.listen(RELEASE, Subject.INJURY, rows.with_columns(pl.lit(verdicts[most]).alias(CLASS)), on_tyre)
    shop.evaluator.listen(RELEASE, Subject.TYRE, tyre, on_tyre)
    asked.spoken += on_tyre.spoken
    wanted = [_wanted(row, readings.names[row[INJURY]], on_injuries, shop.book) for row in rows.iter_rows(named=True)]
    release = _release([*binding, *on_tyre.spoken], verdicts[most], tyre.row(0, named=True), shop.book)
    return plan_repairs(wanted, release, case.workshop, shop.book.methods, shop.stock)


def _binding(before: Sequence[Spoken], rows: pl.DataFrame, readings: Readings) -> list[Spoken]:
    """Return each line that rules out a method or caps something, as read, on the tyre or an injury to be repaired."""
    repaired = set(rows.get_column(INJURY))
    found: dict[tuple[str, int, Value], Spoken] = {}
    for one in before:
        about = "" if one.rule.subject is Subject.TYRE else one.sheet.value(one.row, INJURY)
        outcome = one.rule.lines[one.line].outcome
        is_read = one.sheet.value(one.row, VARIANT) == READ and one.sheet.value(one.row, USE) in readings.uses
        if (outcome.rule_out or outcome.cap) and is_read and (about == "" or about in repaired):
            found.setdefault((one.rule.id, one.line, about), one)
    return list(found.values())


def _wanted(row: dict[str, Value], name: str, spoken: list[Spoken], book: Rulebook) -> Wanted:
    ruled_out: list[Said] = []
    do: list[Said] = []
    cautions: list[Said] = []
    caps: list[tuple[str, str, Said]] = []
    for one in spoken:
        if one.rule.subject is Subject.INJURY and one.sheet.value(one.row, INJURY) != row[INJURY]:
            continue
        line = one.rule.lines[one.line]
        ruled_out += [_said(what, one, book) for what in line.outcome.rule_out]
        do += [_said(what, one, book) for what in line.outcome.do]
        cautions += [_said(what, one, book) for what in line.outcome.caution]
        caps += [(what, limit, _said(what, one, book)) for what, limit in line.outcome.cap]
    return Wanted(
        name, str(row[CLASS]), str(row["zone"]), row, tuple(ruled_out), tuple(do), tuple(cautions), tuple(caps)
    )  # fmt: skip


def _release(spoken: list[Spoken], verdict: str, facts: dict[str, Value], book: Rulebook) -> Release:
    caps: dict[tuple[str, str], tuple[str, str, Said]] = {}
    do: dict[str, Said] = {}
    cautions: dict[str, Said] = {}
    for one in spoken:
        outcome = one.rule.lines[one.line].outcome
        for what, limit in outcome.cap:
            caps[what, limit] = (what, limit, _said(what, one, book))
        do.update({s.what: s for s in (_said(what, one, book) for what in outcome.do)})
        cautions.update({s.what: s for s in (_said(what, one, book) for what in outcome.caution)})
    return Release(tuple(caps.values()), tuple(do.values()), tuple(cautions.values()), verdict, facts)


def _said(what: str, one: Spoken, book: Rulebook) -> Said:
    line = one.rule.lines[one.line]
    first = line.sources[0]
    kind = book.sources[first.source].kind
    source = f"{first.source}, {first.place}" if kind not in ("house", "practice") else _plainly(kind)
    names = {name for sentence in (what, line.because) for name in placeholders(sentence)} - {LIMIT}
    facts = {name: one.sheet.value(one.row, name) for name in names}
    return Said(
        fill(what, facts, line.bounds, book.vocabulary),
        fill(line.because, facts, line.bounds, book.vocabulary),
        source,
    )


def _plainly(kind: str) -> str:
    return "house default" if kind == "house" else "common practice, no source"
