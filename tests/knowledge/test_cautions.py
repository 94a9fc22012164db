"""Every caution is one short sentence, and its source can be found."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from mendbook.folders import folder
from mendbook.rulebook.citations import read_citation, read_sources
from mendbook.rulebook.files import read_files
from mendbook.rulebook.source import Source
from mendbook.terms.document import Document, read_document

KNOWLEDGE = folder("knowledge")
GROUPS = (
    "every report",
    "deflation",
    "before heat",
    "while curing",
    "inflation",
    "lifting",
    "buffing and fumes",
    "scrapped casing",
)


@pytest.fixture(scope="module")
def document() -> Document:
    return read_document(KNOWLEDGE / "cautions.yaml")


@pytest.fixture(scope="module")
def sources() -> Mapping[str, Source]:
    return read_sources(read_files(KNOWLEDGE / "sources").values())


def groups(document: Document) -> dict[str, list[dict[str, Any]]]:
    tree: Any = document.tree
    found: dict[str, list[dict[str, Any]]] = tree["cautions"]
    return found


def cautions(document: Document) -> Iterator[tuple[tuple[str | int, ...], dict[str, Any]]]:
    for group, items in groups(document).items():
        for number, item in enumerate(items):
            yield ("cautions", group, number), item


def test_no_group_is_missing_or_empty(document: Document) -> None:
    found = groups(document)
    assert tuple(found) == GROUPS
    assert all(found.values())


def test_a_caution_is_one_short_sentence(document: Document) -> None:
    for _, item in cautions(document):
        assert set(item) <= {"say", "source", "also"}
        assert item["say"].endswith(".")
        assert len(item["say"]) <= 120


def test_no_caution_is_said_twice(document: Document) -> None:
    said = [item["say"] for _, item in cautions(document)]
    assert len(said) == len(set(said))


def test_the_source_of_every_caution_is_known(document: Document, sources: Mapping[str, Source]) -> None:
    for way, item in cautions(document):
        for text in (item["source"], *item.get("also", ())):
            read_citation(document, way, text, sources)
