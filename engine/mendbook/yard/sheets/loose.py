"""Rows that belong to no tyre, or whose cells cannot be told apart."""

import csv
import re
from dataclasses import dataclass

import polars as pl

from mendbook.yard.sheets.fault import COLUMN, FAULTS, ROW, TYRE, WORDS
from mendbook.yard.sheets.fields import TAG
from mendbook.yard.sheets.layout import Layout
from mendbook.yard.sheets.numbering import number_by
from mendbook.yard.sheets.source import Kind
from mendbook.yard.sheets.table import WHOLE_ROW

_NO_TAG = "no tag is written, so nobody knows which tyre this is. Write the tag in every row."
_NO_TYRE = "no tyre with the tag '{}' is in the sheet of tyres. Add it there, or write the tag as it stands there."


@dataclass(frozen=True)
class Loose:
    """`faults` as FAULTS, with TYRE where it can be seen whose row it is; `blank` is the number of empty rows."""

    faults: pl.DataFrame
    blank: int


def find_loose(layout: Layout, tags: pl.DataFrame, numbers: pl.Series, known: pl.Series) -> Loose:
    """Return the loose rows of a sheet whose rows have `tags` (ROW and TAG) and `numbers`; `known` are all tags."""
    broken = layout.table.broken.filter(pl.col("place") == WHOLE_ROW)
    whose = pl.Series(TAG, [tag_of(text, layout) for text in broken.get_column("text")], pl.String)
    told = broken.with_columns(number_by(whose, known).alias(TYRE), pl.lit(None, pl.String).alias(COLUMN))
    untold = tags.get_column(TAG).null_count()
    heading = layout.headings.get(TAG)
    if untold and layout.has_tags:
        empty = layout.untagged().join(broken, on=ROW, how="anti")
        written = empty.filter("written").select(ROW, pl.lit(_NO_TAG).alias(WORDS))
        blank = empty.height - written.height
    else:
        written = pl.DataFrame(schema={ROW: pl.Int64, WORDS: pl.String})
        blank = untold - broken.height
    is_orphan = tags.get_column(TAG).is_not_null() & numbers.is_null()
    orphans = tags.filter(is_orphan).select(ROW, pl.format(_NO_TYRE, TAG).alias(WORDS))
    without = pl.concat([written, orphans]).with_columns(
        pl.lit(None, pl.Int32).alias(TYRE), pl.lit(heading, pl.String).alias(COLUMN)
    )
    columns = [ROW, TYRE, COLUMN, WORDS]
    faults = pl.concat([told.select(columns), without.select(columns)]).sort(ROW, maintain_order=True)
    return Loose(faults.cast(FAULTS), blank)


def tag_of(text: str | None, layout: Layout) -> str | None:
    """Return the tag in the `text` of a row that does not fit, as far as it can be seen."""
    places = layout.guess.places(TAG)
    if not text or not places:
        return None
    if layout.table.source.kind is Kind.LINES:
        heading = re.escape(layout.table.headings[places[0]])
        match = re.search(rf'"{heading}"\s*:\s*"?([^",}}]+)', text)
        return match[1].strip() if match else None
    try:
        cells = next(csv.reader([text], delimiter=layout.table.delimiter), [])
    except csv.Error:
        return None
    return cells[places[0]].strip() or None if places[0] < len(cells) else None
