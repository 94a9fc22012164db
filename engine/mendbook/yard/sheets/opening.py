"""Files opened as tables, and their columns understood."""

import os
from collections.abc import Sequence
from pathlib import Path

from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.sheets.column_map import ColumnMap
from mendbook.yard.sheets.csv_file import read_csv
from mendbook.yard.sheets.fault import SheetError
from mendbook.yard.sheets.guess import Guess, check_guess, guess_columns
from mendbook.yard.sheets.layout import Layout, lay_out
from mendbook.yard.sheets.line_file import read_lines
from mendbook.yard.sheets.parquet_file import read_parquet
from mendbook.yard.sheets.source import Kind, open_source
from mendbook.yard.sheets.table import Table
from mendbook.yard.sheets.workbook import read_workbook

Given = str | os.PathLike[str]
_MOST_FILES = 2


def open_tables(paths: Sequence[Given], scratch: Path, worksheet: str | None) -> list[Table]:
    """Return the one or two tables in `paths`. Raises SheetError."""
    if not 1 <= len(paths) <= _MOST_FILES:
        raise SheetError(
            f"{len(paths)} files",
            "a yard is one sheet, or one of the tyres and one of their injuries. Name one or two.",
        )
    tables = [table for path in paths for table in _open(path, scratch, worksheet)]
    if len(tables) > _MOST_FILES:
        raise SheetError(tables[-1].name, "this is a third sheet. Give one with the tyres and one with their injuries.")
    return tables


def guess_tables(tables: Sequence[Table], vocabulary: Vocabulary, given: ColumnMap | None) -> list[Guess]:
    """Return what the columns of `tables` hold. Raises SheetError when the map `given` names a heading of none."""
    if given is not None:
        names = " and ".join(dict.fromkeys(table.name for table in tables))
        given.check_headings(names, {heading for table in tables for heading in table.headings})
    return [guess_columns(table.name, table.headings, vocabulary, given) for table in tables]


def lay_out_tables(tables: Sequence[Table], guesses: Sequence[Guess]) -> list[Layout]:
    """Return the layouts, that of the tyres before that of their injuries. Raises SheetError."""
    for guess in guesses:
        check_guess(guess)
    layouts = [lay_out(table, guess) for table, guess in zip(tables, guesses, strict=True)]
    if len(layouts) == 1:
        return layouts
    for layout in layouts:
        if not layout.has_tags:
            raise SheetError(
                layout.table.name, "no column is the tag. Tyres and injuries are joined by it: add it to both."
            )
    layouts.sort(key=lambda layout: layout.has_injuries)
    tyres, injuries = layouts
    if tyres.has_injuries or not injuries.has_injuries:
        has = "both sheets have" if tyres.has_injuries else "no sheet has"
        raise SheetError(
            injuries.table.name,
            f"{has} columns about injuries. Give one sheet of tyres and one of injuries, or all in one.",
        )
    if injuries.tyre_columns:
        told = ", ".join(f"'{injuries.headings[name]}'" for name in injuries.tyre_columns[:3])
        raise SheetError(
            injuries.table.name,
            f"with a sheet of tyres, this one may not tell of the tyre: {told}. Leave it out by a map.",
        )
    return layouts


def _open(path: Given, scratch: Path, worksheet: str | None) -> list[Table]:
    source = open_source(path, scratch)
    if worksheet is not None and source.kind is not Kind.WORKBOOK:
        raise SheetError(source.name, f"this is {source.kind} and has no sheets by name. Leave '{worksheet}' out.")
    if source.kind is Kind.WORKBOOK:
        return read_workbook(source, worksheet)
    if source.kind is Kind.PARQUET:
        return [read_parquet(source)]
    return [read_lines(source, scratch) if source.kind is Kind.LINES else read_csv(source, scratch)]
