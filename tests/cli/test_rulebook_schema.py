import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from mendbook.cli.book_commands import FileKind
from mendbook.cli.entry import run
from mendbook.rulebook.schemas import KINDS
from tests.cli.test_rulebook_check import change, copy

__all__ = ["copy"]  # a fixture


def test_every_kind_of_file_may_be_named() -> None:
    assert tuple(kind.value for kind in FileKind) == KINDS


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_printed_whole_titled_and_described(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "schema", kind]) == 0
    printed = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(printed)
    assert printed["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert printed["title"] == kind
    assert printed["description"].endswith(".")
    assert printed["additionalProperties"] is False


def test_all_are_written_side_by_side_and_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "schemas"
    assert run(["rulebook", "schema", "--write", str(target)]) == 0
    assert sorted(file.name for file in target.iterdir()) == sorted(f"{kind}.schema.json" for kind in KINDS)
    assert capsys.readouterr().out.splitlines() == [f"Written: {target / kind}.schema.json" for kind in KINDS]
    assert run(["rulebook", "schema", "--write", str(target)]) == 0
    assert json.loads((target / "rule.schema.json").read_text(encoding="utf-8"))["title"] == "rule"


def test_a_rule_that_is_half_written_does_not_keep_the_schema_back(
    copy: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(copy / "release" / "leak.yaml", "repair class: [", "repair clas: [")
    assert run(["rulebook", "schema", "rule", "--rulebook", str(copy)]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "rule"


@pytest.mark.parametrize(
    "words",
    [[], ["rule", "--write", "here"], ["rules"], ["--write", "nowhere/at/all"], ["rule", "--rulebook", "nowhere"]],
)
def test_what_cannot_be_done_is_one_clear_error(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "schema", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.count("error: ") == 1
