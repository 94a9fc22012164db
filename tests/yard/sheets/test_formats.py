"""The same yard in every form is the same yard."""

import csv
import json
import sys
from datetime import date
from io import BytesIO, TextIOWrapper
from pathlib import Path

import polars as pl
import pytest
import yaml
from polars.testing import assert_frame_equal

from mendbook.rulebook.book import Rulebook
from tests.yard.sheets.yards import HEADINGS, ROWS, TYRES, Quoting, Seen, as_csv, as_lines, as_workbook, read, write


@pytest.fixture
def plain(tmp_path: Path, book: Rulebook) -> Seen:
    return read(write(tmp_path / "plain.csv", as_csv(HEADINGS, ROWS)), book)


def test_what_is_read_of_a_plain_csv(plain: Seen) -> None:
    assert plain.tyres.get_column("tag").to_list() == ["Q-1", "Q-2", "Q-3"]
    assert plain.tyres.get_column("found.pressure at removal").to_list() == ["4.5 bar", None, "2.2 bar"]
    assert plain.injuries.select("tyre", "injury", "name", "row").rows() == [
        (0, 0, "A", 2),
        (0, 1, "B", 3),
        (2, 0, "Ä", 5),
    ]
    assert plain.injuries.get_column("length").to_list() == ["48 mm", "1 7/8 in", "20 to 30 mm"]
    assert plain.injuries.get_column("depth").to_list() == ["12 mm", "8 ± 1 mm", "unknown"]
    assert not plain.faults.height
    assert plain.rows == len(ROWS)


def by_tag(seen: Seen) -> list[pl.DataFrame]:
    """The frames without what hangs on the sheet: the number of a row, and of a tyre."""
    tags = seen.tyres.select("tyre", "tag")
    frames = (seen.tyres, seen.injuries.join(tags, on="tyre", maintain_order="left"))
    return [frame.sort("tag", maintain_order=True).drop("row", "tyre") for frame in frames]


def same(seen: Seen, plain: Seen) -> None:
    for one, other in zip(by_tag(seen), by_tag(plain), strict=True):
        assert_frame_equal(one, other, check_column_order=False)
    assert not seen.faults.height


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("quoting", [csv.QUOTE_MINIMAL, csv.QUOTE_ALL])
def test_delimiters_ends_of_lines_and_quotes(
    delimiter: str, end: str, quoting: Quoting, tmp_path: Path, book: Rulebook, plain: Seen
) -> None:
    same(read(write(tmp_path / "a.csv", as_csv(HEADINGS, ROWS, delimiter, end, quoting)), book), plain)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_encodings(encoding: str, tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    same(read(write(tmp_path / "a.csv", as_csv(HEADINGS, ROWS), encoding), book), plain)


def test_a_letter_that_only_latin_1_has(tmp_path: Path, book: Rulebook) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"tag,length [mm]\n\xc4-\x81,48\n")
    assert read(path, book).tyres.get_column("tag").to_list() == ["Ä-\x81"]


def test_standard_input(monkeypatch: pytest.MonkeyPatch, book: Rulebook, plain: Seen) -> None:
    monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(as_csv(HEADINGS, ROWS).encode())))
    same(read(Path("-"), book), plain)


def test_a_workbook_with_numbers_as_numbers(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    def cell(heading: str, text: str | None) -> object:
        if heading == "judged on" and text:
            return date.fromisoformat(text)
        return float(text) if text and heading.endswith("]") and text.replace(".", "").isdigit() else text

    rows = [[cell(heading, text) for heading, text in zip(HEADINGS, row, strict=True)] for row in ROWS]
    same(read(as_workbook(tmp_path / "a.xlsx", {"yard": [HEADINGS, *rows]}), book), plain)


def test_numbers_as_text_in_a_workbook(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    same(read(as_workbook(tmp_path / "a.xlsx", {"yard": [HEADINGS, *ROWS]}), book), plain)


def test_a_workbook_that_begins_further_down(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    seen = read(as_workbook(tmp_path / "a.xlsx", {"yard": [[], [], HEADINGS, *ROWS]}), book)
    same(seen, plain)
    assert seen.injuries.get_column("row").to_list() == [4, 5, 7]


def test_parquet(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    frame = pl.DataFrame([dict(zip(HEADINGS, row, strict=True)) for row in ROWS])
    frame = frame.with_columns(pl.col("judged on").str.to_date(), (pl.col("skived") == "yes"))
    frame.write_parquet(tmp_path / "a.parquet")
    same(read(tmp_path / "a.parquet", book), plain)


def test_one_injury_a_line(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    same(read(as_lines(tmp_path / "a.jsonl", [dict(zip(HEADINGS, row, strict=True)) for row in ROWS]), book), plain)


def test_two_files_in_either_order(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    frame = pl.DataFrame([dict(zip(HEADINGS, row, strict=True)) for row in ROWS])
    tyres = frame.select("tag", *TYRES).unique(maintain_order=True)
    injuries = frame.drop(TYRES).filter(pl.col("name").is_not_null())
    for name, part in (("tyres", tyres), ("injuries", injuries)):
        part.write_csv(tmp_path / f"{name}.csv")
    for order in (("tyres", "injuries"), ("injuries", "tyres")):
        seen = read([tmp_path / f"{name}.csv" for name in order], book, size=2)
        same(seen, plain)
        assert seen.rows == tyres.height + injuries.height


def test_two_sheets_of_one_workbook(tmp_path: Path, book: Rulebook, plain: Seen) -> None:
    tyres = [[row[HEADINGS.index(name)] for name in ("tag", *TYRES)] for row in (ROWS[0], ROWS[2], ROWS[3])]
    at = [place for place, name in enumerate(HEADINGS) if name not in TYRES]
    injuries = [[row[place] for place in at] for row in (ROWS[0], ROWS[1], ROWS[3])]
    sheets = {"Tyres": [("tag", *TYRES), *tyres], "Injuries": [[HEADINGS[place] for place in at], *injuries]}
    same(read(as_workbook(tmp_path / "a.xlsx", sheets), book), plain)


def test_whole_cases_as_in_case_files(tmp_path: Path, root: Path, book: Rulebook) -> None:
    written = [path for path in sorted(root.glob("examples/*/*.yaml")) if "injuries" in path.read_text()]
    trees = [yaml.load(path.read_text(), yaml.BaseLoader) for path in written]
    trees[0]["earlier repairs"] = [{"name": "R1", "class": "spot", "zone": "shoulder", "length": "90 mm"}]
    seen = read(as_lines(tmp_path / "cases.jsonl", trees), book)
    assert seen.tyres.height == len(trees) > 5
    assert not seen.faults.height
    injuries = [injury for tree in trees for injury in tree["injuries"]]
    assert seen.injuries.get_column("length").to_list() == [injury.get("length") for injury in injuries]
    assert seen.tyres.get_column("tyre.designation").to_list() == [tree["tyre"].get("designation") for tree in trees]
    repairs = [tree.get("earlier repairs") for tree in trees]
    kept = seen.tyres.get_column("earlier repairs").to_list()
    for repair, cell in zip(repairs, kept, strict=True):
        assert (json.loads(cell) if isinstance(repair, list) and repair else cell) == repair
    depths = seen.tyres.get_column("tyre.tread depths").to_list()
    assert depths == ["; ".join(d) if (d := tree["tyre"].get("tread depths")) else None for tree in trees]


def test_three_digits_in_a_case_are_three_digits(tmp_path: Path, book: Rulebook) -> None:
    case = {"tyre": {"tag": "Q-9", "date code": "301"}, "injuries": [{"name": "A"}]}
    seen = read(as_lines(tmp_path / "cases.jsonl", [case]), book)
    assert seen.tyres.get_column("tyre.date code").to_list() == ["301"]
