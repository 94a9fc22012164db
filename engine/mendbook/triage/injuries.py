"""The verdict on each injury, for the docket."""

from collections.abc import Sequence

import polars as pl

from mendbook.columns.speak import SEVERITY
from mendbook.facts.readings import BAD, GOOD, READ, Readings
from mendbook.facts.scenarios import INJURY, INJURY_CHOICE, TYRE_CHOICE_KEYS, USE, VARIANT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import spell_value
from mendbook.terms.docket import InjuryVerdict
from mendbook.triage.passes import Judged

SHARES = ("share of length limit", "share of width limit", "share of area limit", "share of cord limit", "ply share", "belt share")


def final_rows(judged: Judged, uses: Sequence[str], variant: int) -> pl.DataFrame:
    """Return the injury rows of one reading in the uses asked for, most severe row of each injury first."""
    if judged.injuries.is_empty():
        return judged.injuries
    rank = pl.max_horizontal(SEVERITY, "class rank").alias("final")
    rows = judged.injuries.filter((pl.col(VARIANT) == variant) & pl.col(USE).is_in(list(uses))).with_columns(rank)
    # The zone whose own rules spoke most severely decides; the tightest box breaks a tie.
    return rows.sort([INJURY, "final", SEVERITY, "share of area limit"], descending=[False, True, True, True], maintain_order=True)


def injury_verdicts(judged: Judged, readings: Readings, book: Rulebook) -> tuple[InjuryVerdict, ...]:
    """Return one verdict for each injury, as read, with its bracket."""
    if not readings.injuries:
        return ()
    by_reading = {code: final_rows(judged, readings.uses, code) for code in (GOOD, READ, BAD)}
    mild = _mildest(by_reading[GOOD])
    verdicts = []
    for number, name in enumerate(readings.names):
        rows = by_reading[READ].filter(pl.col(INJURY) == number)
        row = rows.row(0, named=True)
        zones = [row["zone"], *(z for z in rows.get_column("zone").unique(maintain_order=True) if z != row["zone"])]
        bad = by_reading[BAD].filter(pl.col(INJURY) == number).row(0, named=True)["final"]
        spell = {fact: spell_value(book.vocabulary[fact], row[fact]) for fact in SHARES}
        verdicts.append(
            InjuryVerdict(
                name=name,
                zone=zones[0] if len(zones) == 1 else f"{zones[0]} (also touches {', '.join(zones[1:])})",
                verdict=book.verdicts[max(0, row["final"])],
                bracket=(book.verdicts[max(0, mild[number])], book.verdicts[max(0, bad)]),
                shares=spell if row["reaches"] in ("plies", "through") else {},
                length=spell_value(book.vocabulary["deciding length"], row["deciding length"]),
                width=spell_value(book.vocabulary["deciding width"], row["deciding width"]),
                box=f"{row['length limit']:g} x {row['width limit']:g} mm",
            )
        )
    return tuple(verdicts)


def _mildest(rows: pl.DataFrame) -> dict[int, int]:
    by_choice = rows.group_by([*TYRE_CHOICE_KEYS, INJURY, INJURY_CHOICE]).agg(pl.col("final").max())
    by_injury = by_choice.group_by(INJURY).agg(pl.col("final").min())
    return dict(by_injury.iter_rows())
