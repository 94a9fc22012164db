"""The invented log stands beside the report that it gives. UPDATE_EXAMPLES=1 writes the report anew."""

import os
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.terms.cure_state import CureState

NAME = "examples/cure/through_60_mm"


def test_the_report_beside_the_log_is_what_it_gives(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(root)
    monkeypatch.setenv("COLUMNS", "100")
    assert run(["cure", f"{NAME}.order", "--log", f"{NAME}.csv"]) == 0
    printed = capsys.readouterr().out
    beside = root / f"{NAME}.txt"
    if os.environ.get("UPDATE_EXAMPLES"):
        beside.write_text(printed, encoding="utf-8")
    assert printed == beside.read_text(encoding="utf-8"), "run with UPDATE_EXAMPLES=1 and read what changed"


def test_it_says_that_it_is_invented(root: Path) -> None:
    assert (root / f"{NAME}.csv").read_text(encoding="utf-8").startswith("# Invented")
    assert '"case": "invented' in (root / f"{NAME}.order").read_text(encoding="utf-8")


def test_what_was_put_into_it_is_found(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(root)
    assert run(["cure", f"{NAME}.order", "--log", f"{NAME}.csv", "--json"]) == 0
    state = CureState.model_validate_json(capsys.readouterr().out)
    assert [fault.kind for fault in state.faults] == ["spike", "power cut", "pressure drop"]
    assert state.estimate
    assert state.estimate.diffusivity_ratio == pytest.approx(0.9, abs=0.03)
