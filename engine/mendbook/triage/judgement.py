"""The front door: judge one case."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import polars as pl

from mendbook import __version__
from mendbook.columns.speak import SEVERITY
from mendbook.facts.case_reading import read_readings
from mendbook.facts.readings import BAD, GOOD, READ, Readings
from mendbook.facts.scenarios import USE, VARIANT, lay_out
from mendbook.folders import folder
from mendbook.terms.case import UNKNOWN, Case
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.docket import Docket, Outcome, TyreNote
from mendbook.terms.plan import Plan
from mendbook.triage.evaluators import Asked
from mendbook.triage.findings import deciding, find, hold_sentences, is_heard, left_to_others, reason_of, stop_sentences
from mendbook.triage.injuries import final_rows, injury_verdicts
from mendbook.triage.mapping import map_tyre
from mendbook.triage.outlook import Questions
from mendbook.triage.overruling import (
    NOT_LOOKED_AT,
    caution_sentences,
    cautioned,
    check_met,
    injuries_overruled,
    mark,
    read_overrules,
    rejects_overruled,
    unplanned,
)
from mendbook.triage.ownership import book_note
from mendbook.triage.passes import Judged, Passes
from mendbook.triage.places import check_dates, check_places, check_zones
from mendbook.triage.planning import make_plan
from mendbook.triage.shop import Shop

LAWS_BY_COUNTRY = ("us", "uk")  # what a country's name alone brings; the other laws are asked for by name


def judge(
    case: Case, shop: Shop, *, law: str | None = None, now: datetime | None = None, survival: Path | None = None
) -> Docket:
    """Return the docket of `case`.

    `law` is a road law of the vocabulary; without it the case's country decides. `now` is the time stamp;
    ages are counted to the case's own `judged on`, or else to that day. `survival` is a folder that tells how long the
    shop's own repairs held, for what one is worth. Raises ValueError for any other law.
    Raises ImpossibleCase when its figures cannot all be true or it overrules what nobody may, and TooManyChoices
    when too little is known to try every value that is still possible.
    """
    stamp = now or datetime.now(UTC)
    on = case.judged_on or stamp.date()
    law = law_of(case, law)
    if law not in shop.book.vocabulary["law"].values:
        laws = ", ".join(shop.book.vocabulary["law"].values)
        raise ValueError(f"no road law is called '{law}'. Write one of: {laws}.")
    book = shop.book
    check_dates(case, on)
    readings = read_readings(case, book.vocabulary, on, law)
    questions = Questions(readings, book)
    frames = lay_out(readings, questions.variants, book.vocabulary, book.vocabulary["use"].values)
    passes = Passes(shop.derivation, book.verdicts, case.mapped_repairs, book.not_covered, readings.uses)
    head = {
        "case": case.case,
        "mendbook": __version__,
        "judged": stamp.isoformat(timespec="seconds"),
        "rulebook": book_note(book),
        "evaluator": shop.evaluator.name,
        "law": law,
        "tyre": _tyre_note(case, readings, on),
        "assumed": _assumed(readings),
        "written": case.model_dump(mode="json", by_alias=True, exclude_unset=True, exclude_none=True),
    }
    overruled = read_overrules(case, book, max(on, stamp.date()))
    asked = Asked(frames.possible, overruled)
    judged = passes.run(frames, shop.evaluator, asked)
    if judged.is_stopped:
        return _weighed(_stopped(head, asked, readings, shop), case, shop, survival)
    check_places(case, judged.tyres.row(0, named=True))
    check_zones(case, judged.injuries)
    check_met(case.overrule, overruled, judged, asked.spoken, readings)
    return _weighed(_judged(head, case, judged, asked, questions, readings, shop), case, shop, survival)


def _weighed(docket: Docket, case: Case, shop: Shop, survival: Path | None) -> Docket:
    """Return `docket` with what a repair is worth; the verdict stands already, and money never changes it."""
    if case.money is None:
        return docket
    from mendbook.worth import open_survival, weigh  # a case without money need not wait for it

    scrapped = shop.cautions.get("scrapped casing", ())
    known = open_survival(folder("knowledge"), survival)
    worth = weigh(case, docket, known, shop.book.vocabulary, scrapped)
    return docket.model_copy(update={"worth": worth})


def law_of(case: Case, law: str | None) -> str:
    """Return the road law to judge by: the one asked for, or that of the case's country."""
    return law or (case.service.country if case.service.country in LAWS_BY_COUNTRY else "none")


def _stopped(head: dict[str, Any], people: Asked, readings: Readings, shop: Shop) -> Docket:
    """People first: nothing else is decided until they are clear."""
    findings = tuple(f for f in find(people.spoken, readings, shop.book) if "stop" in f.says)
    stops = stop_sentences(findings, readings, shop.book)
    first = next(f for f in findings if f.text and is_heard(f, readings.uses))
    return Docket(
        **head, outcome="stop", verdict=None, bracket=None, decided=False, uses={},
        basis=first.sources[0].kind, basis_known=first.sources[0].known, reason=first.because, stops=stops,
        findings=findings,
        cautions=(*_cautions(shop, "stop"), *((NOT_LOOKED_AT,) if people.overruled else ())),
    )  # fmt: skip


def _judged(
    head: dict[str, Any],
    case: Case,
    judged: Judged,
    asked: Asked,
    questions: Questions,
    readings: Readings,
    shop: Shop,
) -> Docket:
    book = shop.book
    findings = mark(find(asked.spoken, readings, book), case, asked.overruled, book)
    rejects = rejects_overruled(findings)
    rows = final_rows(judged, readings.uses)
    verdict, bracket = _bracket(judged, readings.uses, book.verdicts)
    final = deciding(findings, readings.uses, verdict, book)
    method = Asked(asked.possible, asked.overruled)
    plan = None if bracket[0] == book.verdicts[-1] else make_plan(case, shop, rows, readings, method, asked.spoken)
    findings = (*findings, *find(method.spoken, readings, book))
    looks = hold_sentences(findings, readings.uses)
    holds = (*looks, *_not_served(plan), *unplanned(plan, bracket, rejects, book))
    outcome = _outcome(verdict, bracket, holds, book.verdicts)
    outlook = questions.answer(judged, verdict, bracket, is_held=bool(looks))
    cure_order, cure = _longest(plan)
    return Docket(
        **head,
        outcome=outcome,
        verdict=verdict,
        bracket=bracket,
        decided=bracket[0] == bracket[1],
        overruled=rejects,
        overruled_from=book.verdicts[-1] if rejects else "",
        uses=_uses(judged, book.verdicts),
        basis="" if final is None else final.sources[0].kind,
        basis_known="" if final is None else final.sources[0].known,
        reason=reason_of(final, left_to_others(findings, readings.uses, book), holds),
        holds=holds,
        injuries=injuries_overruled(injury_verdicts(rows, readings, book), rejects, book),
        findings=findings,
        would_change=outlook.would_change,
        nothing_to_change=outlook.nothing_to_change,
        measure_next=outlook.measure_next,
        plan=cautioned(plan, rejects),
        cure_order=cure_order,
        cure=cure,
        cautions=(*_cautions(shop, outcome), *caution_sentences(rejects)),
        map=map_tyre(case, judged, readings),
    )


def _not_served(plan: Plan | None) -> tuple[str, ...]:
    """Return what the plan cannot do with the kit there is; until it can, nothing is begun."""
    repairs = () if plan is None else plan.repairs
    return tuple(
        f"Settle the plan for {repair.injury}: {missing}" for repair in repairs for missing in repair.not_served
    )


def _longest(plan: Plan | None) -> tuple[CureOrder | None, CureSheet | None]:
    """Return the cure that takes longest over all repairs and stages."""
    repairs = () if plan is None else plan.repairs
    cures = [(r.cure_order, r.cure) for r in repairs] + [(r.second_cure_order, r.second_cure) for r in repairs]
    return max(
        cures, key=lambda cure: -1.0 if cure[1] is None else cure[1].minutes_from_switch_on, default=(None, None)
    )


def _bracket(judged: Judged, uses: Sequence[str], verdicts: Sequence[str]) -> tuple[str, tuple[str, str]]:
    rows = judged.verdicts.filter(pl.col(USE).is_in(list(uses)))

    def ranks(variant: int) -> list[int]:
        return [max(0, rank) for rank in rows.filter(pl.col(VARIANT) == variant).get_column(SEVERITY)]

    return verdicts[max(ranks(READ))], (verdicts[min(ranks(GOOD))], verdicts[max(ranks(BAD))])


def _outcome(verdict: str, bracket: tuple[str, str], holds: Sequence[str], verdicts: Sequence[str]) -> Outcome:
    if bracket[0] == verdicts[-1]:
        return "reject"
    if holds or bracket[0] != bracket[1]:
        return "hold"
    return "serve" if verdict == verdicts[0] else "repair"


def _uses(judged: Judged, verdicts: Sequence[str]) -> dict[str, str | None]:
    rows = judged.verdicts.filter(pl.col(VARIANT) == READ)
    return {
        use: verdicts[max(0, rank)] for use, rank in zip(rows.get_column(USE), rows.get_column(SEVERITY), strict=True)
    }


def _tyre_note(case: Case, readings: Readings, on: date) -> TyreNote:
    def one(values: Sequence[str]) -> str:
        return values[0] if len(values) == 1 else UNKNOWN

    listed, built = readings.tyre.listed, case.tyre.built(on)
    young, old = (0.0, 0.0) if built is None else built.age_years(on)
    years = f"{old:.1f} years" if old - young < 0.1 else f"{young:.1f} to {old:.1f} years"
    return TyreNote(
        tag=case.tyre.tag,
        designation=case.tyre.designation or UNKNOWN,
        construction=one(listed["construction"]),
        casing=one(listed["casing"]),
        age=UNKNOWN if built is None else years,
        duty=one(listed["duty"]),
        position=one(listed["position"]),
        use=one(readings.uses),
    )


def _assumed(readings: Readings) -> dict[str, str]:
    assumed = dict(readings.tyre.assumed)
    for name, injury in zip(readings.names, readings.injuries, strict=True):
        assumed |= {f"{name}: {fact}": value for fact, value in injury.assumed.items()}
    return assumed


def _cautions(shop: Shop, outcome: Outcome) -> tuple[str, ...]:
    groups = ["every report"]
    if outcome == "repair":
        groups += ["before heat", "while curing"]
    return tuple(sentence for group in groups for sentence in shop.cautions.get(group, ()))
