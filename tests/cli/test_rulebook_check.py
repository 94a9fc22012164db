import re
import shutil
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.folders import folder


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A shop's own copy of the rulebook."""
    rules = folder("rules")
    assert isinstance(rules, Path)
    return shutil.copytree(rules, tmp_path / "rules")


def change(file: Path, before: str, after: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after, 1), encoding="utf-8")


def test_the_shipped_rulebook_holds(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "check"]) == 0
    out = capsys.readouterr().out
    assert re.fullmatch(r"\d+ rules, \d+ lines, \d+ examples, \d+ tables, \d+ sources: all hold\n", out)


def test_an_example_that_no_longer_comes_true_fails_the_check(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = copy / "release" / "leak.yaml"
    change(file, "{repair class: dress, says: nothing}", "{repair class: dress, says: cap}")
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 1
    captured = capsys.readouterr()
    assert captured.out.startswith(f"{file}:")
    assert captured.out.endswith("the example expects 'cap', the rule says 'nothing'\n")
    assert captured.err == ""


def test_a_rule_that_cannot_be_read_is_one_error(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = copy / "release" / "leak.yaml"
    change(file, "repair class: [", "repair clas: [")
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    said = " ".join(captured.err.split())
    assert said.startswith(f"error: {file}:")
    assert said.endswith("no fact is called 'repair clas'. Did you mean 'repair class'?")


@pytest.mark.parametrize("given", ["nowhere", "empty"])
def test_a_folder_that_is_no_rulebook_is_one_error(
    given: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "empty").mkdir()
    assert run(["rulebook", "check", "--rulebook", str(tmp_path / given)]) == 2
    captured = capsys.readouterr()
    assert captured.err.count("error: ") == 1
    assert "rulebook.yaml" in captured.err


def test_asking_for_no_task_shows_the_tasks(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook"]) == 0
    assert "\n  check " in capsys.readouterr().out
