"""The workbook: what it holds, and that a program opens it with headings that stay and filters that work."""

import re
from pathlib import Path
from zipfile import ZipFile

import polars as pl

from mendbook.yard.run.running import run_job
from mendbook.yard.run.workbook import LONGEST_CELL, sheets_needed, write_workbook
from tests.yard.run.yards import Yard, judge, options

ROWS = pl.DataFrame(
    {
        "row": [2, 3, 4, 5, 6],
        "tag": ["=1+1", "0042", "http://tag.example", "a" * 40_000, None],
        "verdict": ["section", "reject", None, "leave", "section"],
        "held by": [["a", "b"], [], None, ["c"], ["d"]],
        "margin": [1.5, float("nan"), None, -2.0, 0.0],
    }
)
WORDS = {"section": "section repair", "leave": "leave as it is"}


def test_cells_are_what_they_were(tmp_path: Path) -> None:
    write_workbook(ROWS.lazy(), tmp_path / "a.xlsx", WORDS)
    found = pl.read_excel(tmp_path / "a.xlsx", infer_schema_length=None)
    assert found.columns == ["row", "tag", "verdict", "verdict in words", "held by", "margin"]
    assert found["row"].to_list() == [2, 3, 4, 5, 6]
    assert found["tag"].to_list()[:3] == ["=1+1", "0042", "http://tag.example"]
    assert len(found["tag"][3]) == LONGEST_CELL
    assert found["verdict in words"].to_list() == ["section repair", "reject", None, "leave as it is", "section repair"]
    assert found["held by"].to_list() == ["a; b", None, None, "c", "d"]


def test_headings_stay_and_filters_work(tmp_path: Path) -> None:
    write_workbook(ROWS.lazy(), tmp_path / "a.xlsx", WORDS)
    with ZipFile(tmp_path / "a.xlsx") as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml").decode()
    assert 'ySplit="1"' in sheet
    assert 'state="frozen"' in sheet
    assert '<autoFilter ref="A1:F6"/>' in sheet
    widths = [float(width) for width in re.findall(r'<col min="\d+" max="\d+" width="([\d.]+)"', sheet)]
    assert len(widths) == 6
    assert widths[1] > widths[0]


def test_more_rows_than_a_sheet_holds_go_on_the_next(tmp_path: Path) -> None:
    write_workbook(ROWS.lazy(), tmp_path / "a.xlsx", WORDS, rows_a_sheet=3)
    sheets = pl.read_excel(tmp_path / "a.xlsx", sheet_id=0, infer_schema_length=None)
    assert [*sheets] == ["decisions 1", "decisions 2", "decisions 3"]
    assert [row for sheet in sheets.values() for row in sheet["row"].to_list()] == [2, 3, 4, 5, 6]
    assert sheets_needed(5, 3) == 3
    assert [sheets_needed(rows) for rows in (0, 1_048_575, 1_048_576)] == [1, 1, 2]


def test_it_is_the_same_whenever_it_is_written(tmp_path: Path) -> None:
    for name in "ab":
        write_workbook(ROWS.lazy(), tmp_path / f"{name}.xlsx", WORDS)
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()


def test_a_review_writes_it_with_its_verdicts_in_words(tmp_path: Path) -> None:
    outcome = run_job(Yard(30), judge, tmp_path / "out.xlsx", options(verdict_words=WORDS))
    assert outcome.sheets == 1
    found = pl.read_excel(tmp_path / "out.xlsx")
    assert found.height == outcome.sums.decided + outcome.sums.undecided
    assert found["tyre's verdict in words"].drop_nulls().unique().to_list() == ["section repair"]
