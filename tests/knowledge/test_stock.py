"""Every figure of the stock lists names its basis, and the basis can be found."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from mendbook.folders import folder
from mendbook.rulebook.citations import read_citation, read_sources
from mendbook.rulebook.files import read_files
from mendbook.rulebook.source import Source
from mendbook.terms.document import Document, read_document

KNOWLEDGE = Path(str(folder("knowledge")))
FILES = sorted((KNOWLEDGE / "stock").glob("*.yaml"))
WORDS = {"id", "means", "basis"}
NEEDED = {
    "cushion gum", "fill rubber, sidewall", "fill rubber, tread", "liner rubber", "uncured reinforcement",
    "precured reinforcement", "cement", "chemical-cure fluid", "solvent", "bleeder cloth", "release film",
}  # fmt: skip


@pytest.fixture(scope="module")
def sources() -> Mapping[str, Source]:
    return read_sources(read_files(KNOWLEDGE / "sources").values())


def items() -> Iterator[tuple[Document, int, dict[str, Any]]]:
    for file in FILES:
        document = read_document(file)
        tree: Any = document.tree
        for number, item in enumerate(tree["items"]):
            yield document, number, item


def test_no_material_is_missing_or_listed_twice() -> None:
    ids = [item["id"] for _, _, item in items()]
    assert set(ids) >= NEEDED
    assert len(ids) == len(set(ids))


def test_every_figure_has_a_basis_and_every_basis_a_figure() -> None:
    for document, _, item in items():
        assert set(item["basis"]) == set(item) - WORDS, (document.name, item["id"])


def test_every_basis_can_be_found(sources: Mapping[str, Source]) -> None:
    for document, number, item in items():
        for key, basis in item["basis"].items():
            if basis in ("common practice, no source", "from memory, no source"):
                continue
            read_citation(document, ("items", number, "basis", key), basis, sources)


def test_shelf_life_is_not_longer_than_the_public_specification() -> None:
    """US CID A-A-52518 (read in an excerpt): cushion and repair gum 3 months, stocks 6, patches 24."""
    longest = {"cushion gum": 3, "fill rubber, sidewall": 3, "fill rubber, tread": 3, "liner rubber": 6,
               "uncured reinforcement": 6, "precured reinforcement": 24}  # fmt: skip
    written = {item["id"]: item["shelf life"] for _, _, item in items() if item["id"] in longest}
    assert {name: int(text.removesuffix(" months")) for name, text in written.items()} == longest
