"""Limits never shrink as the tyre grows."""

from collections.abc import Iterator
from itertools import pairwise

from mendbook.audit.claims import Claim, Failure
from mendbook.proof.cells import find_turning_numbers
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import Direction, LimitRow, LimitTable
from mendbook.triage.shop import Shop

WIDTH = "width class"
SAYS = (
    "A number that is stricter when smaller never falls from one width class to the next, and along any ordered list "
    "the numbers of a table run one way."
)


def show_grown(shop: Shop) -> Claim:
    """Return the claim that limits never shrink as the tyre grows; a table that says why its numbers turn is listed."""
    faults = (*find_turning_numbers(shop.book), *_shrinking(shop.book))
    listed = tuple(f"{table.name}: {table.turns}" for table in shop.book.tables if table.turns)
    return Claim("limits grow with the tyre", SAYS, "proof", len(shop.book.tables), tuple(map(Failure, faults)), listed)


def _shrinking(book: Rulebook) -> Iterator[str]:
    classes = book.vocabulary[WIDTH].values if WIDTH in book.vocabulary else ()
    for table in book.tables:
        if table.turns or WIDTH not in table.facts():
            continue
        for place, name in enumerate(table.gives):
            if table.stricter.get(name) is Direction.SMALLER:
                yield from _falls(table, place, name, classes)


def _falls(table: LimitTable, place: int, name: str, classes: tuple[str, ...]) -> Iterator[str]:
    lines: dict[frozenset[tuple[str, tuple[str, ...]]], list[tuple[int, LimitRow]]] = {}
    for row in table.rows:
        rest = frozenset((bound.fact, bound.values) for bound in row.bounds if bound.fact != WIDTH)
        for value in (value for bound in row.bounds if bound.fact == WIDTH for value in bound.values):
            lines.setdefault(rest, []).append((classes.index(value), row))
    for cells in lines.values():
        for (_, before), (at, row) in pairwise(sorted(cells, key=lambda cell: cell[0])):
            if row.numbers[place] < before.numbers[place]:
                yield (
                    f"{table.file}:{row.at}: {name} falls from {before.numbers[place]:g} to {row.numbers[place]:g} at "
                    f"{classes[at]}, which is the larger tyre. Correct the number, or say why under 'numbers turn:'."
                )
