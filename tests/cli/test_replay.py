import json
from pathlib import Path

import pytest

from mendbook.cli.entry import run

CUT = Path(__file__).resolve().parents[2] / "examples/quarry/loader_sidewall_cut.yaml"


@pytest.fixture
def docket(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert run(["triage", str(CUT), "--json"]) == 0
    kept = tmp_path / "docket.json"
    kept.write_text(capsys.readouterr().out, encoding="utf-8")
    return kept


def test_a_kept_docket_gives_itself(docket: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["replay", str(docket)]) == 0
    assert capsys.readouterr().out.endswith("The same docket, to the letter.\n")
    assert run(["replay", str(docket), "--json"]) == 0
    assert capsys.readouterr().out == docket.read_text(encoding="utf-8")


def test_a_docket_that_was_tampered_with_does_not(docket: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The length in the case is no longer the one that was judged."""
    tree = json.loads(docket.read_text(encoding="utf-8"))
    tree["written"]["injuries"][0]["length"] = "78 mm"
    docket.write_text(json.dumps(tree), encoding="utf-8")
    assert run(["replay", str(docket)]) == 1
    told = capsys.readouterr().out
    assert "It comes out otherwise:" in told
    assert "then: repair" in told
    assert "now: reject" in told


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("case: 1\n", "this is no docket (Invalid JSON"),
        ("{}", "this is no docket (case: Field required). Give the JSON that 'mendbook triage CASE --json' prints."),
        ("", "this is no docket"),
    ],
)
def test_what_is_no_docket_is_one_error(
    text: str, fault: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "docket.json"
    file.write_text(text, encoding="utf-8")
    assert run(["replay", str(file)]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert said.startswith(f"error: {file}: ")
    assert fault in said
    assert said.count("error: ") == 1


def test_a_value_that_the_book_does_not_know_is_named(docket: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tree = json.loads(docket.read_text(encoding="utf-8"))
    tree["written"]["tyre"]["casing"] = "steal"
    docket.write_text(json.dumps(tree), encoding="utf-8")
    assert run(["replay", str(docket)]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert "the case in the docket:1: tyre.casing: 'steal' is not known here. Did you mean 'steel'?" in said


def test_a_docket_that_is_not_there_is_one_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["replay", "nowhere.json"]) == 2
    assert capsys.readouterr().err == "error: nowhere.json: there is no such file. Check the name and the folder.\n"
