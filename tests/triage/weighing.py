"""What a case weighs: its stops, verdict and bracket, without the outlook and the plan that take the time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from mendbook.columns.speak import SEVERITY
from mendbook.facts.case_reading import read_readings
from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.scenarios import END, INJURY, THREE_READINGS, USE, VARIANT, lay_out
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from mendbook.triage.evaluators import Asked
from mendbook.triage.passes import Judged, Passes
from mendbook.triage.places import check_places
from tests.triage.cases import read


@dataclass(frozen=True)
class Weight:
    """Ranks on the verdict scale; no verdict where people come first."""

    stops: frozenset[str]
    verdict: int = -1
    mild: int = -1
    severe: int = -1


def judged(tree: str | Mapping[str, Any], shop: Shop, law: str = "none") -> tuple[Judged, Asked, tuple[str, ...]]:
    """Return the judged frames of the three readings, what was spoken, and the uses asked for."""
    vocabulary = shop.book.vocabulary
    case = read(tree, vocabulary)
    readings = read_readings(case, vocabulary, case.judged_on or date(2026, 11, 25), law)
    frames = lay_out(readings, THREE_READINGS, vocabulary, vocabulary["use"].values)
    asked = Asked(frames.possible)
    found = Passes(shop.derivation, shop.book.verdicts, case.mapped_repairs).run(frames, shop.evaluator, asked)
    if not found.is_stopped:
        check_places(case, found.tyres.row(0, named=True))
    return found, asked, readings.uses


Saying = dict[str, tuple[int, bool]]  # by rule and injury: its most severe verdict (-1: none), and whether it holds


def holds(tree: str | Mapping[str, Any], shop: Shop, law: str = "none") -> dict[int, Saying] | None:
    """Return for each end of the readings what every rule says that gives a verdict or a hold; None on a stop."""
    found, asked, uses = judged(tree, shop, law)
    if found.is_stopped:
        return None
    said: dict[int, Saying] = {GOOD: {}, READ: {}, BAD: {}}
    for one in asked.spoken:
        outcome = one.rule.lines[one.line].outcome
        if one.sheet.value(one.row, USE) in uses and (outcome.verdict or outcome.hold):
            about = "" if one.rule.subject is Subject.TYRE else one.sheet.value(one.row, INJURY)
            ranks = said[int(one.sheet.value(one.row, END))]
            key = f"{one.rule.id} {about}"
            before, held = ranks.get(key, (-1, False))
            rank = -1 if outcome.verdict is None else shop.book.rank(outcome.verdict)
            ranks[key] = (max(before, rank), held or outcome.hold is not None)
    return said


def weigh(tree: str | Mapping[str, Any], shop: Shop, law: str = "none") -> Weight:
    """Return the weight of a case."""
    found, asked, uses = judged(tree, shop, law)
    if found.is_stopped:
        stops = (
            one.rule.id
            for one in asked.spoken
            if one.rule.lines[one.line].outcome.stop and one.sheet.value(one.row, END) != GOOD
        )
        return Weight(frozenset(stops))
    rows = found.verdicts.filter(pl.col(USE).is_in(list(uses)))

    def ranks(end: int) -> list[int]:
        return rows.filter(pl.col(VARIANT) == end).get_column(SEVERITY).to_list()

    return Weight(frozenset(), *(max(0, rank) for rank in (max(ranks(READ)), min(ranks(GOOD)), max(ranks(BAD)))))
