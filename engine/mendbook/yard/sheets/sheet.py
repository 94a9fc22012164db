"""A yard as it lies in one file or two: opened, its columns understood, its tyres handed out whole."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from types import TracebackType
from typing import Self

import polars as pl

from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.batch import Batch
from mendbook.yard.sheets.assembling import assemble, assemble_two
from mendbook.yard.sheets.column_map import ColumnMap
from mendbook.yard.sheets.fault import ROW, TYRE, WORDS, SheetError
from mendbook.yard.sheets.fields import TAG
from mendbook.yard.sheets.gathering import gather
from mendbook.yard.sheets.guess import Guess
from mendbook.yard.sheets.layout import Layout
from mendbook.yard.sheets.loose import Loose, find_loose
from mendbook.yard.sheets.numbering import NUMBER, number_by, number_tyres
from mendbook.yard.sheets.opening import Given, guess_tables, lay_out_tables, open_tables
from mendbook.yard.sheets.table import Table

TYRES_A_BATCH = 10_000
AT = "at"  # the row of a tyre, beside that of a fault
_ONLY_HEADINGS = "there are headings and no rows. Write one injury in each row below them."


class Sheet:
    """A yard that is open. Use it in a `with`: scratch copies of its files go when it closes.

    `rows` are the rows of its files that say anything, `blank` the others; `guess` is what its columns hold.
    """

    def __init__(self, layouts: Sequence[Layout], scratch: "TemporaryDirectory[str]") -> None:
        """Take the layout of one sheet, or of the tyres and of their injuries. Raises SheetError."""
        self._layouts, self._scratch = layouts, scratch
        self.guess: tuple[Guess, ...] = tuple(layout.guess for layout in layouts)
        self._number()
        if not self.rows:
            raise SheetError(layouts[0].table.name, _ONLY_HEADINGS)

    def _number(self) -> None:
        tags = [layout.tags() for layout in self._layouts]
        for layout, found in zip(self._layouts, tags, strict=True):
            if found.height != layout.table.count:
                raise SheetError(
                    layout.table.name,
                    f"{layout.table.count} rows were counted and {found.height} read: the file changed, or is broken.",
                )
        own = number_tyres(tags[0].get_column(TAG))
        self._tags, numbers = own.tags, [own.numbers]
        if len(tags) > 1:  # tyres with injuries before those without: see assemble_two
            known, hurt = own.tags.to_frame(TAG), tags[1].select(TAG)
            order = [known.join(hurt, on=TAG, how=how, maintain_order="left") for how in ("semi", "anti")]
            self._tags = pl.concat(order).get_column(TAG)
            numbers = [number_by(found.get_column(TAG), self._tags) for found in tags]
        self._numbers = numbers
        self._loose: list[Loose] = [
            find_loose(layout, found, own_numbers, self._tags)
            for layout, found, own_numbers in zip(self._layouts, tags, numbers, strict=True)
        ]
        self.blank = sum(loose.blank for loose in self._loose)
        self.rows = sum(found.height for found in tags) - self.blank

    @property
    def tyres(self) -> int:
        """The number of tyres, those set aside too."""
        return len(self._tags)

    def batches(self, size: int = TYRES_A_BATCH) -> Iterator[Batch]:
        """Yield the yard in batches of `size` tyres, by their running number; the last may hold faults alone.

        A row number is of one row of its batch. The same file gives the same batches. Raises SheetError when a file
        changes or cannot be read on.
        """
        tables = [layout.table for layout in self._layouts]
        with _watched(tables):
            for batch in self._assembled(size):
                faults = pl.concat([batch.faults, self._about(batch)])
                yield Batch(batch.tyres, batch.injuries, faults, batch.joined)
                for table in tables:
                    table.source.check_unchanged()
            yield from self._lost()

    def _about(self, batch: Batch) -> pl.DataFrame:
        """Return the faults of rows that do not fit under the headings and are about a tyre of `batch`."""
        own = self._loose[-1].faults.join(
            batch.tyres.select(TYRE, pl.col(ROW).alias(AT)), on=TYRE, maintain_order="left"
        )
        if len(self._layouts) > 1:  # among tyres without injuries, a row number is of the sheet of tyres
            name = pl.lit(self._layouts[-1].table.name)
            is_hurt = pl.col(TYRE).is_in(batch.injuries.get_column(TYRE).unique().implode())
            told = pl.format("in {}, row {}: {}", name, ROW, WORDS)
            own = own.with_columns(
                pl.when(is_hurt).then(WORDS).otherwise(told).alias(WORDS),
                pl.when(is_hurt).then(ROW).otherwise(AT).alias(ROW),
            )
        return own.drop(AT)

    def _lost(self) -> Iterator[Batch]:
        """Yield a batch of no tyre for the rows of each sheet that are of none, or are of no batch of their sheet."""
        for layout, loose, numbers in zip(self._layouts, self._loose, self._numbers, strict=True):
            lost = loose.faults
            if layout is self._layouts[-1]:
                lost = lost.filter(pl.col(TYRE).is_null() | ~pl.col(TYRE).is_in(numbers.unique().implode()))
            if lost.height:
                nothing = next(self._assemble([_no_rows(one) for one in self._layouts]))
                words = pl.col(WORDS)
                if len(self._layouts) > 1:
                    words = pl.format("in {}: {}", pl.lit(layout.table.name), WORDS).alias(WORDS)
                yield Batch(
                    nothing.tyres, nothing.injuries, lost.with_columns(pl.lit(None, pl.Int32).alias(TYRE), words)
                )

    def _assembled(self, size: int) -> Iterator[Batch]:
        scratch = Path(self._scratch.name)
        gathered = [
            gather(layout.read(), numbers, size, scratch)
            for layout, numbers in zip(self._layouts, self._numbers, strict=True)
        ]
        ahead = [next(more, None) for more in gathered[1:]]
        for number, rows in gathered[0]:
            together = [rows]
            for place, more in enumerate(gathered[1:]):
                own, found = _no_rows(self._layouts[place + 1]), ahead[place]
                if found is not None and found[0] == number:
                    own, ahead[place] = found[1], next(more, None)
                together.append(own)
            yield from self._assemble(together)

    def _assemble(self, rows: Sequence[pl.DataFrame]) -> Iterator[Batch]:
        if len(self._layouts) == 1:
            yield assemble(rows[0], self._layouts[0], self._tags)
        else:
            yield from assemble_two(rows[0], self._layouts[0], rows[1], self._layouts[1], self._tags)

    def close(self) -> None:
        """Remove the scratch copies."""
        self._scratch.cleanup()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def open_sheet(
    paths: Sequence[Given], vocabulary: Vocabulary, given: ColumnMap | None = None, worksheet: str | None = None
) -> Sheet:
    """Return the yard in one file, or in one of tyres and one of injuries; '-' is CSV on standard input.

    The map `given` says what some headings hold; `worksheet` names the sheet of a workbook that has several.
    Raises SheetError when nothing can be read, or where what a column holds is not clear.
    """
    scratch = TemporaryDirectory(prefix="mendbook-")
    try:
        tables = open_tables(paths, Path(scratch.name), worksheet)
        with _watched(tables):
            return Sheet(lay_out_tables(tables, guess_tables(tables, vocabulary, given)), scratch)
    except BaseException:
        scratch.cleanup()
        raise


def guess_sheet(
    paths: Sequence[Given], vocabulary: Vocabulary, given: ColumnMap | None = None, worksheet: str | None = None
) -> tuple[Guess, ...]:
    """Return what the columns of each sheet seem to hold, what is not clear too. Raises SheetError."""
    with TemporaryDirectory(prefix="mendbook-") as scratch:
        return tuple(guess_tables(open_tables(paths, Path(scratch), worksheet), vocabulary, given))


def _no_rows(layout: Layout) -> pl.DataFrame:
    return layout.no_rows().with_columns(pl.lit(None, pl.Int32).alias(NUMBER))


@contextmanager
def _watched(tables: Sequence[Table]) -> Iterator[None]:
    """Turn what a reader says of a file that cannot be read on into one error, and see that no file has changed."""
    try:
        yield
    except (pl.exceptions.PolarsError, OSError) as problem:
        for table in tables:
            table.source.check_unchanged()
        raise SheetError(tables[0].name, f"the file cannot be read on: {str(problem).splitlines()[0]}") from None
    for table in tables:
        table.source.check_unchanged()
