"""A Parquet file: its columns as the text that a person would have written."""

import polars as pl

from mendbook.yard.sheets.fault import ROW, SheetError
from mendbook.yard.sheets.source import Source
from mendbook.yard.sheets.table import Table, cell_name

FIRST = 2  # the row of the first record, as if headings stood above it


def read_parquet(source: Source) -> Table:
    """Return the table in the Parquet file `source`. Raises SheetError when it cannot be read."""
    try:
        found = pl.scan_parquet(source.path, glob=False)
        schema = found.collect_schema()
        count = int(found.select(pl.len()).collect().item())
    except pl.exceptions.PolarsError as problem:
        reason = str(problem).splitlines()[0]
        raise SheetError(source.name, f"the Parquet file cannot be read: {reason}. Write it again.") from None
    cells = [as_text(pl.col(name), kind).alias(cell_name(place)) for place, (name, kind) in enumerate(schema.items())]
    rows = found.select(*cells).with_row_index(ROW, FIRST).with_columns(pl.col(ROW).cast(pl.Int64))
    return Table(source, tuple(schema.names()), rows, count, keeps_zeros=True)


def as_text(column: pl.Expr, kind: pl.DataType) -> pl.Expr:
    """Return `column` of the type `kind` as text; null for what is no single value."""
    if isinstance(kind, pl.String):
        return column
    if kind.is_float():
        return column.cast(pl.String).str.strip_suffix(".0")
    if isinstance(kind, pl.Datetime):
        return column.dt.date().cast(pl.String)
    if isinstance(kind, pl.List):
        inner = as_text(pl.element(), kind.inner) if isinstance(kind.inner, pl.DataType) else pl.element()
        return column.list.eval(inner).list.join("; ")
    if kind.is_nested() or (kind.is_temporal() and not isinstance(kind, pl.Date)):
        return pl.lit(None, pl.String)
    return pl.lit(None, pl.String) if isinstance(kind, pl.Binary | pl.Object | pl.Null) else column.cast(pl.String)
