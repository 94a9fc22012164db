"""An invented yard, written in every form a sheet may come in, and what was read of it."""

import csv
import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import openpyxl
import polars as pl

from mendbook.rulebook.book import Rulebook
from mendbook.yard.batch import Batch, rows_in
from mendbook.yard.sheets import ColumnMap, open_sheet

# Invented.
HEADINGS = (
    "tag", "designation", "date code", "moisture", "pressure at removal [bar]", "name", "kind", "length [mm]", "depth",
    "skived", "judged on",
)  # fmt: skip
ROWS: tuple[tuple[str | None, ...], ...] = (
    ("Q-1", "26.5R25", "0321", "damp", "4.5", "A", "cut", "48", "12 mm", "yes", "2026-11-25"),
    ("Q-1", "26.5R25", "0321", "damp", "4.5", "B", "puncture", "1 7/8 in", "8 ± 1 mm", "no", "2026-11-25"),
    ("Q-2", "20.5R25", None, None, None, None, None, None, None, None, "2026-11-25"),
    ("Q-3", "23.5R25", "2220", "unknown", "2.2 bar", "Ä", "crack", "20 to 30", "unknown", None, None),
)
TYRES = ("designation", "date code", "moisture", "pressure at removal [bar]", "judged on")

Quoting = Literal[0, 1, 2, 3]  # as the csv module numbers it


@dataclass(frozen=True)
class Seen:
    """Everything that was read of a sheet; the tyres with a fault are left out, as a review leaves them out."""

    tyres: pl.DataFrame
    injuries: pl.DataFrame
    faults: pl.DataFrame
    rows: int
    blank: int

    def reasons(self) -> dict[int, str]:
        """The first reason of each row that is set aside."""
        found: dict[int, str] = {}
        for row, words in self.faults.select("row", "words").rows():
            found.setdefault(row, words)
        return found


def read(
    paths: Path | Sequence[Path], book: Rulebook, given: ColumnMap | None = None, size: int = 10_000,
    worksheet: str | None = None,
) -> Seen:  # fmt: skip
    """Return all that is read of `paths`, after checking that no row is lost on the way."""
    several = [paths] if isinstance(paths, Path) else paths
    with open_sheet(several, book.vocabulary, given, worksheet) as sheet:
        batches = list(sheet.batches(size))
        assert sum(rows_of(batch) for batch in batches) == sheet.rows
        faults = pl.concat([batch.faults for batch in batches])
        tyres, injuries = (
            pl.concat([getattr(batch, name) for batch in batches]).join(
                faults, on="tyre", how="anti", maintain_order="left"
            )
            for name in ("tyres", "injuries")
        )
        return Seen(tyres, injuries, faults, sheet.rows, sheet.blank)


def rows_of(batch: Batch) -> int:
    """Count the rows of a batch after checking that a row number is of one row; a case on one line has one line."""
    came = rows_in(batch)
    by_row = pl.concat([frame.select("row", "tyre") for frame in (batch.injuries, batch.tyres)]).unique()
    assert by_row.get_column("row").is_unique().all()
    return len(came) + batch.joined


def as_csv(
    headings: Sequence[str], rows: Sequence[Sequence[str | None]], delimiter: str = ",", end: str = "\n",
    quoting: Quoting = csv.QUOTE_MINIMAL,
) -> str:  # fmt: skip
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter, lineterminator=end, quoting=quoting)
    writer.writerow(headings)
    writer.writerows(["" if cell is None else cell for cell in row] for row in rows)
    return text.getvalue()


def write(path: Path, text: str, encoding: str = "utf-8") -> Path:
    path.write_bytes(text.encode(encoding))
    return path


def as_workbook(path: Path, sheets: Mapping[str, Sequence[Sequence[object]]]) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    book.save(path)
    return path


def as_lines(path: Path, rows: Sequence[Mapping[str, object]]) -> Path:
    return write(path, "".join(json.dumps(row, ensure_ascii=False) + "\n" for row in rows))
