"""The cells of the limit tables: none is missing or given twice, and along an ordered list no number turns."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import combinations, pairwise, product

from mendbook.proof.region import Box, is_inhabited, spell_box, subtract
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitRow, LimitTable
from mendbook.rulebook.tree import simplify
from mendbook.terms.vocabulary import Fact, Worse

_NUMBERED = re.compile(r"(\D*)(\d+)")


def find_missing_cells(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each row of a table that leaves out values, or each table that leaves out rows.

    In a table with columns a listed row may be left out: there the table does not speak.
    """
    for table in book.tables:
        for head, rows in _lines(table).items():
            left: tuple[Box, ...] = ((*table.applies, *head),)
            for row in rows:
                left = subtract(left, row.bounds, book.vocabulary)
            for box in left:
                yield (
                    f"{table.file}:{rows[0].at}: there is no number for {spell_box(box, book.vocabulary)}. "
                    "Add the cell, or narrow 'applies to'."
                )


def find_overlapping_tables(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each two tables that give one number for the same facts: nobody could say which counts."""
    for one, other in combinations(book.tables, 2):
        for name in (name for name in one.gives if name in other.gives):
            shared = next(filter(lambda box: is_inhabited(box, book.vocabulary), _shared_boxes(one, other)), None)
            if shared is not None:
                yield (
                    f"{other.file}:1: '{name}' is given here and in {one.file} too for "
                    f"{spell_box(simplify(shared), book.vocabulary)}. Narrow 'applies to' of one of them."
                )


def _shared_boxes(one: LimitTable, other: LimitTable) -> Iterator[Box]:
    for row, beside in product(one.rows, other.rows):
        yield (*one.applies, *row.bounds, *other.applies, *beside.bounds)


def find_turning_numbers(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each place where numbers that rose along an ordered list fall, or the other way round.

    A list is in order when it runs from good to bad, or when its values are numbered. A table that means it
    says why under `numbers turn`.
    """
    for table in book.tables:
        if table.turns:
            continue
        for rows in _lines(table).values():
            fact = book.vocabulary[rows[0].bounds[-1].fact] if rows[0].bounds else None
            if fact is not None and is_ordered(fact):
                for place, name in enumerate(table.gives):
                    yield from _turns(table, fact, rows, place, name)


def is_ordered(fact: Fact) -> bool:
    """Return whether the values of a listed fact run in an order: W1, W2, W3, or from good to bad."""
    parts = [_NUMBERED.fullmatch(value) for value in fact.values]
    found = [part for part in parts if part]
    is_numbered = len(found) == len(parts) > 1 and len({part[1] for part in found}) == 1
    rises = all(int(one[2]) < int(other[2]) for one, other in pairwise(found))
    return fact.worse is Worse.LATER or (is_numbered and rises)


def _lines(table: LimitTable) -> dict[Box, list[LimitRow]]:
    """Return the cells of each row by the head of the row; a table without columns is one row written downward."""
    facts = {bound.fact for row in table.rows for bound in row.bounds}
    lines: defaultdict[Box, list[LimitRow]] = defaultdict(list)
    for row in table.rows:
        column = row.bounds[-1].fact if len(facts) > 1 else None
        lines[tuple(b for b in row.bounds if column is not None and b.fact != column)].append(row)
    return lines


def _turns(
    table: LimitTable, fact: Fact, rows: Iterable[LimitRow], place: int, name: str
) -> Iterator[str]:  # fmt: skip
    cells = [(fact.rank(value), value, row) for row in rows for value in row.bounds[-1].values]
    direction = 0.0
    for (_, before, above), (_, after, row) in pairwise(sorted(cells, key=lambda cell: cell[0])):
        step = row.numbers[place] - above.numbers[place]
        if step * direction < 0:
            yield (
                f"{table.file}:{row.at}: {name} goes from {above.numbers[place]:g} at {before} to "
                f"{row.numbers[place]:g} at {after}, against the numbers before. "
                "Correct the number, or say why under 'numbers turn:'."
            )
        direction = step or direction
