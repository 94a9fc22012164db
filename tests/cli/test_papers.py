"""Papers from the command line: written where they are wished, by the ending of the name, refused in words."""

import subprocess
import sys
from pathlib import Path

import pytest

from mendbook.cli.entry import run

CASE = "examples/quarry/loader_lightning.yaml"


def test_card_and_tag_are_written_and_said(root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    card, tag = tmp_path / "card.html", tmp_path / "tag.pdf"
    assert run(["triage", str(root / CASE), "--card", str(card), "--tag", str(tag), "--paper", "letter"]) == 0
    assert capsys.readouterr().out == (
        "STOP. People first. Nothing else is decided until this is cleared. "
        f"Card: {card}. Tag: {tag}.\n"
    )  # fmt: skip
    assert "size: letter" in card.read_text(encoding="utf-8")
    assert tag.read_bytes().startswith(b"%PDF")


def test_the_docket_can_be_had_as_well(root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    card = tmp_path / "card.pdf"
    assert run(["triage", str(root / CASE), "--card", str(card), "--json"]) == 0
    assert '"outcome": "stop"' in capsys.readouterr().out
    assert card.is_file()


@pytest.mark.parametrize(
    ("named", "said"),
    [
        (["--card", "card.doc"], "End it in .html or .pdf."),
        (["--card", "missing/card.pdf"], "there is no folder"),
        (["--card", "same.pdf", "--tag", "same.pdf"], "the card is written there"),
    ],
)
def test_what_cannot_be_written_is_refused_before_anything_is_judged(
    named: list[str], said: str, root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    assert run(["triage", str(root / CASE), *named]) == 2
    assert said in " ".join(capsys.readouterr().err.split())
    assert not list(tmp_path.iterdir())


def test_a_card_is_made_without_the_libraries_that_are_slow_to_load() -> None:
    code = "import sys, mendbook.card.job.card, mendbook.card.job.page; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-P", "-c", code], check=False).returncode == 0
