"""Numbers that can mean nothing where they are used are told with their place."""

from dataclasses import replace

import pytest

from mendbook.facts.table_numbers import NUMBERS
from mendbook.facts.table_sense import RANGES, RISING, find_senseless_numbers
from mendbook.rulebook.book import Rulebook


def with_number(book: Rulebook, name: str, row: int, number: float) -> Rulebook:
    """Return the book with one number of the first table that gives `name` changed."""
    table = book.tables_giving(name)[0]
    cell = table.rows[row]
    place = table.gives.index(name)
    numbers = (*cell.numbers[:place], number, *cell.numbers[place + 1 :])
    rows = (*table.rows[:row], replace(cell, numbers=numbers), *table.rows[row + 1 :])
    changed = replace(table, rows=rows)
    return replace(book, tables=tuple(changed if one.name == table.name else one for one in book.tables))


def test_the_shipped_numbers_make_sense(book: Rulebook) -> None:
    assert list(find_senseless_numbers(book)) == []


@pytest.mark.parametrize(
    ("name", "row", "number", "told"),
    [
        ("age factor", 1, 1.05, "'age factor' is at least 0 and at most 1, and 1.05 stands here."),
        ("relief factor", 0, 0.667, "'relief factor' is at least 1 and at most 3, and 0.667 stands here."),
        ("table length", 3, -55.0, "'table length' is at least 0, and -55 stands here."),
        ("upper sidewall share", 1, 0.074, "'lower sidewall share' is 0.4, above 'upper sidewall share' with 0.074."),
        ("class from", 2, 35.5, "this class begins at 35.5, no later than the one above."),
    ],
)
def test_a_number_that_can_mean_nothing_is_told(name: str, row: int, number: float, told: str, book: Rulebook) -> None:
    [fault] = find_senseless_numbers(with_number(book, name, row, number))
    table = book.tables_giving(name)[0]
    assert fault.startswith(f"{table.file}:{table.rows[row].at}: {told}")


def test_every_name_is_one_that_is_read(book: Rulebook) -> None:
    assert {*RANGES, *(name for pair in RISING for name in pair)} <= NUMBERS.keys()
    assert all(book.tables_giving(name) for name in RANGES)
