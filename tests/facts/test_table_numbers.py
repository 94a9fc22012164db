import inspect
from dataclasses import replace

import pytest

from mendbook.facts import service
from mendbook.facts.derive import Derivation
from mendbook.facts.lookup import Lookup
from mendbook.facts.table_numbers import NUMBERS, find_foreign_units
from mendbook.rulebook.book import Rulebook


def test_every_number_that_derivations_read_has_its_unit_and_every_one_listed_is_read(
    book: Rulebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: set[str] = set()
    steps = Lookup.steps

    def listen(self: Lookup, *names: str) -> object:
        asked.update(names)
        return steps(self, *names)

    monkeypatch.setattr(Lookup, "steps", listen)
    Derivation(book)
    classes = {"class from", "class edge share"}
    assert all(f'"{name}"' in inspect.getsource(service) for name in classes)
    assert asked | classes == set(NUMBERS)


def test_the_shipped_tables_are_in_the_units_they_are_read_in(book: Rulebook) -> None:
    assert list(find_foreign_units(book)) == []


@pytest.mark.parametrize("name", sorted(NUMBERS))
def test_a_table_in_another_unit_is_a_fault(name: str, book: Rulebook) -> None:
    tables = tuple(replace(table, unit="furlongs") if name in table.gives else table for table in book.tables)
    found = list(find_foreign_units(replace(book, tables=tables)))
    assert found
    assert all("its unit is 'furlongs'" in fault for fault in found)
