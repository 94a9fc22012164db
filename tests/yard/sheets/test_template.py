"""The empty sheet: complete, with drop-downs and meanings, and read back without a map."""

from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from mendbook.rulebook.book import Rulebook
from mendbook.yard.overrules import OVERRULES
from mendbook.yard.sheets import SheetError, guess_sheet, template
from mendbook.yard.sheets.fields import Kind, fields
from mendbook.yard.sheets.template import ordered
from tests.yard.sheets.yards import read


def test_every_column_is_understood(tmp_path: Path, book: Rulebook) -> None:
    (tmp_path / "yard.xlsx").write_bytes(template(book.vocabulary))
    (guess,) = guess_sheet([tmp_path / "yard.xlsx"], book.vocabulary)
    found = [(one.field.column if one.field else None, one.unit) for one in guess.columns]
    columns = ordered(book.vocabulary)
    assert found == [(f.column, f.unit if f.kind is Kind.MEASURE else "") for f in columns]
    # What a whole case overrules comes with a line of JSON alone; a sheet has a cell for each part of it.
    assert {field.column for field in columns} == set(fields(book.vocabulary)) - {OVERRULES}


def test_drop_downs_and_meanings(book: Rulebook) -> None:
    written = openpyxl.load_workbook(BytesIO(template(book.vocabulary)))
    yard, meaning = written["yard"], written["meaning"]
    assert yard.freeze_panes == "B2"
    listed = [field for field in fields(book.vocabulary).values() if field.kind is Kind.LISTED]
    assert len(yard.data_validations.dataValidation) == len(listed)
    by_column = {str(one.sqref).split(":")[0].rstrip("2"): one.formula1 for one in yard.data_validations.dataValidation}
    for cell in yard[1]:
        field = ordered(book.vocabulary)[cell.column - 1]
        assert field.means in cell.comment.text
        if field.kind is Kind.LISTED:
            first, last = by_column[cell.column_letter].split("!")[1].replace("$", "").split(":")
            answers = [one.value for row in meaning[first:last] for one in row]
            assert answers[: len(field.values)] == list(field.values)
    assert [cell.value for cell in meaning["A"]][1:] == [cell.value for cell in yard[1]]


def test_it_is_the_same_every_time(book: Rulebook) -> None:
    assert template(book.vocabulary) == template(book.vocabulary)


def test_filled_in_it_reads_back_without_a_map(tmp_path: Path, book: Rulebook) -> None:
    written = openpyxl.load_workbook(BytesIO(template(book.vocabulary)))
    yard = written["yard"]
    places = {field.column: place for place, field in enumerate(ordered(book.vocabulary), 1)}
    filled = {
        "tag": "A", "tyre.designation": "26.5R25", "tyre.date code": "0321", "length": 48, "tyre.tread left": 22.5,
        "found.moisture": "damp", "service.duty": "load and carry", "tyre.tread depths": "60; 57", "plies damaged": 2,
    }  # fmt: skip
    for column, value in filled.items():
        yard.cell(2, places[column]).value = value
    written.save(tmp_path / "yard.xlsx")
    seen = read(tmp_path / "yard.xlsx", book)
    (tyre,), (injury,) = seen.tyres.to_dicts(), seen.injuries.to_dicts()
    assert not seen.faults.height
    assert (injury["length"], injury["plies damaged"], injury["row"]) == ("48 mm", "2", 2)
    assert (tyre["tyre.tread left"], tyre["tyre.tread depths"]) == ("22.5 mm", "60 mm; 57 mm")
    assert (tyre["tyre.date code"], tyre["found.moisture"]) == ("0321", "damp")


def test_left_empty_it_is_one_error(tmp_path: Path, book: Rulebook) -> None:
    (tmp_path / "yard.xlsx").write_bytes(template(book.vocabulary))
    with pytest.raises(SheetError, match="headings and no rows"):
        read(tmp_path / "yard.xlsx", book)
