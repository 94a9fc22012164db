"""Cells of a sheet, as the reader of single cases gets them."""

from pathlib import Path

import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.rulebook.book import Rulebook
from mendbook.terms.quantity import Dimension, QuantityError, read_quantity
from mendbook.yard.sheets.cells import Habits, cell_fault, plain, read_cells
from mendbook.yard.sheets.dates import read_code, read_date
from mendbook.yard.sheets.fields import fields
from tests.yard.sheets.yards import as_csv, read, write


def cell(text: str, column: str, book: Rulebook, unit: str = "", habits: Habits | None = None) -> str | None:
    found = read_cells(plain(pl.col("c")), fields(book.vocabulary)[column], unit, habits or Habits())
    result: str | None = pl.DataFrame({"c": [text]}, {"c": pl.String}).select(found.alias("c")).item()
    return result


@pytest.mark.parametrize(("text", "expected"), [
    ("48", "48 mm"), (" 48.5 ", "48.5 mm"), ("48,5", "48,5 mm"), ("45 to 60", "45 to 60 mm"), ("48 ± 2", "48 ± 2 mm"),
    ("48 +/- 2", "48 +/- 2 mm"), ("up to 60", "up to 60 mm"), ("1 7/8", "1 7/8 mm"), ("1-7/8", "1-7/8 mm"),
    ("2 in", "2 in"), ("1 7/8 to 2 in", "1 7/8 to 2 in"), ("48 mm", "48 mm"), ("n/a", "unknown"), ("?", "unknown"),
    ("Unknown", "unknown"), ("not measured", "unknown"), ("about 48", "about 48"), ("none", "none"), ("45-60", "45-60"),
    ("", None), ("   ", None),
])  # fmt: skip
def test_a_bare_number_takes_the_unit_of_its_heading(text: str, expected: str | None, book: Rulebook) -> None:
    assert cell(text, "length", book, "mm") == expected


def test_without_a_unit_a_bare_number_stays_bare(book: Rulebook) -> None:
    assert cell("48", "length", book) == "48"
    with pytest.raises(QuantityError):
        read_quantity("48", Dimension.LENGTH)


@pytest.mark.parametrize(("text", "expected"), [
    ("60; 57 ;58", "60 mm; 57 mm;58 mm"), ("60", "60 mm"), ("60 mm; 57 mm", "60 mm; 57 mm"), ("60;57 mm", "60;57 mm"),
])  # fmt: skip
def test_several_readings_in_one_cell(text: str, expected: str, book: Rulebook) -> None:
    assert cell(text, "tyre.tread depths", book, "mm") == expected


@pytest.mark.parametrize(("text", "column", "expected"), [
    ("Y", "skived", "yes"), ("TRUE", "skived", "yes"), ("0", "skived", "no"), ("n/a", "skived", "unknown"),
    ("Damp", "found.moisture", "damp"), ("none", "found.run flat", "none"), ("Bead", "zone", "bead"),
    ("Upper-Sidewall", "zone", "upper sidewall"), ("serial_side", "side", "serial side"),
    ("unknown", "side", None), ("moist", "found.moisture", "moist"),
    ("No", "earlier repairs", "none"), ("yes", "earlier repairs", "not mapped"), ("y", "found.moisture", "y"),
    ("N/A", "tyre.designation", "unknown"), ("-", "judged on", "-"), ("n/a", "name", "n/a"),
])  # fmt: skip
def test_the_words_people_use(text: str, column: str, expected: str | None, book: Rulebook) -> None:
    assert cell(text, column, book) == expected


def test_every_listed_value_stays_what_it_is(book: Rulebook) -> None:
    for field in fields(book.vocabulary).values():
        for value in field.values:
            assert cell(value, field.column, book) == value
            assert cell(value.upper(), field.column, book) == value


@pytest.mark.parametrize(("text", "expected"), [
    ("2026-11-25", "2026-11-25"), ("2026-11-25 00:00:00", "2026-11-25"), ("2026/11/5", "2026-11-05"),
    ("25.11.2026", "2026-11-25"), ("5.6.2026", "2026-06-05"), ("25/11/2026", "2026-11-25"),
    ("11/25/2026", "2026-11-25"), ("5/5/2026", "2026-05-05"), ("25 Nov 2026", "2026-11-25"),
    ("November 25, 2026", "2026-11-25"), ("46351", "46351"), ("soon", "soon"),
])  # fmt: skip
def test_dates(text: str, expected: str) -> None:
    assert read_date(text) == (expected, None)


@pytest.mark.parametrize(("text", "why"), [("5/6/2026", "day 5 of month 6"), ("31.2.2026", "no day of the calendar")])
def test_dates_that_are_refused(text: str, why: str) -> None:
    assert why in str(read_date(text)[1])


def test_a_date_code_that_may_have_lost_its_zero() -> None:
    assert "'301' may be 0301" in str(read_code("301"))
    assert read_code("0301") is None
    assert read_code("AB12 CDE 301") is None


def codes(texts: list[str], tmp_path: Path, book: Rulebook) -> dict[int, str]:
    rows = [(f"T{place}", text) for place, text in enumerate(texts)]
    return read(write(tmp_path / "a.csv", as_csv(("tag", "date code"), rows)), book).reasons()


def test_three_digits_are_taken_where_other_codes_kept_their_zero(tmp_path: Path, book: Rulebook) -> None:
    assert list(codes(["301", "2220"], tmp_path, book)) == [2]
    assert not codes(["301", "0220"], tmp_path, book)


def lengths(texts: list[str], tmp_path: Path, book: Rulebook) -> tuple[list[str], dict[int, str]]:
    rows = [(f"T{place}", text, "3") for place, text in enumerate(texts)]
    seen = read(write(tmp_path / "a.csv", as_csv(("tag", "length [mm]", "depth [mm]"), rows, ";")), book)
    return seen.injuries.get_column("length").to_list(), seen.reasons()


def test_a_decimal_comma_that_other_cells_make_clear(tmp_path: Path, book: Rulebook) -> None:
    assert lengths(["48,5", "1,250"], tmp_path, book)[0] == ["48.5 mm", "1.250 mm"]
    assert lengths(["48,5", "48.5", "1,250"], tmp_path, book)[0] == ["48,5 mm", "48.5 mm", "1,250 mm"]
    assert lengths(["48", "1,250"], tmp_path, book)[0] == ["48 mm", "1,250 mm"]
    with pytest.raises(QuantityError, match="may be"):
        read_quantity("1,250 mm", Dimension.LENGTH)


def test_a_point_among_decimal_commas_is_refused(tmp_path: Path, book: Rulebook) -> None:
    texts, reasons = lengths(["48,5", "1.250", "7"], tmp_path, book)
    assert texts == ["48.5 mm", "7 mm"]
    assert "'1.250': it may be thousands or decimals" in reasons[3]


_numbers = st.decimals(0, 3000, places=2, allow_nan=False).map(lambda number: f"{number:f}".rstrip("0").rstrip("."))


@given(number=_numbers, unit=st.sampled_from(["mm", "cm", "in", "ft"]))
def test_unit_in_the_heading_or_in_the_cell_is_the_same_reading(number: str, unit: str, book: Rulebook) -> None:
    by_heading = cell(number, "length", book, unit)
    assert by_heading is not None
    assert (
        read_quantity(by_heading, Dimension.LENGTH).value == read_quantity(f"{number} {unit}", Dimension.LENGTH).value
    )


@given(text=st.text(max_size=25), column=st.sampled_from(["length", "skived", "judged on", "tyre.date code", "zone"]))
def test_no_cell_upsets_it(text: str, column: str, book: Rulebook) -> None:
    field = fields(book.vocabulary)[column]
    habits = Habits(has_decimal_comma=True)
    read_text = cell(text, column, book, "mm" if column == "length" else "", habits)
    assert read_text is None or isinstance(read_text, str)
    fault = cell_fault(plain(pl.col("c")), field, habits)
    if fault is not None:
        words = pl.DataFrame({"c": [text]}, {"c": pl.String}).select(fault.alias("c")).item()
        assert words is None or isinstance(words, str)
