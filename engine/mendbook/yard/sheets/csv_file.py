"""A CSV file: its delimiter, its headings, and its rows, of which those that do not fit are named and taken out."""

import csv
from collections.abc import Iterator, Sequence
from itertools import islice
from pathlib import Path
from typing import BinaryIO, TextIO

import polars as pl

from mendbook.yard.sheets.encoding import as_utf8
from mendbook.yard.sheets.fault import ROW, SheetError
from mendbook.yard.sheets.source import Source
from mendbook.yard.sheets.survey import NOTHING, Survey, survey
from mendbook.yard.sheets.table import BROKEN, WHOLE_ROW, Table, cell_name

DELIMITERS = (",", ";", "\t", "|")
TRIED = 50  # records from which the delimiter is told
KEPT = 300  # characters of a row that does not fit, enough to find whose it is
MOST_BROKEN = 0.5  # share of rows; with more, the fault is in the file

_TOO_MANY = (
    "this row has {found} cells, and there are {wanted} headings: the cells behind a stray '{delimiter}' have moved. "
    "Put a text with '{delimiter}' in it between double quotes, or write a decimal point."
)
_TOO_FEW = (
    "this row has {found} cells, and there are {wanted} headings. Write every cell, and leave it empty if need be."
)
_STRAY_QUOTE = (
    "a cell of this row opens with a double quote and does not end with one. End it, or write 'in' for inches."
)


def read_csv(source: Source, scratch: Path) -> Table:
    """Return the CSV `source`. Raises SheetError when it has no headings, or most rows do not fit under them."""
    path = as_utf8(source, scratch)
    delimiter, above = _sniff(source, path)
    headings, data_begin, lines_above = _headings(path, delimiter, above)
    seen = survey(path, delimiter, len(headings), data_begin)
    first = above + 2  # as a person counts, with the headings in the row before
    if seen.is_quoted_well and not seen.has_long_cells:
        broken = [
            (u.number + first, _misfit(u.cells, len(headings), delimiter), _text(path, u.begin, u.end))
            for u in seen.uneven
        ]
        count = seen.records
        if seen.uneven:
            path, data_begin = _patched(path, seen, delimiter, len(headings), scratch, data_begin), 0
    else:
        try:
            path, broken, count = _rewritten(path, seen, delimiter, len(headings), scratch, above)
        except csv.Error as problem:
            raise SheetError(source.name, f"a cell cannot be read: {problem}. Save the sheet as CSV again.") from None
        delimiter, data_begin = ",", 0
    faults = [(row, WHOLE_ROW, words, text) for row, words, text in broken if words]
    if len(faults) > MOST_BROKEN * count:
        raise SheetError(
            source.name, f"most rows do not fit under the headings, row {faults[0][0]} first: {faults[0][2]}"
        )
    names = [cell_name(place) for place in range(len(headings))]
    rows = pl.scan_csv(
        path,
        has_header=False,
        skip_lines=lines_above if data_begin else 0,
        separator=delimiter,
        quote_char='"' if seen.has_quotes else None,
        schema=dict.fromkeys(names, pl.String),
        row_index_name=ROW,
        row_index_offset=first,
        glob=False,
    ) if count else pl.LazyFrame(schema={ROW: pl.Int64, **dict.fromkeys(names, pl.String)})  # fmt: skip
    return Table(
        source,
        headings,
        rows.with_columns(pl.col(ROW).cast(pl.Int64)),
        count,
        pl.DataFrame(faults, BROKEN, orient="row"),
        delimiter,
        has_commas=delimiter != "," or seen.has_quotes,
        keeps_zeros=True,
    )


def _sniff(source: Source, path: Path) -> tuple[str, int]:
    """Return the delimiter, and the number of blank lines above the headings."""
    with path.open(encoding="utf-8", newline="") as file:
        lines = [line.rstrip("\r\n") for line in islice(file, 10 * TRIED)]
    above = next((place for place, line in enumerate(lines) if line.strip(" \t,;|\ufeff")), None)
    if above is None:
        raise SheetError(source.name, "there are no headings. Write them in the first row.")
    lines = [line for line in lines[above:] if line.strip()][:TRIED]

    def likelihood(delimiter: str) -> tuple[float, int]:
        counts = [len(next(csv.reader([line], delimiter=delimiter), [])) for line in lines]
        alike = sum(count == counts[0] for count in counts) / len(counts)
        return (alike if counts[0] > 1 else 0.0), counts[0]

    return max(DELIMITERS, key=likelihood), above


def _headings(path: Path, delimiter: str, above: int) -> tuple[tuple[str, ...], int, int]:
    """Return the headings, and the offset of the first row below them [bytes] and in lines."""
    lines = above + 1
    with path.open("rb") as file:
        for _ in range(above):
            file.readline()
        line = file.readline()
        while line.count(b'"') % 2 and (more := file.readline()):
            line, lines = line + more, lines + 1
        text = line.decode("utf-8").removeprefix("\ufeff").rstrip("\r\n")
        cells = next(csv.reader([text.replace("\r\n", " ").replace("\n", " ")], delimiter=delimiter), [])
        return tuple(" ".join(cell.split()) for cell in cells), file.tell(), lines


def _misfit(found: int, wanted: int, delimiter: str) -> str:
    """Return why a row with `found` cells is not read; nothing for a blank one."""
    words = _TOO_MANY if found > wanted else _TOO_FEW
    return words.format(found=found, wanted=wanted, delimiter=delimiter) if found else ""


def _text(path: Path, begin: int, end: int) -> str:
    with path.open("rb") as file:
        file.seek(begin)
        return file.read(min(end - begin, KEPT)).decode("utf-8", "replace")


def _patched(path: Path, seen: Survey, delimiter: str, cells: int, scratch: Path, begin: int) -> Path:
    """Return a copy of the rows in which blank records stand for those that do not fit."""
    copy = scratch / f"{path.name}.patched"
    blank = delimiter.encode() * (cells - 1) if cells > 1 else b'""'
    seen.has_quotes = seen.has_quotes or cells == 1
    with path.open("rb") as old, copy.open("wb") as new:
        old.seek(begin)
        for uneven in seen.uneven:
            _copy(old, new, uneven.begin - old.tell())
            new.write(blank)
            old.seek(uneven.end)
        _copy(old, new, path.stat().st_size - old.tell())
    return copy


def _copy(old: BinaryIO, new: BinaryIO, length: int) -> None:
    while length > 0 and (block := old.read(min(length, 1 << 24))):
        new.write(block)
        length -= len(block)


def _rewritten(
    path: Path, seen: Survey, delimiter: str, cells: int, scratch: Path, above: int
) -> tuple[Path, list[tuple[int, str, str]], int]:
    """Return a copy in plain CSV of rows with quotes where none should be, or with cells of several lines."""
    copy = scratch / f"{path.name}.rewritten"
    broken: list[tuple[int, str, str]] = []
    count = 0
    with path.open(encoding="utf-8", newline="") as old, copy.open("w", encoding="utf-8", newline="") as new:
        for _ in range(above):
            old.readline()
        writer = csv.writer(new, quoting=csv.QUOTE_ALL, lineterminator="\n")
        records = _whole(old, delimiter) if seen.is_quoted_well else _by_line(old, delimiter)
        next(records)
        for row, (found, text) in enumerate(records, above + 2):
            count += 1
            if found is None or len(found) != cells:
                words = _STRAY_QUOTE if found is None else _misfit(len(found), cells, delimiter)
                broken.append((row, words if text.strip(delimiter + NOTHING.decode()) else "", text[:KEPT]))
                found = [""] * cells
            writer.writerow([cell.replace("\r\n", " ").replace("\n", " ") for cell in found])
    seen.has_quotes = True
    return copy, broken, count


def _whole(lines: TextIO, delimiter: str) -> Iterator[tuple[Sequence[str] | None, str]]:
    for found in csv.reader(lines, delimiter=delimiter):
        yield found, delimiter.join(found)


def _by_line(lines: TextIO, delimiter: str) -> Iterator[tuple[Sequence[str] | None, str]]:
    for line in lines:
        text = line.rstrip("\r\n")
        try:
            yield next(csv.reader([text], delimiter=delimiter, strict=True), []), text
        except csv.Error:
            yield None, text
