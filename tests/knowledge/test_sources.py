"""The sources that rules cite: complete, told apart, honest about how far they were read."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from mendbook.folders import folder
from mendbook.terms.document import read_document

FILES = sorted(Path(str(folder("knowledge") / "sources")).glob("*.yaml"))
REQUIRED = ("source", "title", "publisher", "kind", "edition", "known", "places", "link")
OPTIONAL = ("note", "owner", "reviewed", "clauses")
KINDS = ("law", "standard", "guidance", "practice", "house")
KNOWN = ("read", "read in an excerpt", "reported by others", "from memory: check before quoting")
LONGEST = 60  # lines


def read(file: Path) -> dict[str, Any]:
    tree: dict[str, Any] = yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    return tree


@pytest.fixture(params=FILES, ids=lambda file: file.stem)
def file(request: pytest.FixtureRequest) -> Path:
    chosen: Path = request.param
    return chosen


def test_there_are_sources() -> None:
    assert len(FILES) > 50


def test_a_source_has_its_keys_and_no_others(file: Path) -> None:
    keys = set(read(file))
    assert keys >= set(REQUIRED)
    assert keys <= {*REQUIRED, *OPTIONAL}


def test_kind_and_known_are_words_of_the_lists(file: Path) -> None:
    source = read(file)
    assert source["kind"] in KINDS
    assert source["known"] in KNOWN


def test_a_file_is_called_as_its_source(file: Path) -> None:
    name = read(file)["source"]
    assert name == name.lower()
    assert "," not in name, "a comma parts the id from the place in a citation"
    assert file.stem == re.sub(r"[ ,/]+", "_", name)


def test_ids_are_unique() -> None:
    ids = [read(file)["source"] for file in FILES]
    assert len(ids) == len(set(ids))


def test_only_practice_and_house_may_be_cited_at_any_place(file: Path) -> None:
    source = read(file)
    assert (source["places"] == "any") == (source["kind"] in ("practice", "house"))


def test_a_place_says_in_one_line_what_stands_there(file: Path) -> None:
    places = read(file)["places"]
    if places == "any":
        return
    assert places
    for place, says in places.items():
        assert isinstance(says, str), place
        assert len(says) > 10, place
        assert "\n" not in says, place


def test_the_house_has_an_owner_and_a_date() -> None:
    houses = [source for file in FILES if (source := read(file))["kind"] == "house"]
    assert houses
    for house in houses:
        assert house["owner"]
        assert re.fullmatch(r"\d{4}-\d\d-\d\d", house["reviewed"])


def test_a_source_is_short_and_has_no_key_twice(file: Path) -> None:
    head, _, clauses = file.read_text(encoding="utf-8").partition("\nclauses:")
    assert len(head.splitlines()) <= LONGEST
    assert len(clauses.splitlines()) <= LONGEST
    read_document(file)  # refuses a key written twice
