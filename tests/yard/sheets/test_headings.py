"""What a heading is taken for, what is left unread, and what a person is asked."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.rulebook.book import Rulebook
from mendbook.yard.sheets import ColumnMap, SheetError
from mendbook.yard.sheets.fields import fields
from mendbook.yard.sheets.guess import Guess, How, check_guess, guess_columns

# Heading, column, unit. Headings as people write them, from common usage.
KNOWN = [
    ("Tag", "tag", ""),
    ("TYRE ID", "tag", ""),
    ("Tyre size", "tyre.designation", ""),
    ("tyre.designation", "tyre.designation", ""),
    ("DOT", "tyre.date code", ""),
    ("Length [mm]", "length", "mm"),
    ("injury length (in)", "length", "in"),
    ("length mm", "length", "mm"),
    ("cut_length_mm", "length", "mm"),
    ("Depth (in)", "depth", "in"),
    ("Pressure at removal, psi", "found.pressure at removal", "psi"),
    ("Removal pressure [bar]", "found.pressure at removal", "bar"),
    ("pressureSpecified", "service.pressure specified", ""),
    ("Speed km/h", "service.speed", "km/h"),
    ("speed (mph)", "service.speed", "mph"),
    ("Ambient °C", "service.ambient", "°c"),
    ("bead distance [cm]", "distance from bead", "cm"),
    ("clock [°]", "clock", "°"),
    ("tread depth", "tyre.tread left", ""),
    ("Remaining Tread Depth [mm]", "tyre.tread left", "mm"),
    ("tread depths", "tyre.tread depths", ""),
    ("Tread depth 3 [mm]", "tyre.tread depths", "mm"),
    ("shearography of the casing", "found.casing probe", ""),
    ("Cords cut", "cords cut", ""),
    ("inside_length (mm)", "inside length", "mm"),
    ("Inspection Date", "judged on", ""),
    ("tkph use (%)", "service.tkph use", "%"),
    ("Load loaded [t]", "service.load loaded", "t"),
]


def guess(headings: list[str], book: Rulebook, given: ColumnMap | None = None) -> Guess:
    return guess_columns("a.csv", headings, book.vocabulary, given)


@pytest.mark.parametrize(("heading", "column", "unit"), KNOWN)
def test_a_heading_that_is_known(heading: str, column: str, unit: str, book: Rulebook) -> None:
    (one,) = guess([heading], book).columns
    assert (one.field.column if one.field else one.note, one.unit) == (column, unit)


def test_every_field_is_known_by_its_own_name(book: Rulebook) -> None:
    for column in fields(book.vocabulary):
        for heading in (column, column.upper(), column.replace(" ", "_")):
            (one,) = guess([heading], book).columns
            assert one.field is not None
            assert one.field.column == column


@pytest.mark.parametrize("heading", ["Remarks", "Supplier", "", "Length (inside or out)", "weather", "colour"])
def test_what_is_not_known_is_left_unread(heading: str, book: Rulebook) -> None:
    (one,) = guess([heading], book).columns
    assert one.field is None
    assert one.how is How.UNREAD
    assert one.note


@pytest.mark.parametrize("heading", ["Pressure [bar]", "Size", "Date", "Type", "ply", "Tread", "tyre", "Location"])
def test_a_word_for_two_things_is_asked_for(heading: str, book: Rulebook) -> None:
    found = guess(["tag", heading], book)
    assert found.columns[1].how is How.OPEN
    with pytest.raises(SheetError, match="not clear") as error:
        check_guess(found)
    assert f"'{heading}' (column B)" in str(error.value)


def test_two_columns_for_one_thing_are_asked_for(book: Rulebook) -> None:
    with pytest.raises(SheetError, match="2 columns would be 'length'"):
        check_guess(guess(["length [mm]", "cut length [mm]"], book))


def test_a_map_settles_it(book: Rulebook) -> None:
    settled = guess(["length [mm]", "cut length [mm]"], book, ColumnMap({"cut length [mm]": ("length", "mm")}))
    check_guess(settled)
    assert settled.places("length") == [1]
    (one,) = guess(["Size"], book, ColumnMap({"Size": ("tyre.designation", "")})).columns
    assert one.field is not None
    assert one.how is How.MAP


@pytest.mark.parametrize(("heading", "why"), [
    ("length [mm/in]", "it names 'mm' or 'in'"), ("length (mm or in)", "it names 'mm' or 'in'"),
    ("length [bar]", "a unit of pressure"), ("load loaded [tons]", "not clear"),
])  # fmt: skip
def test_a_unit_that_is_not_taken(heading: str, why: str, book: Rulebook) -> None:
    (one,) = guess([heading], book).columns
    assert one.field is not None
    assert one.unit == ""
    assert why in one.note


def test_wrong_headings_are_one_error(book: Rulebook) -> None:
    with pytest.raises(SheetError, match=r"no heading is one I know: the first row has 'Yard review', 'of spring'"):
        check_guess(guess(["Yard review", "of spring", ""], book))


def test_the_guess_is_shown_line_by_line(book: Rulebook) -> None:
    lines = list(guess(["tag", "length [mm]", "", "distance"], book).lines())
    assert lines[:2] == [("tag", "tag", "", ""), ("length [mm]", "length", "mm", "")]
    assert lines[2][0] == "column C, without a heading"
    assert "it may be" in lines[3][3]


@given(heading=st.text(max_size=60))
def test_no_heading_upsets_it(heading: str, book: Rulebook) -> None:
    (one,) = guess([heading], book).columns
    assert one.field is None or one.field.column in fields(book.vocabulary)
