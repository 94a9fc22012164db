import json
import re
import shutil
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.folders import folder
from mendbook.proof.seal import SEAL


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A shop's own copy of the rulebook, without the seal of the shipped one."""
    rules = folder("rules")
    assert isinstance(rules, Path)
    return shutil.copytree(rules, tmp_path / "rules", ignore=shutil.ignore_patterns(SEAL))


def change(file: Path, before: str, after: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after, 1), encoding="utf-8")


def test_the_shipped_rulebook_holds(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "check"]) == 0
    out = capsys.readouterr().out
    summary, blank, head, *notes = out.splitlines()
    assert re.fullmatch(r"\d+ rules, \d+ lines, \d+ examples, \d+ tables, \d+ sources: all hold", summary)
    assert (blank, head) == ("", "Of no use so far, which is no fault:")
    assert [note for note in notes if note.startswith("- ")]
    assert max(map(len, notes)) <= 100


def test_an_example_that_no_longer_comes_true_fails_the_check(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = copy / "release" / "leak.yaml"
    change(file, "{repair class: dress, says: nothing}", "{repair class: dress, says: cap}")
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 1
    captured = capsys.readouterr()
    assert captured.out.startswith(f"{file}:")
    assert captured.out.endswith("the example expects 'cap', the rule says 'nothing'\n")
    assert captured.err == ""


def test_as_data_it_tells_counts_faults_and_notes_with_their_places(
    copy: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["rulebook", "check", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["holds"]
    assert told["faults"] == []
    assert told["counts"]["rules"] > 200
    assert any("never ruled out" in note["says"] for note in told["notes"])
    file = copy / "release" / "leak.yaml"
    change(file, "{repair class: dress, says: nothing}", "{repair class: dress, says: cap}")
    assert run(["rulebook", "check", "--json", "--rulebook", str(copy)]) == 1
    [fault] = json.loads(capsys.readouterr().out)["faults"]
    assert fault["file"] == str(file)
    assert "repair class: dress" in file.read_text(encoding="utf-8").splitlines()[fault["line"] - 1]
    assert fault["says"] == "the example expects 'cap', the rule says 'nothing'"


@pytest.mark.parametrize(
    ("place", "before", "after", "said"),
    [
        ("limits/spacing.yaml", "unit: mm", "unit: in", "is not in the unit of the shipped one. Write 'unit: mm'"),
        ("limits/duty_factor.yaml", "gives: [duty factor]", "gives: [duty factor]\nunit: '%'", "Leave 'unit' out"),
        (
            "limits/spacing.yaml",
            "gives: [least gap]",
            "gives: [last gap]",
            "does not give what the shipped one gives. Write 'gives: [least gap]'",
        ),
    ],
)
def test_a_table_that_the_machine_would_misread_is_refused_by_check_and_by_triage(
    place: str, before: str, after: str, said: str, copy: Path, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(copy / place, before, after)
    file = copy / place
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(" mm", " in") if "unit: in" in text else text, encoding="utf-8")
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 2
    assert said in " ".join(capsys.readouterr().err.split())
    case = str(root / "examples/quarry/grader_scuff.yaml")
    assert run(["triage", case, "--rulebook", str(copy)]) == 2
    assert said in " ".join(capsys.readouterr().err.split())


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


def test_an_own_book_is_checked_whole(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "check", "--rulebook", str(root / "shop_books/fell_hollow")]) == 0
    assert ": all hold\n" in capsys.readouterr().out


def test_every_place_that_is_looser_is_an_error_of_its_own(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(copy / "limits" / "spacing.yaml", "W1: 60 mm", "W1: 50 mm")
    change(copy / "limits" / "duty_factor.yaml", "scraper: 0.85", "scraper: 0.90")
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.count("error: ") == 2
    assert "approved by: <person or role>" in " ".join(captured.err.split())


def test_asking_for_no_task_shows_the_tasks(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook"]) == 0
    assert "\n  check " in capsys.readouterr().out
