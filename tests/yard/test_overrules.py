"""A reject overruled in a sheet comes out as in the docket of that tyre; one that may not be is set aside."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import polars as pl
import pytest
import yaml

from mendbook.card.yard.note import Note
from mendbook.card.yard.parts import parts
from mendbook.triage.shop import Shop
from mendbook.yard.overrules import BY, FROM, ON, OVERRULED, RULE, WHY
from mendbook.yard.review import Reviewed, Reviewer
from mendbook.yard.sheets import open_sheet
from mendbook.yard.summary import MOST_LET_GO, LetGo, Summary
from mendbook.yard.summing import Summariser
from tests.yard.sheets.yards import as_csv, as_lines, write

DAY = date(2026, 11, 25)
# Invented: a loader tyre with a cut longer than the house allows.
TYRE = {
    "tag": "T1", "designation": "26.5R25", "casing": "steel", "date code": "3123", "tread left": "60 mm",
    "tread new": "97 mm", "valve core": "out", "heat event": "none", "inside inspected": "yes",
    "pressure at removal": "4.9 bar", "pressure specified": "5 bar", "use": "off-road", "duty": "loader v-cycle",
    "position": "not steered", "speed": "12 km/h", "earlier repairs": "none",
}  # fmt: skip
CUT = {
    "name": "A", "kind": "cut", "side": "opposite side", "clock": "214 deg", "distance from bead": "330 mm",
    "reaches": "through", "length": "72 mm", "width": "118 mm", "depth": "46 mm", "cords cut": "17", "skived": "yes",
}  # fmt: skip
SCUFF = CUT | {
    "name": "B",
    "clock": "20 deg",
    "reaches": "rubber",
    "length": "20 mm",
    "width": "18 mm",
    "cords cut": "",
}
RULE_ID, CHAFER = "sidewall/through_steel_radial", "bead/chafer_fabric_long"
LET_GO = {RULE: RULE_ID, BY: "Ada Winter", ON: "2026-11-24", WHY: "no spare for eight weeks"}


def sheet(path: Path, *rows: dict[str, str]) -> Path:
    headings = list(dict.fromkeys(name for row in rows for name in row))
    return write(path, as_csv(headings, [[row.get(name, "") for name in headings] for row in rows]))


def review(paths: Sequence[Path], shop: Shop, size: int = 100) -> tuple[Reviewed, Summary]:
    """Return what became of the rows of a sheet, and its summary; every row is accounted for."""
    reviewer, summariser = Reviewer(shop, DAY), Summariser(shop.book)
    with open_sheet(paths, shop.book.vocabulary) as opened:
        batches = list(opened.batches(size))
    found = [reviewer.review(batch) for batch in batches]
    summaries = [summariser.summarise(batch, one) for batch, one in zip(batches, found, strict=True)]
    summary = sum(summaries, Summary())
    assert summary.adds_up
    empty = pl.DataFrame()
    decisions, aside = (pl.concat([getattr(one, name) for one in found]) for name in ("decisions", "quarantined"))
    return Reviewed(decisions, aside, empty), summary


def test_an_overruled_reject_of_one_injury_decides_its_tyre(tmp_path: Path, shop: Shop) -> None:
    path = sheet(tmp_path / "a.csv", TYRE | CUT | LET_GO, TYRE | SCUFF, TYRE | CUT | {"tag": "T2"})
    found, summary = review([path], shop)
    rows = {(row["tag"], row["name"]): row for row in found.decisions.iter_rows(named=True)}
    first = rows["T1", "A"]
    assert (first["outcome"], first["verdict"], first["tyre's verdict"]) == ("repair", "section", "section")
    assert first["decided by"] == RULE_ID
    assert {name: first[name] for name in OVERRULED} == LET_GO | {FROM: "reject"}
    assert {rows["T1", "B"][name] for name in OVERRULED} == {None}
    assert rows["T2", "A"]["outcome"] == "reject"
    assert (summary.overruled, [(one.tag, one.name, one.by) for one in summary.let_go]) == (
        1,
        [("T1", "A", "Ada Winter")],
    )


def test_a_rule_about_the_tyre_is_overruled_from_any_of_its_rows(tmp_path: Path, shop: Shop) -> None:
    tyre = TYRE | {"chafer fabric bare": "400 mm"}
    of_tyre = LET_GO | {RULE: CHAFER}
    beside = sheet(
        tmp_path / "a.csv", tyre | SCUFF | of_tyre, tyre | SCUFF | of_tyre | {"name": "C", "clock": "100 deg"}
    )
    below = sheet(tmp_path / "b.csv", tyre | SCUFF, {"tag": "T1"} | of_tyre)
    for path in (beside, below):
        found, summary = review([path], shop)
        assert not found.quarantined.height
        assert set(found.decisions.get_column("tyre's verdict")) == {"section"}
        assert set(found.decisions.get_column(RULE)) == {CHAFER}
        assert summary.overruled == 1


def test_two_sheets_and_whole_cases_overrule_too(tmp_path: Path, shop: Shop, root: Path) -> None:
    tyres, injuries = sheet(tmp_path / "t.csv", TYRE), sheet(tmp_path / "i.csv", {"tag": "T1"} | CUT | LET_GO)
    case = yaml.load((root / "examples/quarry/loader_overruled.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    lines = as_lines(tmp_path / "c.jsonl", [case])
    for paths, by in (([tyres, injuries], "Ada Winter"), ([lines], "Ada Winter (invented)")):
        found, _ = review(paths, shop)
        assert found.decisions.select("outcome", FROM, BY).rows() == [("repair", "reject", by)]


@pytest.mark.parametrize(
    ("changes", "column", "words"),
    [
        ({RULE: "casing/foam"}, RULE, "'casing/foam' cannot be overruled: it rests on common practice"),
        ({RULE: "people/valve_core"}, RULE, "people first, and a stop cannot be waived"),
        ({RULE: "law/us/bulge"}, RULE, "it speaks for a law, which nobody may waive"),
        ({RULE: "crown/too_long"}, RULE, "says no reject of 'A' here, so there is nothing to overrule"),
        ({RULE: "no/such"}, RULE, "the book has no rule 'no/such'"),
        ({RULE: ""}, RULE, "it is missing. An overrule takes a rule, a person's name, a day and a reason."),
        ({BY: ""}, BY, "it is missing. An overrule takes a rule, a person's name, a day and a reason."),
        ({BY: "foreman"}, BY, "'foreman' names no person"),
        ({WHY: "ok"}, WHY, "'ok' is no reason"),
        ({ON: "2031-01-01"}, ON, "2031-01-01 is still to come"),
        ({ON: "soon"}, ON, "'soon'"),
        ({"cords cut": "14 to 20", "length": "40 mm"}, RULE, "what is not known is not overruled"),
    ],
)
def test_what_may_not_be_overruled_is_set_aside_with_its_row(
    changes: dict[str, str], column: str, words: str, tmp_path: Path, shop: Shop
) -> None:
    other = TYRE | CUT | {"tag": "T2", "length": "48 mm", "cords cut": "13"}
    path = sheet(tmp_path / "a.csv", TYRE | SCUFF, TYRE | CUT | LET_GO | changes, other)
    found, summary = review([path], shop)
    aside = {row["row"]: row for row in found.quarantined.iter_rows(named=True)}
    assert aside[3]["column"] == column
    assert words in aside[3]["words"]
    assert aside[2]["words"].startswith("row 3 of this tyre cannot be judged")
    assert found.decisions.get_column("tag").to_list() == ["T2"]
    assert summary.overruled == 0


def test_a_stop_comes_before_an_overrule(tmp_path: Path, shop: Shop) -> None:
    path = sheet(tmp_path / "a.csv", TYRE | CUT | LET_GO | {"valve core": "in"})
    found, _ = review([path], shop)
    assert found.decisions.select("outcome", FROM).rows() == [("stop", None)]


def test_the_summary_is_the_same_however_the_yard_is_cut(tmp_path: Path, shop: Shop) -> None:
    rows = [TYRE | CUT | LET_GO | {"tag": tag} for tag in ("T1", "T2", "T3")]
    path = sheet(tmp_path / "a.csv", *rows)
    (_, whole), (_, cut) = (review([path], shop, size) for size in (100, 1))
    assert whole == cut
    assert (whole.overruled, [one.tag for one in whole.let_go]) == (3, ["T1", "T2", "T3"])
    note = Note(sheet="a.csv", day="2026-11-25", law="", evaluator="columns", mendbook="0", book=shop.book)
    told = next(part for part in parts(whole, note) if part.key == "overruled")
    assert told.table is not None
    assert told.table.rows[0][:5] == ("T1", "A", "2", RULE_ID, "Ada Winter")


def test_the_list_of_what_was_overruled_does_not_grow_with_the_yard() -> None:
    def one(number: int) -> Summary:
        told = {"tag": "T", "name": "A", "rule": RULE_ID, "by": "Ada Winter", "on": "2026-11-24", "why": "w"}
        row = LetGo(tyre=number, injury=0, row=number, outcome="repair", **told)
        return Summary(overruled=1, let_go=(row,))

    forwards, backwards = (sum(map(one, numbers), Summary()) for numbers in (range(50), range(49, -1, -1)))
    assert forwards == backwards
    assert (forwards.overruled, [row.tyre for row in forwards.let_go]) == (50, list(range(MOST_LET_GO)))
