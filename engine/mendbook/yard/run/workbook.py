"""The output as a workbook, written row by row: it may be larger than memory."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import polars as pl
import xlsxwriter
from xlsxwriter.exceptions import XlsxWriterException

from mendbook.yard.run.disk import HALF
from mendbook.yard.run.tables import as_text

ROWS_A_SHEET = 1_048_576  # headings among them (ECMA-376 leaves it open; it is what programs that open it can hold)
LONGEST_CELL = 32_767  # characters, likewise
IN_WORDS = "in words"
_ROWS_AT_ONCE = 20_000
_WIDEST, _NARROWEST = 60, 8  # characters
_LOOKED_AT = 500  # rows, for the widths
_MADE = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # the same bytes whenever it is written
_CUT = " ..."


def sheets_needed(rows: int, rows_a_sheet: int = ROWS_A_SHEET) -> int:
    """Return how many sheets hold `rows`."""
    return max(1, -(-rows // (rows_a_sheet - 1)))


def write_workbook(
    rows: pl.LazyFrame, path: Path, words: Mapping[str, str], rows_a_sheet: int = ROWS_A_SHEET
) -> None:  # fmt: skip
    """Write `rows` to sheets with frozen headings and filters; verdicts also in `words`.

    Raises OSError when it cannot be written.
    """
    told = _with_words(as_text(rows), words)
    with TemporaryDirectory(dir=path.parent, suffix=HALF) as scratch:
        _write_book(told, path, scratch, rows_a_sheet)


def _write_book(told: pl.LazyFrame, path: Path, scratch: str, rows_a_sheet: int) -> None:
    # A tag such as =1+1 stays the text that it is.
    options = {
        "constant_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "nan_inf_to_errors": True,
        "tmpdir": scratch,
    }  # fmt: skip
    book = xlsxwriter.Workbook(str(path), options)
    book.set_properties({"created": _MADE})
    names = told.collect_schema().names()
    try:
        head = told.head(_LOOKED_AT).collect()
        bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
        for number, lines in enumerate(_sheets(told, rows_a_sheet), start=1):
            _write_sheet(book.add_worksheet(f"decisions {number}"), names, _widths(head), lines, bold)
    finally:
        try:
            book.close()
        except XlsxWriterException as problem:
            raise problem.__cause__ or problem.args[0] from problem


def _sheets(rows: pl.LazyFrame, rows_a_sheet: int) -> Iterator[Iterator[tuple[Any, ...]]]:
    """Yield the rows of each sheet; the first is there even when there are none."""
    every = (
        row
        for chunk in rows.collect_batches(chunk_size=_ROWS_AT_ONCE, maintain_order=True, engine="streaming")
        for row in chunk.iter_rows()
    )
    ahead = [next(every, None)]

    def take() -> Iterator[tuple[Any, ...]]:
        for _ in range(rows_a_sheet - 1):
            if ahead[0] is None:
                return
            yield ahead[0]
            ahead[0] = next(every, None)

    yield take()
    while ahead[0] is not None:
        yield take()


def _write_sheet(
    sheet: Any, names: Sequence[str], widths: Sequence[int], rows: Iterator[tuple[Any, ...]], bold: Any
) -> None:  # fmt: skip
    for place, width in enumerate(widths):
        sheet.set_column(place, place, width)
    sheet.freeze_panes(1, 0)
    sheet.write_row(0, 0, names, bold)
    last = 0
    for last, row in enumerate(rows, start=1):
        for place, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(last, place, cell if len(cell) <= LONGEST_CELL else _cut(cell))
            elif isinstance(cell, bool):
                sheet.write_boolean(last, place, cell)
            elif cell is not None:
                sheet.write_number(last, place, cell)
    sheet.autofilter(0, 0, last, len(names) - 1)


def _cut(cell: str) -> str:
    return cell[: LONGEST_CELL - len(_CUT)] + _CUT


def _with_words(rows: pl.LazyFrame, words: Mapping[str, str]) -> pl.LazyFrame:
    """Return `rows` with what each verdict is called beside it."""
    columns: list[pl.Expr] = []
    for name in rows.collect_schema().names():
        columns.append(pl.col(name))
        if words and name.endswith("verdict"):
            columns.append(pl.col(name).replace(dict(words)).alias(f"{name} {IN_WORDS}"))
    return rows.select(columns)


def _widths(head: pl.DataFrame) -> list[int]:
    lengths = head.select(pl.col(name).cast(pl.String).str.len_chars().max() for name in head.columns).rows()[0]
    return [
        min(_WIDEST, max(_NARROWEST, len(name) + 3, (longest or 0) + 1))
        for name, longest in zip(head.columns, lengths, strict=True)
    ]
