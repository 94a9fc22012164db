"""One sheet as columns of text, whatever file it came from."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import polars as pl

from mendbook.yard.sheets.fault import ROW, WORDS
from mendbook.yard.sheets.source import Source

WHOLE_ROW = -1  # the place of a fault that is no single cell's

BROKEN = pl.Schema({ROW: pl.Int64, "place": pl.Int32, WORDS: pl.String, "text": pl.String})


@dataclass(frozen=True)
class Table:
    """Headings, and rows as a lazy frame: ROW as a person counts them, then a column of text for each place.

    `cells` are the names of those columns in the order of the headings; a null cell is blank. `broken` are cells and
    rows that could not be read, which stand as blanks among the rows: ROW, place of the heading or WHOLE_ROW, words,
    and the text of a whole row as far as it is known. `delimiter` is what parts the cells of such a text.
    `count` is the number of rows, blank ones too. `has_commas` says that a cell may hold a comma. `is_as_cases` says
    that the cells are written as in case files.
    """

    source: Source
    headings: Sequence[str]
    rows: pl.LazyFrame = field(repr=False)
    count: int
    broken: pl.DataFrame = field(default_factory=BROKEN.to_frame, repr=False)
    delimiter: str = ","
    has_commas: bool = False
    is_as_cases: bool = False
    keeps_zeros: bool = True

    @property
    def name(self) -> str:
        """The name of the file, as errors call it."""
        return self.source.name


def cell_name(place: int) -> str:
    """Return the name of the column of text under the heading at `place`."""
    return f"c{place}"


def letters(place: int) -> str:
    """Return what a workbook calls the column at `place`, from 0: A, Z, AA."""
    place += 1
    found = ""
    while place:
        place, rest = divmod(place - 1, 26)
        found = chr(65 + rest) + found
    return found
