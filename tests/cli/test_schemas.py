import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from mendbook.cli.entry import run
from mendbook.cli.schemas import schema


@pytest.mark.parametrize("kind", ["case", "docket", "order"])
def test_a_schema_is_valid_named_described_and_without_id(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema", kind]) == 0
    printed = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(printed)
    assert printed["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert printed["title"]
    assert printed["description"]
    assert "$id" not in json.dumps(printed)
    assert printed["additionalProperties"] is False


def test_the_case_schema_takes_a_case_and_refuses_an_unknown_word() -> None:
    validator = Draft202012Validator(schema("case"))
    case = {
        "case": "invented",
        "tyre": {"designation": "26.5R25", "casing": "steel"},
        "injuries": [{"name": "A", "length": "48 mm"}],
    }
    assert validator.is_valid(case)
    assert not validator.is_valid({**case, "tyre": {"casing": "wood"}})
    assert not validator.is_valid({**case, "tire": {}})


def test_facts_of_the_vocabulary_are_described_in_the_case_schema() -> None:
    length = schema("case")["$defs"]["Injury"]["properties"]["length"]
    assert length["description"].startswith("size around the tyre")


def test_an_unknown_kind_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema", "tyre"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("error: ")
    assert "order" in captured.err


def test_the_case_schema_takes_the_facts_of_a_shops_own_book(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = {"case": "invented", "found": {"photograph": "filed"}}
    assert not Draft202012Validator(schema("case")).is_valid(case)
    assert run(["schema", "case", "--rulebook", str(root / "shop_books/fell_hollow")]) == 0
    assert Draft202012Validator(json.loads(capsys.readouterr().out)).is_valid(case)
