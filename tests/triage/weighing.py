"""What a case weighs: its stops, verdict and bracket, without the outlook and the plan that take the time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from mendbook.columns.speak import HOLDS, SEVERITY
from mendbook.facts.case_reading import read_readings
from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.scenarios import (
    CHOICE,
    END,
    INJURY,
    INJURY_CHOICE,
    THREE_READINGS,
    USE,
    VARIANT,
    lay_out,
)
from mendbook.triage import Shop
from mendbook.triage.evaluators import Asked
from mendbook.triage.overruling import check_met, read_overrules
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
    overruled = read_overrules(case, shop.book, date.max)
    asked = Asked(frames.possible, overruled)
    found = Passes(shop.derivation, shop.book.verdicts, case.mapped_repairs).run(frames, shop.evaluator, asked)
    if not found.is_stopped:
        check_places(case, found.tyres.row(0, named=True))
        check_met(case.overrule, overruled, found, asked.spoken, readings)
    return found, asked, readings.uses


Place = tuple[Any, ...]  # end of the readings, use, choice; then injury, its choice, zone, or None for the whole tyre


@dataclass(frozen=True)
class Standing:
    """How a place stands, with what is said of the whole tyre: rank of its verdict, whether it is held."""

    rank: int
    is_held: bool


def stand(tree: str | Mapping[str, Any], shop: Shop, law: str = "none") -> dict[Place, Standing] | None:
    """Return how the tyre and every zone of its injuries stand at the readings that count; None on a stop."""
    found, _, uses = judged(tree, shop, law)
    if found.is_stopped:
        return None
    keys, own = [VARIANT, USE, CHOICE], [INJURY, INJURY_CHOICE, "zone"]
    rows = found.tyres.select(*keys, *(pl.lit(None).alias(name) for name in own), SEVERITY, HOLDS)
    if not found.injuries.is_empty():
        ranked = found.injuries.with_columns(pl.max_horizontal(SEVERITY, "class rank").alias(SEVERITY))
        with_tyre = ranked.join(found.tyres.select(*keys, pl.col(SEVERITY, HOLDS).name.prefix("tyre ")), on=keys)
        zones = with_tyre.select(
            *keys, *own, pl.max_horizontal(SEVERITY, f"tyre {SEVERITY}"), pl.col(HOLDS) + pl.col(f"tyre {HOLDS}")
        )
        worst = zones.group_by(keys).agg(pl.col(SEVERITY).max())
        whole = rows.drop(SEVERITY).join(worst, on=keys).select(rows.columns)
        rows = pl.concat([whole, zones], how="vertical_relaxed")
    counted = rows.filter(pl.col(USE).is_in(list(uses)) & pl.col(VARIANT).is_in([READ, BAD]))
    return {tuple(place): Standing(rank, holds > 0) for *place, rank, holds in counted.rows()}


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
