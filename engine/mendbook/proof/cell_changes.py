"""Which cells of the limit tables differ between two books, and whether a number became stricter."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mendbook.proof.region import Box, is_inhabited, subtract
from mendbook.rulebook.limits import Direction, LimitRow, LimitTable
from mendbook.rulebook.tree import simplify
from mendbook.terms.vocabulary import Vocabulary


@dataclass(frozen=True)
class CellChange:
    """One number that differs in the region `box`; None where a table gives none.

    `table` is the one that gives it now, or gave it; `at` the line in its file. `is_stricter` is None when nobody
    declared which way this number is stricter, or when it came or went.
    """

    table: LimitTable
    name: str
    box: Box
    then: float | None
    now: float | None
    at: int
    is_stricter: bool | None

    @property
    def is_looser(self) -> bool:
        """True unless the change is known to be stricter: what cannot be told counts as looser."""
        return not self.is_stricter


@dataclass(frozen=True)
class _Cell:
    table: LimitTable
    row: LimitRow
    box: Box
    number: float


def find_cell_changes(
    then: Sequence[LimitTable], now: Sequence[LimitTable], vocabulary: Vocabulary
) -> Iterator[CellChange]:
    """Yield every change of a number that `then` gave, in disjoint regions, in the order of its names.

    Which way a number is stricter is what the earlier table declares.
    """
    for name in dict.fromkeys(name for table in then for name in table.gives):
        before, after = _cells(then, name), _cells(now, name)
        if [(cell.box, cell.number) for cell in before] == [(cell.box, cell.number) for cell in after]:
            continue
        for cell in before:
            left: tuple[Box, ...] = (cell.box,)
            for other in after:
                if is_inhabited((*cell.box, *other.box), vocabulary):
                    if cell.number != other.number:
                        yield _changed(cell, other, name)
                    left = subtract(left, other.box, vocabulary)
            for box in left:
                table = next((table for table in now if table.id == cell.table.id), None)
                at = 1 if table else cell.row.at
                yield CellChange(table or cell.table, name, box, cell.number, None, at, None)
        for other in after:
            added: tuple[Box, ...] = (other.box,)
            for cell in before:
                added = subtract(added, cell.box, vocabulary)
            for box in added:
                yield CellChange(other.table, name, box, None, other.number, other.row.at, None)


def _cells(tables: Sequence[LimitTable], name: str) -> list[_Cell]:
    return [
        _Cell(table, row, simplify((*table.applies, *row.bounds)), row.numbers[table.gives.index(name)])
        for table in tables
        if name in table.gives
        for row in table.rows
    ]


def _changed(cell: _Cell, other: _Cell, name: str) -> CellChange:
    declared = cell.table.stricter.get(name)
    smaller = other.number < cell.number
    stricter = None if declared is None else smaller is (declared is Direction.SMALLER)
    box = simplify((*cell.box, *other.box))
    return CellChange(other.table, name, box, cell.number, other.number, other.row.at, stricter)
