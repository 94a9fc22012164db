"""What a person sees in a workbook and a reader of values does not."""

from datetime import date
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from mendbook.rulebook.book import Rulebook
from mendbook.yard.sheets import SheetError
from mendbook.yard.sheets.workbook_cells import place_of
from tests.yard.sheets.yards import as_workbook, read

HEADINGS = ("tag", "designation", "length [mm]", "tkph use [%]", "date code", "judged on")


def fresh() -> tuple[openpyxl.Workbook, openpyxl.worksheet.worksheet.Worksheet]:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(list(HEADINGS))
    return book, sheet


def test_merged_cells_say_the_same_for_every_row(tmp_path: Path, book: Rulebook) -> None:
    written, sheet = fresh()
    for row in (("A", "26.5R25", 1), (None, None, 2), (None, None, 3), ("B", "20.5R25", 4)):
        sheet.append(row)
    sheet.merge_cells("A2:A4")
    sheet.merge_cells("B2:B4")
    written.save(tmp_path / "a.xlsx")
    seen = read(tmp_path / "a.xlsx", book)
    assert seen.tyres.select("tag", "tyre.designation").rows() == [("A", "26.5R25"), ("B", "20.5R25")]
    assert seen.injuries.get_column("tyre").to_list() == [0, 0, 0, 1]


def test_formulas_and_errors(tmp_path: Path, book: Rulebook) -> None:
    written, sheet = fresh()
    for row in (("A", "x", "=1+2"), ("B", "x", 2), ("C", "x", "#DIV/0!"), ("D", "x", 3)):
        sheet.append(row)
    written.save(tmp_path / "a.xlsx")
    seen = read(tmp_path / "a.xlsx", book)
    assert "formula here whose result is not stored" in seen.reasons()[2]
    assert "the error #DIV/0!" in seen.reasons()[4]
    assert seen.faults.get_column("column").to_list() == ["length [mm]"] * 2
    assert seen.tyres.get_column("tag").to_list() == ["B", "D"]


def test_a_formula_with_a_stored_result_is_its_result(tmp_path: Path, book: Rulebook) -> None:
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as written:
        sheet = written.add_worksheet()
        sheet.write_row(0, 0, ["tag", "length [mm]", "depth [mm]"])
        sheet.write_row(1, 0, ["A"])
        sheet.write_formula(1, 1, "=40+8", None, 48)
        sheet.write_formula(1, 2, '=IF(FALSE,1," ")', None, " ")
    seen = read(tmp_path / "a.xlsx", book)
    assert seen.injuries.select("length", "depth").rows() == [("48 mm", None)]
    assert not seen.faults.height


def test_a_percentage_is_what_is_shown(tmp_path: Path, book: Rulebook) -> None:
    written, sheet = fresh()
    for place, (number, form) in enumerate([(0.65, "0%"), (65, "General"), (0.655, "0.0%"), (1.1, "#,##0.00%")], 2):
        sheet.append((f"T{place}", "x", 1, number))
        sheet.cell(place, 4).number_format = form
    written.save(tmp_path / "a.xlsx")
    seen = read(tmp_path / "a.xlsx", book)
    assert seen.tyres.get_column("service.tkph use").to_list() == ["65 %", "65 %", "65.5 %", "110 %"]


def test_numbers_and_dates(tmp_path: Path, book: Rulebook) -> None:
    rows = [
        ("A", "x", 48.0, None, "0321", date(2026, 11, 25)),
        ("B", "x", 0.1 + 0.2, None, 301, None),
        (7, "x", 1e-7, None, 2220, "25.11.2026"),
    ]
    seen = read(as_workbook(tmp_path / "a.xlsx", {"yard": [HEADINGS, *rows]}), book)
    assert list(seen.reasons()) == [3]
    assert "'301' may be 0301" in seen.reasons()[3]
    assert seen.tyres.get_column("tag").to_list() == ["A", "7"]
    assert seen.tyres.get_column("judged on").to_list() == ["2026-11-25", "2026-11-25"]
    assert seen.injuries.get_column("length").to_list() == ["48 mm", "0.0000001 mm"]


def test_several_sheets_are_asked_for(tmp_path: Path, book: Rulebook) -> None:
    rows = [HEADINGS, ("A", "x", 1)]
    path = as_workbook(tmp_path / "a.xlsx", {"north": rows, "south": [HEADINGS, ("B", "x", 2)], "empty": []})
    with pytest.raises(SheetError, match="2 sheets with something in them: 'north', 'south'"):
        read(path, book)
    assert read(path, book, worksheet="south").tyres.get_column("tag").to_list() == ["B"]
    with pytest.raises(SheetError, match="there is no sheet 'west'"):
        read(path, book, worksheet="west")
    with pytest.raises(SheetError, match="is empty"):
        read(path, book, worksheet="empty")


def test_an_empty_workbook_and_one_with_headings_only(tmp_path: Path, book: Rulebook) -> None:
    with pytest.raises(SheetError, match="is empty"):
        read(as_workbook(tmp_path / "a.xlsx", {"yard": []}), book)
    with pytest.raises(SheetError, match="headings and no rows"):
        read(as_workbook(tmp_path / "a.xlsx", {"yard": [HEADINGS]}), book)


@pytest.mark.parametrize(("name", "place"), [(b"A", 0), (b"Z", 25), (b"AA", 26), (b"XFD", 16383)])
def test_places_of_columns(name: bytes, place: int) -> None:
    assert place_of(name) == place
