"""A small invented yard, reviewed and summed up, for the reports."""

from datetime import date
from functools import cache

import polars as pl

from mendbook.card.yard import Note
from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.triage.shop import set_up
from mendbook.yard.batch import Batch
from mendbook.yard.review import Reviewed, Reviewer
from mendbook.yard.summary import Fault, Piece, Summary, Tally, Work
from mendbook.yard.summing import Summariser
from tests.yard.made import make

DAY = date(2026, 11, 25)
RUDE = '<script>alert("x")</script> & $y$ \x1b[31m'


@cache
def book() -> Rulebook:
    return open_book(folder("rules"), folder("knowledge"))


def note(sheet: str = "three_sites.csv") -> Note:
    return Note(sheet, "2026-11-25", "", "columns", "0.0", book(), "out.parquet", "out.quarantine.csv")


@cache
def summary() -> Summary:
    """Return the summary of an invented yard, with looks and work added by hand."""
    made = make(80, 7, 60)
    batch = Batch(made.tyres, made.injuries)
    found: Reviewed = Reviewer(set_up(book()), DAY).review(batch)
    looks = pl.when(pl.col("outcome") == "hold").then(pl.lit(["A: depth", "serial"]))
    planned = Reviewed(found.decisions.with_columns(looks.alias("measure next")), found.quarantined, found.repairable)
    work = {
        "repair": {"flexible pads": Work(repairs=3, untimed=1, heat_s=36_000, bench_s=72_000)},
        "hold": {"arm press": Work(repairs=1, heat_s=5_400, bench_s=9_000)},
    }
    pieces = {"pad 300 x 500": Piece(repairs=3, at_once=2, busy_s=144_000), "strap 75 mm x 4.5 m": Piece(repairs=1)}
    return Summariser(book()).summarise(batch, planned).model_copy(update={"work": work, "pieces": pieces})


def rude() -> Summary:
    """Return the same with names that would be markup, an escape or a formula, were they let."""
    found = summary()
    groups = {RUDE: Tally(verdicts={"spot": 2, "": 1}, outcomes={"hold": 3}), "W" * 200: Tally(verdicts={"dress": 1})}
    near = tuple(one.model_copy(update={"tag": RUDE, "name": RUDE}) for one in found.near)
    faults = {RUDE: Fault(number=2, row=5, words=RUDE)}
    return found.model_copy(
        update={
            "sizes": groups, "duties": groups, "zones": groups, "causes": groups, "near": near, "faults": faults,
            "missing": {RUDE: 3}, "blocked": {"hold": {RUDE: 2}}, "around": {RUDE: {"0": 4, "-3": 1}},
            "fallen": {RUDE: 1},
        }
    )  # fmt: skip
