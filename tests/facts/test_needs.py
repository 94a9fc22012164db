"""What the derivations ask of a book: told when it is missing, and nothing asked is left out of the list."""

import ast
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from mendbook.facts.needs import LISTED, NEEDED, find_unmet_needs
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Vocabulary

WORKING_WITH_FACTS = ("facts", "plan", "triage")


def with_facts(book: Rulebook, **changed: object) -> Rulebook:
    """Return the book with the unit of some facts changed; None takes a fact out."""
    facts = dict(book.vocabulary.facts)
    for key, unit in changed.items():
        name = key.replace("_", " ")
        if unit is None:
            del facts[name]
        else:
            facts[name] = replace(facts[name], unit=str(unit))
    return replace(book, vocabulary=Vocabulary(facts, book.vocabulary.synonyms))


def test_the_shipped_book_meets_every_need(book: Rulebook) -> None:
    assert list(find_unmet_needs(book)) == []


def test_a_missing_fact_and_another_unit_are_told(book: Rulebook) -> None:
    depth = book.vocabulary["depth"]
    assert list(find_unmet_needs(with_facts(book, rust=None, depth="cm"))) == [
        f"{depth.file}:{depth.at}: 'depth' is given as cm, and what follows from it takes mm. Write that.",
        "knowledge/vocabulary: no fact is called 'rust', which other facts follow from. Put it back.",
    ]


def test_a_missing_table_is_told(book: Rulebook) -> None:
    tables = tuple(table for table in book.tables if "duty factor" not in table.gives)
    [fault] = find_unmet_needs(replace(book, tables=tables))
    assert fault == "limits: no table gives 'duty factor', which is needed. Add it, or correct a 'gives:'."


@pytest.mark.parametrize("name", ["class from", "class edge share"])
def test_a_table_that_is_looked_up_by_hand_is_told_too(name: str, book: Rulebook) -> None:
    tables = tuple(table for table in book.tables if name not in table.gives)
    [fault] = find_unmet_needs(replace(book, tables=tables))
    assert name in fault


def words(root: Path) -> Iterator[str]:
    """Yield every text, and every name that columns() turns into the name of a fact, in the code."""
    for package in WORKING_WITH_FACTS:
        for module in (root / "engine/mendbook" / package).glob("*.py"):
            for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    yield node.value
                elif isinstance(node, ast.keyword) and node.arg:
                    yield node.arg.replace("_", " ")


def test_no_fact_that_the_code_names_is_left_out(root: Path, book: Rulebook) -> None:
    listed = {name for names in NEEDED.values() for name in names}
    assert {word for word in words(root) if word in book.vocabulary} - listed == set()


def test_each_is_asked_for_once(book: Rulebook) -> None:
    names = [name for names in NEEDED.values() for name in names]
    assert len(set(names)) == len(names)
    assert all(book.vocabulary[name].is_listed for name in NEEDED[LISTED])
