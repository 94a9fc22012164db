"""The proofs at the command line: what holds, what does not, and the cases that refute it."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.witness import Witness
from mendbook.cli import proving
from mendbook.cli.entry import run
from mendbook.folders import folder
from mendbook.terms.document import read_document

HELD = Claim("covered", "Every injury gets a verdict.", "proof", 1)


@pytest.fixture
def refuted(monkeypatch: pytest.MonkeyPatch) -> None:
    """One claim that holds, and one that the ordinary case is said to refute."""
    witness = Witness(read_document(folder("knowledge") / "ordinary_case.yaml").tree, "us", ())
    failing = Claim("kept", "Nothing is repaired.", "trial", 2, (Failure("This one is.", (witness,)),))
    _prove(monkeypatch, HELD, failing)


def _prove(monkeypatch: pytest.MonkeyPatch, *claims: Claim) -> None:
    def prove(_: Path | None) -> Iterator[Claim]:
        yield from claims

    monkeypatch.setattr(proving, "prove_beside", prove)


def test_claims_that_hold_leave_with_nothing_said_against_them(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _prove(monkeypatch, HELD)
    assert run(["rulebook", "prove"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "Holds, proven (1 questions)." in out
    assert "1 of 1 claims hold." in out


@pytest.mark.usefixtures("refuted")
def test_a_refuting_case_is_printed_with_what_triage_says(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "prove"]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "DOES NOT HOLD (2 cases)." in out
    assert "This case shows it (triage with --law us):" in out
    assert "injuries:" in out
    assert "Triage says:" in out
    assert "1 of 2 claims hold." in out


@pytest.mark.usefixtures("refuted")
def test_a_refuting_case_is_data_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "prove", "--json"]) == 1
    held, failing = json.loads(capsys.readouterr().out)
    assert (held["holds"], held["failures"]) == (True, [])
    [case] = failing["failures"][0]["cases"]
    assert case["law"] == "us"
    assert case["triage"]["outcome"] in ("hold", "repair", "serve", "reject")


@pytest.mark.usefixtures("refuted")
def test_a_refuting_case_is_written_as_a_file_that_triage_reads(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["rulebook", "prove", "--cases", str(tmp_path)]) == 1
    [file] = tmp_path.iterdir()
    assert file.name == "refuting_1.yaml"
    assert "--law us" in capsys.readouterr().out
    assert run(["triage", str(file), "--law", "us"]) != 2


@pytest.mark.parametrize("words", [["--cases", "nowhere"], ["--rulebook", "nowhere"]])
def test_a_missing_folder_is_one_clear_error(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "prove", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "nowhere" in captured.err


@pytest.mark.long
def test_the_shipped_book_is_proven(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "prove"]) == 0
    assert "DOES NOT HOLD" not in capsys.readouterr().out
