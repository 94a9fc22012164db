"""Read the file of a cure curve: comma, semicolon or tab between columns, a heading with units, and the temperature.

Lines before the heading may say the temperature: 'temperature: 150 °C', behind a # or not.
"""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from hashlib import sha256

import numpy as np

from mendbook.cli.curve_columns import Column, UnitMissingError, What, find_columns, strip_unit
from mendbook.cli.documents import open_bytes
from mendbook.cure.arrays import Array
from mendbook.cure.readings import Readings
from mendbook.terms.document import LIMIT
from mendbook.terms.quantity import Dimension, QuantityError, read_quantity

HEAD = 60  # lines in which the heading must come
DELIMITERS = (";", "\t", ",")
COMMENT = "#"
AGREE = 1.0  # K between what a file says of its temperature and what the person says

_NUMBER = re.compile(r"[-+]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?")
_TEMPERATURE = re.compile(
    r"\W*(?:die |test )?temp(?:erature)?\.?\s*(?:[\[(](?P<unit>[^\])]+)[\])])?\s*[:=;,\t]\s*(?P<value>[-+]?\d.*)",
    re.IGNORECASE,
)
_END = re.compile(r"[;\t]|,(?!\d)")

Line = tuple[int, str]


class CurveFileError(ValueError):
    """A curve that cannot be read. The message says file, line, column, what, why and what to write instead."""


@dataclass(frozen=True)
class CurveFile:
    """The readings in a file, with the line of each."""

    name: str
    readings: Readings = field(repr=False)
    lines: tuple[int, ...] = field(repr=False)

    def place(self, reading: int | None) -> str:
        """Return where `reading` stands, as errors say it; the file alone for None."""
        return self.name if reading is None else f"{self.name}:{self.lines[reading]}"


def read_curve(given: str, temperature_C: float | None = None) -> CurveFile:
    """Return the curve in the file `given`, or on standard input for `-`.

    `temperature_C` is what the person says of the test; it is needed when the file does not say it. Raises
    DocumentError when the file cannot be opened, and CurveFileError.
    """
    return parse_curve(open_bytes(given), given, temperature_C)


def parse_curve(data: bytes, name: str, temperature_C: float | None = None) -> CurveFile:
    """Return the curve written in `data`; `name` is what errors call it. Raises CurveFileError."""
    written = [(number, line) for number, line in enumerate(_text(data, name).splitlines(), 1) if line.strip(" \t;,")]
    start, delimiter, cells = _heading(written, name)
    columns, rows = _units(written[start + 1 :], delimiter, find_columns(cells))
    table, lines = _table(rows, delimiter, columns, len(cells), name)
    read: dict[What, Array] = {}
    for place, column in enumerate(columns):
        try:
            factor, offset = column.scale()
        except UnitMissingError as problem:
            raise CurveFileError(f"{name}:{written[start][0]}: column {column.place + 1}: {problem}") from None
        read[column.what] = factor * table[:, place] + offset
    temperature = read.get("temperature", _said(written[:start], name))
    temperature = _agreed(temperature, temperature_C, name)
    digest = sha256(data).hexdigest()
    return CurveFile(name, Readings(read["time"], read["torque"], temperature, name, digest), lines)


def _text(data: bytes, name: str) -> str:
    if len(data) > LIMIT:
        raise CurveFileError(f"{name}: the file is longer than {LIMIT:,} bytes. Keep one test in one file.")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    if b"\0" in data:
        raise CurveFileError(f"{name}: there is a NUL byte: this is no text file. Save the curve as CSV.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")  # what many instruments write for °


def _cells(line: str, delimiter: str) -> list[str]:
    cells = [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter, strict=False))]
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _heading(written: Sequence[Line], name: str) -> tuple[int, str, list[str]]:
    """Return the place of the heading, what stands between its columns, and its cells."""
    half = ""
    for place, (number, line) in enumerate(written[:HEAD]):
        for delimiter in DELIMITERS:
            cells = _cells(line.lstrip(COMMENT), delimiter)
            found = find_columns(cells)
            if "time" in found and "torque" in found:
                return place, delimiter, cells
            if len(cells) > 1 and ("time" in found) is not ("torque" in found) and not half:
                one, other = ("time", "torque") if "time" in found else ("torque", "time")
                half = f"{name}:{number}: this heading names {one}, but no {other}. "
    where = half or f"{name}: no heading names time and torque. "
    raise CurveFileError(f"{where}Write a first line such as 'time [min];torque [dN m]'.")


def _units(
    rows: Sequence[Line], delimiter: str, found: dict[What, Column]
) -> tuple[tuple[Column, ...], Sequence[Line]]:
    """Return the columns with their units, and the rows of figures: units may stand in a row of their own."""
    columns = tuple(found.values())
    if not rows or all(column.unit for column in columns):
        return columns, rows
    cells = _cells(rows[0][1], delimiter)
    below = [cells[column.place] if column.place < len(cells) else "" for column in columns]
    if any(_NUMBER.fullmatch(cell) for cell in below):
        return columns, rows
    named = (replace(one, unit=one.unit or strip_unit(cell)) for one, cell in zip(columns, below, strict=True))
    return tuple(named), rows[1:]


def _table(
    rows: Sequence[Line], delimiter: str, columns: Sequence[Column], width: int, name: str
) -> tuple[Array, tuple[int, ...]]:
    """Return the figures of `columns` as written, one row a reading, and the line of each."""
    table: list[list[float]] = []
    lines: list[int] = []
    marks: dict[str, int] = {}  # decimal mark -> line where it stands first
    for number, line in rows:
        if line.startswith(COMMENT):
            continue
        cells = _cells(line, delimiter)
        where = f"{name}:{number}"
        if len(cells) > width:
            hint = "Between commas, write decimals with a point." if delimiter == "," else "Delete what is too much."
            raise CurveFileError(f"{where}: there are {len(cells)} values for {width} headings. {hint}")
        row = []
        for column in columns:
            cell = cells[column.place] if column.place < len(cells) else ""
            if not _NUMBER.fullmatch(cell):
                what = f"'{cell[:30]}' is not a number" if cell else "nothing is written"
                place = f"{where}: column {column.place + 1}, {column.what}"
                raise CurveFileError(f"{place}: {what}. Write plain figures, or delete the line.")
            marks |= {mark: marks.get(mark, number) for mark in ".," if mark in cell}
            row.append(float(cell.replace(",", ".")))
        if len(marks) > 1:
            raise CurveFileError(
                f"{where}: decimals are written with a point here and with a comma elsewhere (line "
                f"{min(marks.values())}). Write all of them alike, without marks between thousands."
            )
        table.append(row)
        lines.append(number)
    return np.array(table).reshape(len(table), len(columns)), tuple(lines)


def _said(head: Sequence[Line], name: str) -> float | None:
    """Return the temperature [°C] that a line above the heading says."""
    for number, line in head:
        if found := _TEMPERATURE.match(line):
            value = _END.split(found["value"])[0].strip()
            written = f"{value} {found['unit']}" if found["unit"] else value
            try:
                return read_quantity(written, Dimension.TEMPERATURE).value
            except QuantityError as problem:
                raise CurveFileError(f"{name}:{number}: temperature: {problem}") from None
    return None


def _agreed(read: Array | float | None, given: float | None, name: str) -> Array | float:
    """Return the temperature of the test [°C]: what the file says wins over what was given with it, if they agree."""
    if read is None:
        if given is None:
            raise CurveFileError(
                f"{name}: nothing says at which temperature the test was. Write '{name}@150 °C', or a line "
                "'# temperature: 150 °C' at its top."
            )
        return given
    middle = float(np.median(read)) if np.size(read) else given
    if given is not None and middle is not None and abs(given - middle) > AGREE:
        raise CurveFileError(
            f"{name}: the file says {middle:g} °C, and you say {given:g} °C. Correct the one that is wrong."
        )
    return read
