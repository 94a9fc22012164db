"""A map of columns: read, checked, written, read again."""

from pathlib import Path

import pytest

from mendbook.rulebook.book import Rulebook
from mendbook.terms.document import DocumentError
from mendbook.yard.sheets import ColumnMap, SheetError, guess_sheet, read_map, write_map
from tests.yard.sheets.yards import read, write

SHEET = "Nummer,Groesse,Laenge,Bemerkung\nA,26.5R25,48,x\n"  # invented; headings that nobody can guess
MAP = """\
columns:
  Nummer: tag
  Groesse: {fact: designation}
  Laenge: {fact: injuries.length, unit: cm}
  Bemerkung: unread
"""


def test_a_map_says_what_no_guess_could(tmp_path: Path, book: Rulebook) -> None:
    given = read_map(write(tmp_path / "map.yaml", MAP), book.vocabulary)
    seen = read(write(tmp_path / "a.csv", SHEET), book, given)
    assert seen.tyres.select("tag", "tyre.designation").rows() == [("A", "26.5R25")]
    assert seen.injuries.get_column("length").to_list() == ["48 cm"]


def test_what_was_guessed_is_written_and_reads_the_same(tmp_path: Path, book: Rulebook) -> None:
    path = write(tmp_path / "a.csv", 'tag,"length [mm]",tyre size,remarks: yes,depth\nA,48,26.5R25,x,3 mm\n')
    (guess,) = guess_sheet([path], book.vocabulary)
    write_map(tmp_path / "map.yaml", guess.as_map())
    given = read_map(tmp_path / "map.yaml", book.vocabulary)
    assert given == guess.as_map()
    (again,) = guess_sheet([path], book.vocabulary, given)
    assert [(one.field, one.unit) for one in again.columns] == [(one.field, one.unit) for one in guess.columns]


def test_what_is_open_is_written_to_be_chosen(tmp_path: Path, book: Rulebook) -> None:
    path = write(tmp_path / "a.csv", "tag,size\nA,48\n")
    write_map(tmp_path / "map.yaml", guess_sheet([path], book.vocabulary)[0].as_map())
    with pytest.raises(DocumentError, match=r"map.yaml:\d+: there is no fact 'tyre.designation or length'"):
        read_map(tmp_path / "map.yaml", book.vocabulary)


@pytest.mark.parametrize(("text", "why"), [
    ("columns:\n  A: {fact: lenght}\n", r":2: there is no fact 'lenght'. Did you mean 'length'"),
    ("columns:\n  A: {fact: length, unit: bar}\n", r":2: 'bar' is a unit of pressure, and 'length' is a length"),
    ("columns:\n  A: {fact: length, unit: yards}\n", r":2: 'yards' is not a unit I know"),
    ("columns:\n  A: {fact: moisture, unit: mm}\n", r":2: 'found.moisture' takes no unit"),
    ("columns:\n  A: {fakt: length}\n", r":2: this says no fact"),
    ("columns:\n  A: [length]\n", r":2: this says no fact"),
    ("columns:\n  A: {fact: length, unit: [mm]}\n", r":2: the unit is one word"),
    ("columns: {}\n", "there are no columns"),
    ("colums: {A: length}\n", r":1: 'colums' is not known here"),
    ("", "is empty"),
])  # fmt: skip
def test_maps_that_are_refused(text: str, why: str, tmp_path: Path, book: Rulebook) -> None:
    with pytest.raises(DocumentError, match=why):
        read_map(write(tmp_path / "map.yaml", text), book.vocabulary)


def test_a_map_for_another_sheet(tmp_path: Path, book: Rulebook) -> None:
    with pytest.raises(SheetError, match=r"names a heading 'Lenght' that is not there\. Did you mean 'Length'"):
        read(write(tmp_path / "a.csv", "tag,Length\nA,48 mm\n"), book, ColumnMap({"Lenght": ("length", "mm")}))
