"""Money in the columns of a sheet: by the tag of each tyre, under the names that a case file uses."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import polars as pl

from mendbook.terms.money import Money
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.sheets.column_map import ColumnMap
from mendbook.yard.sheets.fault import SheetError
from mendbook.yard.sheets.fields import TAG
from mendbook.yard.sheets.opening import guess_tables, open_tables
from mendbook.yard.sheets.table import Table, cell_name

SECTION = "money."
NAMES = {(field.alias or name).casefold(): field.alias or name for name, field in Money.model_fields.items()}


def read_price_columns(
    files: Sequence[Path], vocabulary: Vocabulary, given: ColumnMap | None = None, worksheet: str | None = None
) -> Mapping[str, Mapping[str, frozenset[str]]]:
    """Return what is written of the money of each tyre in the sheets `files`: all cells that differ, by its tag.

    A heading is a line of 'money:' in a case file, alone or behind 'money.'; other columns are left alone.
    Raises SheetError when a sheet cannot be read, or has prices and no column for the tag.
    """
    found: dict[str, dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    with TemporaryDirectory(prefix="mendbook-") as scratch:
        tables = open_tables(files, Path(scratch), worksheet)
        guesses = guess_tables(tables, vocabulary, given)
        for table, guess in zip(tables, guesses, strict=True):
            columns = _money_columns(table)
            if not columns:
                continue
            tags = guess.places(TAG)
            if not tags:
                raise SheetError(table.name, "there are prices and no column with the tag of the tyre. Add it.")
            for tag, cells in _cells(table, tags[0], columns):
                for name, cell in cells:
                    found[tag][name].add(cell)
    return {tag: {name: frozenset(cells) for name, cells in own.items()} for tag, own in found.items()}


def _money_columns(table: Table) -> dict[str, str]:
    """Return the column of text of each line of money."""
    plain = {
        place: " ".join(heading.split()).casefold().removeprefix(SECTION)
        for place, heading in enumerate(table.headings)
    }
    return {cell_name(place): NAMES[name] for place, name in plain.items() if name in NAMES}


def _cells(table: Table, tag: int, columns: Mapping[str, str]) -> list[tuple[str, list[tuple[str, str]]]]:
    rows = table.rows.select(pl.col(cell_name(tag)).str.strip_chars().alias(TAG), *columns).drop_nulls(TAG).unique()
    return [
        (row[TAG], [(name, row[column].strip()) for column, name in columns.items() if (row[column] or "").strip()])
        for row in rows.collect().iter_rows(named=True)
    ]
