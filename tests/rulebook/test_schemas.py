"""The schemas of rulebook files take what the reader takes, and refuse at the same place what it refuses."""

import json
import re
from collections.abc import Iterator
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, cast

import pytest
import yaml
from jsonschema import Draft202012Validator, ValidationError

from mendbook.folders import folder
from mendbook.rulebook.book import open_context
from mendbook.rulebook.citations import SOURCE_KEYS
from mendbook.rulebook.clauses import CLAUSE_KEYS
from mendbook.rulebook.cover import COVER_KEYS
from mendbook.rulebook.layer import OWN_COVER_KEYS
from mendbook.rulebook.limits import TABLE_KEYS
from mendbook.rulebook.rule_file import EXAMPLE_KEYS, RULE_KEYS
from mendbook.rulebook.sayings import SAYING_KEYS
from mendbook.rulebook.schemas import KINDS, Schema, schema
from mendbook.rulebook.vocabulary_file import FACT_KEYS
from mendbook.terms.document import Document, parse_document
from tests.proof.sound_ladders import SOUND
from tests.rulebook.ladders import FILES, write_book
from tests.rulebook.own_ladders import ANSWER, OWN_COVER
from tests.rulebook.slips import BETWEEN_LINES, SLIPS, first_difference

Validators = dict[str, Draft202012Validator]

# What lies between two places of a file or of the book, or needs a sum: the reader finds it, a schema cannot.
UNSEEN = {
    "crack length runs from 0 to 900 mm; 950 is outside",
    "'rule' stands on line 1 already",
    "cannot read '90 kg'",
    "cannot read '90 x 3 x 1 kg'",
    "cannot read '90 x 3 lb'",
    "the rows above leave nothing to 'up to 10 mm'",
    "cannot read the range '900 to 0'",
    "cannot read '2 cm'",
    "901 is outside the range of 'crack length'",
    "'rot' cannot be 'some'",
    "the reading error of 'crack length': 'cleaned' cannot be 'yess'",
    "'rails' stands twice under stages",
    "'keep' is milder than 'mend' on line 10",
    "no verdict is milder than 'mend' on line 10",
    "the source 'house' is described twice",
}


def kind_of(place: str) -> str:
    top, *rest = place.split("/")
    if top == "knowledge":
        return {"vocabulary": "vocabulary", "sources": "source"}.get(rest[0], "")
    return {"rulebook.yaml": "cover", "limits": "table"}.get(rest[0], "rule")


def kind_of_own(place: str) -> str:
    """Return the kind of a file of an own book."""
    kinds = {"rulebook.yaml": "own_cover", "limits": "table", "vocabulary": "vocabulary", "sources": "source"}
    return kinds.get(place.split("/")[0], "rule")


def validators(rules: Traversable, knowledge: Traversable, own: Path | None = None) -> Validators:
    cover, context = open_context(rules, knowledge, own)
    return {kind: Draft202012Validator(schema(kind, cover, context)) for kind in KINDS}


def schema_of(validator: Draft202012Validator) -> Schema:
    return cast("Schema", validator.schema)


@pytest.fixture(scope="module")
def shipped() -> Validators:
    return validators(folder("rules"), folder("knowledge"))


@pytest.fixture(scope="module")
def ladders(tmp_path_factory: pytest.TempPathFactory) -> Validators:
    place = tmp_path_factory.mktemp("ladders")
    write_book(place)
    return validators(place / "rules", place / "knowledge")


def as_editors_read(text: str) -> Any:
    """Return the tree as a reader that guesses at numbers, dates and yes or no hands it to a schema."""
    return json.loads(json.dumps(yaml.safe_load(text), default=str))


def faults(validator: Draft202012Validator, document: Document) -> list[tuple[int, ValidationError]]:
    return [(document.line(place), error) for error in validator.iter_errors(document.tree) for place in places(error)]


def places(error: ValidationError) -> Iterator[tuple[str | int, ...]]:
    """Yield where the error is underlined: a key that may not stand there, else what it is about."""
    path = tuple(error.absolute_path)
    if error.validator != "additionalProperties":
        yield path
        return
    shape: Any = error.schema
    known, alike = shape.get("properties", {}), shape.get("patternProperties", {})
    yield from (
        (*path, key) for key in error.instance if key not in known and not any(re.search(one, key) for one in alike)
    )


def test_every_shipped_file_is_taken_as_text_and_as_editors_read_it(shipped: Validators, root: Path) -> None:
    taken = dict.fromkeys(KINDS, 0)
    for file in (*(root / "rules").rglob("*.yaml"), *(root / "knowledge").rglob("*.yaml")):
        place = file.relative_to(root).as_posix()
        if kind := kind_of(place):
            text = file.read_text(encoding="utf-8")
            for tree in (parse_document(text, place).tree, as_editors_read(text)):
                assert [error.message for error in shipped[kind].iter_errors(tree)] == [], place
            taken[kind] += 1
    assert taken.pop("own_cover") == 0
    assert taken["rule"] > 200
    assert all(taken.values())


def test_every_file_of_an_own_book_is_taken(root: Path) -> None:
    own = root / "shop_books/fell_hollow"
    made = validators(root / "rules", root / "knowledge", own)
    for file in own.rglob("*.yaml"):
        place, text = file.relative_to(own).as_posix(), file.read_text(encoding="utf-8")
        trees = [parse_document(text, place).tree]
        if kind_of_own(place) != "own_cover":  # a reader that takes a bare 'on' for yes cannot read a cover page
            trees.append(as_editors_read(text))
        for tree in trees:
            assert [error.message for error in made[kind_of_own(place)].iter_errors(tree)] == [], place


@pytest.mark.parametrize("slip", ["rule: rails/rot, on: 2026-11-20, why: So.", f"rule: a, table: b, {ANSWER}", ANSWER])
def test_an_entry_that_is_half_written_is_underlined(slip: str, ladders: Validators) -> None:
    text = f"{OWN_COVER}looser:\n  - {{{slip}}}\n"
    assert [line for line, _ in faults(ladders["own_cover"], parse_document(text, "rulebook.yaml"))] == [6]


# In the small book the steps of one rule do not end with a full stop, which the checks refuse; the sound one mends it.
SMALL = {place: text for place, text in FILES.items() if not place.endswith("glue.yaml")}


@pytest.mark.parametrize(
    ("place", "files"), [*((place, SMALL) for place in sorted(SMALL)), *((p, FILES | SOUND) for p in sorted(FILES))]
)
def test_a_book_of_another_trade_is_taken(place: str, files: dict[str, str], ladders: Validators) -> None:
    validator = ladders[kind_of(place)]
    assert [error.message for error in validator.iter_errors(parse_document(files[place], place).tree)] == []
    assert [error.message for error in validator.iter_errors(as_editors_read(files[place]))] == []


@pytest.mark.parametrize("slip", SLIPS, ids=[f"{slip[0]}: {slip[3]}" for slip in SLIPS])
def test_a_slip_is_underlined_where_the_reader_finds_it(
    slip: tuple[str, str, str, str, str], ladders: Validators
) -> None:
    place, right, wrong, what, _ = slip
    before = {**FILES, **SOUND}[place]
    after = before.replace(right, wrong, 1)
    assert after != before
    if "stands on line" in what:
        return  # a key written twice is no tree at all
    found = faults(ladders[kind_of(place)], parse_document(after, place))
    if what in UNSEEN:
        assert found == []
        return
    assert first_difference(before, after) in [line for line, _ in found]


@pytest.mark.parametrize("slip", BETWEEN_LINES, ids=[f"{slip[0]}: {slip[4]}" for slip in BETWEEN_LINES])
def test_what_is_missing_is_underlined_on_the_map_that_lacks_it_or_on_its_empty_line(
    slip: tuple[str, str, str, int, str, str], ladders: Validators
) -> None:
    place, right, wrong, line, what, _ = slip
    after = FILES[place].replace(right, wrong, 1)
    found = faults(ladders[kind_of(place)], parse_document(after, place))
    if what in UNSEEN:
        assert found == []
        return
    assert min(at for at, _ in found) <= max(line, first_difference(FILES[place], after))


@pytest.mark.parametrize(
    ("place", "right", "wrong"),
    [
        ("rules/rails/crack.yaml", "is within <limit>", "is within 25 mm"),
        ("rules/rails/crack.yaml", "is within <limit>.", "is within <limit>"),
        ("rules/mending/glue.yaml", "[Warm the rail.]", "[Warm the rail to 20.]"),
        ("rules/mending/glue.yaml", "[Wear gloves.]", "Wear <gloves>."),
        ("rules/rails/crack.yaml", "rot: none, verdict: keep", "rot: nnoe, verdict: keep"),
        ("rules/limits/load.yaml", "'ash, spruce': 90", "'ash; spruce': 90"),
        ("knowledge/vocabulary/all.yaml", "{cleaned: {'yes'", "{cleand: {'yes'"),
    ],
)
def test_what_the_checks_refuse_is_underlined_as_well(place: str, right: str, wrong: str, ladders: Validators) -> None:
    before = {**FILES, **SOUND}[place]
    assert right in before
    validator = ladders[kind_of(place)]
    assert validator.is_valid(parse_document(before, place).tree)
    assert not validator.is_valid(parse_document(before.replace(right, wrong, 1), place).tree)


def test_every_key_that_the_reader_knows_is_offered_with_what_it_means(shipped: Validators) -> None:
    known = {
        "rule": {*RULE_KEYS, *SAYING_KEYS}, "table": {*TABLE_KEYS}, "cover": {*COVER_KEYS}, "source": {*SOURCE_KEYS},
        "own_cover": {*OWN_COVER_KEYS}, "vocabulary": {"facts"},
    }  # fmt: skip
    schemas = {kind: schema_of(validator) for kind, validator in shipped.items()}
    assert {kind: set(one["properties"]) for kind, one in schemas.items()} == known
    rule, vocabulary = schemas["rule"], schemas["vocabulary"]
    example = rule["properties"]["examples"]["items"]["properties"]
    assert set(EXAMPLE_KEYS) < set(example)
    assert set(schemas["source"]["properties"]["clauses"]["items"]["properties"]) == set(CLAUSE_KEYS)
    assert set(vocabulary["properties"]["facts"]["additionalProperties"]["properties"]) == set(FACT_KEYS)
    assert example["length"]["description"].startswith("Size around the tyre")
    assert "How: " in example["length"]["description"]


def test_a_fact_of_ones_own_comes_in_by_itself(tmp_path: Path, ladders: Validators) -> None:
    own = "facts:\n  rungs: {means: rungs left, about: tyre, worse when: smaller, unit: '', range: 0 to 30}\n"
    write_book(tmp_path, **{"knowledge/vocabulary/own.yaml": own})
    after = FILES["rules/rails/rot.yaml"].replace("  wood left: below 20 mm\n", "  rungs: below 12\n")
    tree = parse_document(after.replace("wood left: 5 mm", "rungs: 11"), "rot.yaml").tree
    assert not ladders["rule"].is_valid(tree)
    assert validators(tmp_path / "rules", tmp_path / "knowledge")["rule"].is_valid(tree)


def test_a_schema_stays_within_the_regular_expressions_that_every_editor_knows(shipped: Validators) -> None:
    for validator in shipped.values():
        Draft202012Validator.check_schema(validator.schema)
        for written in patterns(validator.schema):
            assert "(?P" not in written
            assert "\\ " not in written
            assert "\\-" not in written


def patterns(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        if isinstance(node.get("pattern"), str):
            yield node["pattern"]
        yield from node.get("patternProperties", {})
        for inside in node.values():
            yield from patterns(inside)
    elif isinstance(node, list):
        for inside in node:
            yield from patterns(inside)


def test_no_schema_has_an_address(shipped: Validators) -> None:
    schemas: list[Schema] = [schema_of(validator) for validator in shipped.values()]
    assert "$id" not in json.dumps(schemas)
