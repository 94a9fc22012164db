"""What a reader of values does not tell of a workbook: merged blocks, percentages, formulas and errors.

The XML is looked through as bytes, a block at a time: a sheet of a million rows is a gigabyte of it.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from zipfile import ZipFile

BLOCK = 1 << 22
LONGEST_ROW = 1 << 26  # bytes that are carried over to the next block

_STYLE = re.compile(rb"<(?:\w+:)?xf\b[^>]*?\bnumFmtId=\"(\d+)\"")
_FORMAT = re.compile(rb"<(?:\w+:)?numFmt\b[^>]*>")
_STYLES_OF_CELLS = re.compile(rb"<(?:\w+:)?cellXfs\b.*?</(?:\w+:)?cellXfs>", re.DOTALL)
_BUILT_IN_PERCENT = {9, 10}  # number formats 0% and 0.00% (ECMA-376 part 1, 18.8.30; from memory)
_CELL = rb"<(?:\w+:)?c\b(?=[^>]*\br=\"([A-Z]{1,3})(\d+)\")"
_ERROR = re.compile(_CELL + rb"(?=[^>]*\bt=\"e\")[^>]*>(?:<(?:\w+:)?f\b.*?(?:/>|</(?:\w+:)?f>))?<(?:\w+:)?v>([^<]*)")
_FORMULA = re.compile(
    _CELL + rb"(?![^>]*\bt=\"str\")[^>/]*>\s*<(?:\w+:)?f\b(?:[^>]*/>|[^<]*</(?:\w+:)?f>)\s*"
    rb"(?:<(?:\w+:)?v\s*/>|<(?:\w+:)?v></(?:\w+:)?v>|(?=</(?:\w+:)?c>))"
)
_MERGED = re.compile(rb"<(?:\w+:)?mergeCell\b[^>]*\bref=\"([A-Z]{1,3})(\d+):([A-Z]{1,3})(\d+)\"")
_RELATION = re.compile(rb"<(?:\w+:)?Relationship\b[^>]*>")
_SHEET = re.compile(rb"<(?:\w+:)?sheet\b[^>]*\br:id=\"([^\"]+)\"")

_NOT_WORKED_OUT = "there is a formula here whose result is not stored. Open the workbook, let it calculate, save it."
_IS_AN_ERROR = "there is the error {error} here instead of a value. Mend the formula, or write the value."


@dataclass(frozen=True)
class Block:
    """A merged block of cells: rows from 1, places of columns from 0."""

    first_row: int
    last_row: int
    first_place: int


@dataclass
class Marks:
    """What was found: `faults` are (row, place, words); `percentages` are rows by the place of their column."""

    merged: list[Block] = field(default_factory=list)
    percentages: dict[int, list[int]] = field(default_factory=dict)
    faults: list[tuple[int, int, str]] = field(default_factory=list)


def read_marks(path: Path, sheet: int) -> Marks:
    """Return what stands in the XML of the sheet with number `sheet`, from 0, of the workbook `path`."""
    marks = Marks()
    with ZipFile(path) as archive:
        part = _part(archive, sheet)
        if part not in archive.namelist():
            return marks
        percents = _percent_styles(archive)
        shown = (
            re.compile(_CELL + rb"(?=[^>]*\bs=\"(?:%s)\")" % b"|".join(b"%d" % style for style in percents))
            if percents
            else None
        )
        for block in _blocks(archive, part):
            marks.faults += _faults(block)
            if shown:
                for letters, row in shown.findall(block):
                    marks.percentages.setdefault(place_of(letters), []).append(int(row))
            marks.merged += [Block(int(r), int(last), place_of(c)) for c, r, _, last in _MERGED.findall(block)]
    return marks


def _faults(block: bytes) -> Iterator[tuple[int, int, str]]:
    if b't="e"' in block:  # the patterns take ten times as long as a look for what they need
        for letters, row, error in _ERROR.findall(block):
            yield int(row), place_of(letters), _IS_AN_ERROR.format(error=error.decode("utf-8", "replace"))
    if b"<f" in block or b":f" in block:
        for letters, row in _FORMULA.findall(block):
            yield int(row), place_of(letters), _NOT_WORKED_OUT


def place_of(letters: bytes) -> int:
    """Return the place from 0 of the column that a workbook calls by `letters`: A is 0, AA is 26."""
    place = 0
    for letter in letters:
        place = 26 * place + letter - 64
    return place - 1


def _blocks(archive: ZipFile, part: str) -> Iterator[bytes]:
    """Yield the XML in pieces that end between two rows."""
    carried = b""
    with archive.open(part) as file:
        while fresh := file.read(BLOCK):
            data = carried + fresh
            cut = data.rfind(b"row>") + len(b"row>")
            if cut < len(b"row>"):
                cut = 0
            if len(data) - cut > LONGEST_ROW:
                cut = data.rfind(b">") + 1
            yield data[:cut]
            carried = data[cut:]
    yield carried


def _part(archive: ZipFile, sheet: int) -> str:
    ids = _SHEET.findall(archive.read("xl/workbook.xml"))
    if sheet >= len(ids):
        return ""
    for relation in _RELATION.findall(archive.read("xl/_rels/workbook.xml.rels")):
        if b'Id="%s"' % ids[sheet] in relation and (target := re.search(rb"Target=\"([^\"]+)\"", relation)):
            path = target[1].decode().lstrip("/")
            return path if path.startswith("xl/") else f"xl/{path}"
    return ""


def _percent_styles(archive: ZipFile) -> list[int]:
    if "xl/styles.xml" not in archive.namelist():
        return []
    styles = archive.read("xl/styles.xml")
    formats = set(_BUILT_IN_PERCENT)
    for one in _FORMAT.findall(styles):
        code, number = re.search(rb"formatCode=\"([^\"]*)\"", one), re.search(rb"numFmtId=\"(\d+)\"", one)
        if code and number and b"%" in code[1]:
            formats.add(int(number[1]))
    cells = _STYLES_OF_CELLS.search(styles)
    used = _STYLE.findall(cells[0]) if cells else []
    return [place for place, number in enumerate(used) if int(number) in formats]
