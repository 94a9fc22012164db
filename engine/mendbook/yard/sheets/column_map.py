"""A map that says which heading holds which field, in which unit: read, checked, written."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

import yaml

from mendbook.terms.document import Document, DocumentError, Way, read_document
from mendbook.terms.spelling import did_you_mean, suggest
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.sheets.fault import SheetError
from mendbook.yard.sheets.fields import Field, fields

UNREAD = "unread"
COLUMNS, FACT, UNIT = "columns", "fact", "unit"
_HEAD = """\
# Which column of the sheet holds which fact, and the unit of its bare numbers.
# Correct what is wrong, and give it again with --map. 'unread' leaves a column out.
"""


@dataclass(frozen=True)
class ColumnMap:
    """For each heading the column of a field, or UNREAD, and the unit of its bare numbers, or nothing."""

    columns: Mapping[str, tuple[str, str]]

    def check_headings(self, file: str, headings: set[str]) -> None:
        """Raise SheetError when the map names a heading that is on no sheet."""
        for heading in self.columns:
            if heading not in headings:
                near = did_you_mean(heading, headings - {""})
                raise SheetError(
                    file, f"the map names a heading '{heading}' that is not there.{near} Copy it from the sheet."
                )


def read_map(path: Path, vocabulary: Vocabulary) -> ColumnMap:
    """Return the map in the file `path`. Raises DocumentError at the first fault, with its line."""
    document = read_document(path)
    for key in document.tree:
        if key != COLUMNS:
            _refuse(document, (key,), f"'{key}' is not known here. Write 'columns:' and the headings under it.")
    columns = document.tree.get(COLUMNS)
    if not isinstance(columns, dict) or not columns:
        _refuse(
            document,
            (),
            "there are no columns. Write 'columns:', and under it such as 'Cut: {fact: length, unit: mm}'.",
        )
    found: dict[str, tuple[str, str]] = {}
    for heading, said in columns.items():
        found[heading] = _column(document, heading, said, vocabulary)
    return ColumnMap(found)


def write_map(path: Path, written: ColumnMap) -> None:
    """Write the map to the file `path`."""
    path.write_text(map_text(written), encoding="utf-8")


def map_text(written: ColumnMap) -> str:
    """Return the map as it stands in a file."""
    columns = {
        heading: UNREAD if column == UNREAD else {FACT: column, **({UNIT: unit} if unit else {})}
        for heading, (column, unit) in written.columns.items()
    }
    return _HEAD + yaml.safe_dump({COLUMNS: columns}, allow_unicode=True, sort_keys=False, width=1000)


def _column(document: Document, heading: str, said: object, vocabulary: Vocabulary) -> tuple[str, str]:
    at: Way = (COLUMNS, heading)
    if isinstance(said, str):
        said = {FACT: said}
    if not isinstance(said, dict) or not set(said) <= {FACT, UNIT} or not isinstance(said.get(FACT), str):
        _refuse(document, at, "this says no fact. Write '{fact: length, unit: mm}', or 'unread'.")
    name, unit = str(said[FACT]), said.get(UNIT, "")
    if name == UNREAD:
        return UNREAD, ""
    field = _field(document, at, name, vocabulary)
    if not isinstance(unit, str):
        _refuse(document, at, "the unit is one word, such as mm.")
    if unit and (why := field.refuses(unit)):
        _refuse(document, at, why)
    return field.column, unit


def _field(document: Document, at: Way, name: str, vocabulary: Vocabulary) -> Field:
    known = fields(vocabulary)
    plain = name.removeprefix("injuries.")
    if plain in known:
        return known[plain]
    named = [field for field in known.values() if field.name == plain]
    if len(named) != 1:
        near = suggest(plain, [*known, *(field.name for field in known.values())])
        offer = f" Did you mean '{near}'?" if near else " Write a fact such as 'tyre.designation' or 'length'."
        _refuse(document, at, f"there is no fact '{name}'.{offer}")
    return named[0]


def _refuse(document: Document, at: Way, message: str) -> NoReturn:
    raise DocumentError(document.name, document.line(at), 1, message)
