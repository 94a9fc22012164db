"""The seal of a rulebook: written when the book holds, told when something changed since."""

import shutil
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.folders import folder
from mendbook.proof.seal import SEAL, write_seal
from mendbook.rulebook.book import Rulebook

LEAK = "release/leak.yaml"


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    return Path(shutil.copytree(str(folder("rules")), tmp_path / "rules"))


def change(file: Path, before: str, after: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after, 1), encoding="utf-8")


def test_the_shipped_book_is_as_it_was_sealed(book: Rulebook) -> None:
    """After a change that is meant: mendbook rulebook seal."""
    assert folder("rules").joinpath(SEAL).read_text(encoding="utf-8") == write_seal(book)


def test_a_number_that_slipped_is_told_until_the_book_is_sealed_anew(
    copy: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(copy / "limits/reinforcement.yaml", "shoulder: 0.22 x 60", "shoulder: 0.32 x 60")
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 1
    [told] = capsys.readouterr().out.splitlines()
    assert told.startswith("seal.txt: table reach of the reinforcement, zone: shoulder: it was '0.22 x 60' and is ")
    assert run(["rulebook", "seal", "--rulebook", str(copy)]) == 0
    assert capsys.readouterr().out == f"Sealed: {copy / SEAL}\n"
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 0


def test_a_book_with_a_fault_is_not_sealed(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(copy / LEAK, "{repair class: dress, says: nothing}", "{repair class: dress, says: cap}")
    (copy / SEAL).unlink()
    assert run(["rulebook", "seal", "--rulebook", str(copy)]) == 1
    assert capsys.readouterr().out.endswith("Not sealed: only a book that holds is worth a seal.\n")
    assert not (copy / SEAL).exists()


def test_a_book_without_a_seal_is_not_asked_for_one(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (copy / SEAL).unlink()
    assert run(["rulebook", "check", "--rulebook", str(copy)]) == 0
    assert ": all hold\n" in capsys.readouterr().out


def test_a_seal_that_cannot_be_written_is_one_error(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (copy / SEAL).unlink()
    (copy / SEAL).mkdir()
    assert run(["rulebook", "seal", "--rulebook", str(copy)]) == 2
    assert "this cannot be written" in capsys.readouterr().err
