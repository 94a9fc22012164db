"""The verdict on each injury, for the docket."""

from collections.abc import Mapping, Sequence
from typing import Any

import polars as pl

from mendbook.columns.speak import SEVERITY
from mendbook.facts.readings import BAD, GOOD, READ, Readings
from mendbook.facts.scenarios import INJURY, INJURY_CHOICE, THREE_READINGS, TYRE_CHOICE_KEYS, USE, VARIANT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import spell_value
from mendbook.terms.docket import InjuryVerdict
from mendbook.triage.passes import CLASS_RANK, Judged

FINAL = "final"
SIZE_SHARES = ("share of length limit", "share of width limit", "share of area limit")
COUNT_SHARES = ("share of cord limit", "ply share", "belt share")


def final_rows(judged: Judged, uses: Sequence[str]) -> pl.DataFrame:
    """Return the injury rows of the three readings in the uses asked for, the most severe of each injury first."""
    if judged.injuries.is_empty():
        return judged.injuries
    wanted = (pl.col(VARIANT) < len(THREE_READINGS)) & pl.col(USE).is_in(list(uses))
    rows = judged.injuries.filter(wanted).with_columns(pl.max_horizontal(SEVERITY, CLASS_RANK).alias(FINAL))
    # The zone whose own rules spoke most severely decides; the tightest box breaks a tie.
    order = [VARIANT, INJURY, FINAL, SEVERITY, "share of area limit"]
    return rows.sort(order, descending=[False, False, True, True, True], maintain_order=True)


def injury_verdicts(rows: pl.DataFrame, readings: Readings, book: Rulebook) -> tuple[InjuryVerdict, ...]:
    """Return one verdict for each injury, as read, with its bracket; `rows` come from `final_rows`."""
    shown = (
        *SIZE_SHARES,
        *COUNT_SHARES,
        "construction",
        "casing",
        "deciding length",
        "deciding width",
        "length limit",
        "width limit",
        "reaches",
        "zone",
    )
    keys = (*TYRE_CHOICE_KEYS, INJURY, INJURY_CHOICE, FINAL)
    found = [] if rows.is_empty() else rows.select(*keys, *shown).to_dicts()
    return tuple(
        _verdict(name, [row for row in found if row[INJURY] == number], book)
        for number, name in enumerate(readings.names)
    )


def _verdict(name: str, rows: list[dict[str, Any]], book: Rulebook) -> InjuryVerdict:
    as_read = [row for row in rows if row[VARIANT] == READ]
    row = as_read[0]
    others = list(dict.fromkeys(r["zone"] for r in as_read if r["zone"] != row["zone"]))
    by_choice: dict[tuple[Any, ...], int] = {}
    for r in rows:
        if r[VARIANT] == GOOD:
            key = tuple(r[k] for k in (*TYRE_CHOICE_KEYS, INJURY_CHOICE))
            by_choice[key] = max(by_choice.get(key, 0), r[FINAL])
    bad = max(r[FINAL] for r in rows if r[VARIANT] == BAD)
    spell = {fact: spell_value(book.vocabulary[fact], row[fact]) for fact in (*SIZE_SHARES, count_share(row))}
    is_deep = row["reaches"] in ("plies", "through")
    return InjuryVerdict(
        name=name,
        zone=f"{row['zone']} (also touches {', '.join(others)})" if others else row["zone"],
        verdict=book.verdicts[max(0, row[FINAL])],
        bracket=(book.verdicts[min(by_choice.values())], book.verdicts[max(0, bad)]),
        shares=spell if is_deep else {},
        length=spell_value(book.vocabulary["deciding length"], row["deciding length"]),
        width=spell_value(book.vocabulary["deciding width"], row["deciding width"]),
        box=f"{row['length limit']:g} x {row['width limit']:g} mm" if is_deep else "",
    )


def count_share(row: Mapping[str, Any]) -> str:
    """Return which count tells most of an injury: belts in a belted crown, cords of a steel radial, else plies."""
    if row["construction"] != "bias" and row["zone"].startswith("crown"):
        return "belt share"
    return "share of cord limit" if (row["construction"], row["casing"]) == ("radial", "steel") else "ply share"
