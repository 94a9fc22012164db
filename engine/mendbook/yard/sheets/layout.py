"""The columns of a table that are read, as the reader of cases takes them, and what of their cells is refused."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import polars as pl

from mendbook.yard.overrules import CELLS
from mendbook.yard.sheets.cells import (
    DECIMAL_COMMA,
    DECIMAL_POINT,
    KEPT_ZERO,
    Habits,
    cell_fault,
    plain,
    read_cells,
)
from mendbook.yard.sheets.fault import ROW
from mendbook.yard.sheets.fields import NAME, TAG, Field, Kind
from mendbook.yard.sheets.guess import Guess, Guessed
from mendbook.yard.sheets.table import Table, cell_name

ROWS_AT_ONCE = 100_000  # of a sheet
REFUSED = "refused "  # before the name of a column: why its cell is refused


@dataclass(frozen=True)
class Layout:
    """A table and what its columns hold."""

    table: Table
    guess: Guess
    habits: Habits

    @property
    def headings(self) -> Mapping[str, str]:
        """The heading of each column that is read."""
        return {one.field.column: one.heading for one in reversed(self.guess.read) if one.field}

    @property
    def tyre_columns(self) -> list[str]:
        """The columns about the tyre, but for its tag and for what a row overrules."""
        left_out = (TAG, *CELLS.values())
        return [field.column for field in self._fields() if not field.is_injury and field.column not in left_out]

    @property
    def injury_columns(self) -> list[str]:
        """The columns about an injury, but for its name."""
        return [field.column for field in self._fields() if field.is_injury and field.column != NAME]

    @property
    def has_injuries(self) -> bool:
        """True when some column is about an injury."""
        return any(field.is_injury for field in self._fields())

    @property
    def has_tags(self) -> bool:
        """True when a column says which tyre a row is about."""
        return bool(self.guess.places(TAG))

    def read(self) -> Iterator[pl.DataFrame]:
        """Yield all rows, some at a time: ROW, every column that is read, REFUSED beside those with a cell refused."""
        places = dict.fromkeys(cell_name(one.place) for one in self.guess.read)
        for chunk in self.table.rows.select(ROW, *places).collect_batches(chunk_size=ROWS_AT_ONCE, maintain_order=True):
            yield chunk.select(ROW).with_columns(*self._read(chunk))

    def no_rows(self) -> pl.DataFrame:
        """Return a frame with the columns of `read`, and no rows."""
        empty = self.table.rows.clear().collect()
        return empty.select(ROW).with_columns(*self._read(empty))

    def tags(self) -> pl.DataFrame:
        """Return ROW and TAG of every row; without a column for it, each row that says anything is a tyre.

        A whole case is a tyre by itself, though another has the same tag: it may be the same tyre on another day.
        """
        if self.table.is_as_cases:
            tag = pl.format("line {}", pl.col(ROW))
        elif places := self.guess.places(TAG):
            tag = plain(pl.col(cell_name(places[0])))
        else:
            is_written = pl.any_horizontal(self._written())
            tag = pl.when(is_written).then(pl.format("row {}", pl.col(ROW)))
        return self.table.rows.select(ROW, tag.alias(TAG)).collect(engine="streaming")

    def untagged(self) -> pl.DataFrame:
        """Return ROW of every row without a tag, and whether anything is "written" in it that is read."""
        tag = plain(pl.col(cell_name(self.guess.places(TAG)[0])))
        is_written = pl.any_horizontal(self._written()).alias("written")
        return self.table.rows.filter(tag.is_null()).select(ROW, is_written).collect(engine="streaming")

    def _written(self) -> list[pl.Expr]:
        return [plain(pl.col(cell_name(one.place))).is_not_null() for one in self.guess.read]

    def _fields(self) -> list[Field]:
        return list({one.field.column: one.field for one in self.guess.read if one.field}.values())

    def _read(self, chunk: pl.DataFrame) -> Iterator[pl.Series]:
        by_field: dict[str, list[Guessed]] = {}
        for one in self.guess.read:
            if one.field is not None and (one.field.column != TAG or self.table.is_as_cases):
                by_field.setdefault(one.field.column, []).append(one)
        for column, several in by_field.items():
            cells = [read_column(chunk.get_column(cell_name(one.place)), one, self.habits) for one in several]
            yield _joined([read for read, _ in cells], column)
            refused = [why for _, why in cells if why is not None]
            if refused:
                yield pl.select(pl.coalesce(refused)).to_series().alias(REFUSED + column)


def read_column(cells: pl.Series, one: Guessed, habits: Habits) -> tuple[pl.Series, pl.Series | None]:
    """Return `cells` as the reader of cases takes them, and why some are refused, where any are.

    Every distinct text is looked at once: there are millions of cells and a few hundred of those.
    """
    assert one.field is not None, "a column that is read holds a field"
    texts = cells.drop_nulls().unique()
    text = plain(pl.col("text"))
    refusal = cell_fault(text, one.field, habits)
    known = texts.to_frame("text").select(
        "text",
        read_cells(text, one.field, one.unit, habits).alias("read"),
        (pl.lit(None, pl.String) if refusal is None else refusal).alias("why"),
    )
    read = _looked_up(cells, known, "read")
    return read, _looked_up(cells, known, "why") if known.get_column("why").count() else None


def _looked_up(cells: pl.Series, known: pl.DataFrame, answer: str) -> pl.Series:
    changed = known.filter(pl.col(answer).ne_missing(pl.col("text")))
    if not changed.height:
        return cells
    return cells.replace_strict(known.get_column("text"), known.get_column(answer), return_dtype=pl.String)


def _joined(several: list[pl.Series], column: str) -> pl.Series:
    if len(several) == 1:
        return several[0].alias(column)
    parts = pl.DataFrame([one.alias(str(place)) for place, one in enumerate(several)])
    return parts.select(plain(pl.concat_str(pl.all(), separator="; ", ignore_nulls=True)).alias(column)).to_series()


def lay_out(table: Table, guess: Guess) -> Layout:
    """Return the layout of `table`, with the habits of its writer, which are looked for in every row."""
    looks: list[pl.Expr] = []
    codes = [one for one in guess.read if one.field and one.field.kind is Kind.CODE]
    if codes and table.keeps_zeros and not table.is_as_cases:
        looks.append(_any([one.place for one in codes], KEPT_ZERO).alias("keeps_zeros"))
    measures = [one.place for one in guess.read if one.field and one.field.kind is Kind.MEASURE]
    if measures and table.has_commas:
        looks.append(_any(measures, DECIMAL_COMMA).alias("has_decimal_comma"))
        looks.append(_any(measures, DECIMAL_POINT).alias("has_decimal_point"))
    seen = table.rows.select(looks).collect(engine="streaming").row(0, named=True) if looks else {}
    return Layout(table, guess, Habits(**{"keeps_zeros": table.is_as_cases, **seen}))


def _any(places: list[int], pattern: str) -> pl.Expr:
    cells = [pl.col(cell_name(place)).str.contains(pattern).any() for place in places]
    return pl.any_horizontal(cells)
