"""A workbook: the values of its one sheet as text, and the cells whose value is not what a person sees."""

from zipfile import BadZipFile

import fastexcel
import polars as pl

from mendbook.yard.sheets.fault import ROW, SheetError
from mendbook.yard.sheets.source import Source
from mendbook.yard.sheets.table import BROKEN, Table, cell_name
from mendbook.yard.sheets.workbook_cells import Marks, read_marks

MEANING = "meaning"  # the sheet of our own template that explains the columns
_NO_ROWS = "the sheet is empty. Write headings in the first row and one injury in each row below."


def read_workbook(source: Source, worksheet: str | None = None) -> list[Table]:
    """Return the tables of the workbook `source`: its one sheet, or the two called 'tyres' and 'injuries'.

    `worksheet` names the sheet that is meant where there are several. Raises SheetError.
    """
    try:
        with source.path.open("rb") as file:
            book = fastexcel.read_excel(file.read())
        names = _chosen(source, book, worksheet)
        return [_read(source, book, name) for name in names]
    except (fastexcel.FastExcelError, BadZipFile, KeyError) as problem:
        reason = str(problem).splitlines()[0]
        raise SheetError(source.name, f"the workbook cannot be read: {reason}. Save it again as XLSX.") from None


def _chosen(source: Source, book: fastexcel.ExcelReader, worksheet: str | None) -> list[str]:
    if worksheet is not None:
        if worksheet not in book.sheet_names:
            known = ", ".join(f"'{name}'" for name in book.sheet_names)
            raise SheetError(source.name, f"there is no sheet '{worksheet}'. Write one of: {known}.")
        return [worksheet]
    filled = [name for name in book.sheet_names if name.casefold() != MEANING]
    if len(filled) > 1:  # a look into a sheet costs as much as reading it
        filled = [name for name in filled if _text(book, name, rows=1).height]
    if not filled:
        raise SheetError(source.name, _NO_ROWS)
    if sorted(name.casefold() for name in filled) == ["injuries", "tyres"]:
        return filled
    if len(filled) > 1:
        known = ", ".join(f"'{name}'" for name in filled)
        raise SheetError(source.name, f"there are {len(filled)} sheets with something in them: {known}. Say which one.")
    return filled


def _text(book: fastexcel.ExcelReader, name: str, rows: int | None = None) -> pl.DataFrame:
    sheet = book.load_sheet(name, header_row=None, skip_rows=0, n_rows=rows, dtypes="string")
    return sheet.to_polars()


def _read(source: Source, book: fastexcel.ExcelReader, worksheet: str) -> Table:
    frame = _text(book, worksheet)
    frame.columns = [cell_name(place) for place in range(frame.width)]
    cells = list(frame.columns)
    if not frame.height:
        raise SheetError(source.name, _NO_ROWS)
    marks = read_marks(source.path, book.sheet_names.index(worksheet))
    frame = frame.with_row_index(ROW, 1).with_columns(pl.col(ROW).cast(pl.Int64))
    filled = frame.filter(pl.any_horizontal(pl.col(cells).str.strip_chars().fill_null("") != ""))
    head = filled.row(0, named=True)
    above = int(head[ROW])
    headings = tuple(" ".join((head[name] or "").split()) for name in cells)
    rows = _filled_down(frame, marks, above).filter(pl.col(ROW) > above)
    rows = _as_shown(rows, marks)
    broken = [(row, place, words, None) for row, place, words in marks.faults if row > above and place < len(cells)]
    return Table(
        source, headings, rows.lazy(), rows.height, pl.DataFrame(broken, BROKEN, orient="row"), keeps_zeros=False
    )  # fmt: skip


def _filled_down(frame: pl.DataFrame, marks: Marks, above: int) -> pl.DataFrame:
    """Return `frame` in which every cell of a merged block says what the block says."""
    for block in marks.merged:
        if block.first_row <= above or block.first_place >= frame.width - 1:
            continue
        value = (
            frame.item(block.first_row - 1, cell_name(block.first_place)) if block.first_row <= frame.height else None
        )
        inside = pl.col(ROW).is_between(block.first_row, block.last_row)
        # Down only: a block over several columns says nothing about the second one.
        name = cell_name(block.first_place)
        frame = frame.with_columns(pl.when(inside).then(pl.lit(value)).otherwise(pl.col(name)).alias(name))
    return frame


def _as_shown(rows: pl.DataFrame, marks: Marks) -> pl.DataFrame:
    """Return `rows` in which what is shown as a percentage is written as one: 0.65 shown as 65 % is '65 %'."""
    for place, shown in marks.percentages.items():
        name = cell_name(place)
        if name in rows.columns:
            share = pl.col(name).cast(pl.Float64, strict=False)
            is_shown = pl.col(ROW).is_in(shown) & share.is_not_null()
            text = (share * 100).round(10).cast(pl.String).str.strip_suffix(".0") + " %"
            rows = rows.with_columns(pl.when(is_shown).then(text).otherwise(pl.col(name)).alias(name))
    return rows
