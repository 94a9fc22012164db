"""The worth command, as a person meets it."""

import json
from pathlib import Path

import pytest

from mendbook.cli.entry import run

EXAMPLE = "examples/quarry/loader_worth.yaml"


@pytest.fixture(autouse=True)
def _here(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(root)


def test_it_prints_the_managers_page_and_draws(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "levers.png"
    assert run(["worth", EXAMPLE, "--picture", str(picture)]) == 0
    page = capsys.readouterr().out
    assert "Repair it: 3,441.93 EUR cheaper than a new tyre" in " ".join(page.split())
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_as_data_it_is_what_the_docket_holds(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["worth", EXAMPLE, "--json"]) == 0
    worth = json.loads(capsys.readouterr().out)
    assert worth["value"] == 3441.93
    assert run(["triage", EXAMPLE, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["worth"] == worth


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["examples/quarry/loader_sidewall_cut.yaml"], "there is no money in this case. Add 'money:'"),
        ([EXAMPLE, "--picture", "levers.gif"], "End it in .svg or .png."),
        (["nowhere.yaml"], "there is no such file"),
    ],
)
def test_what_cannot_be_done_is_one_error(arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["worth", *arguments]) == 2
    told = capsys.readouterr().err
    assert told.startswith("error: ")
    assert says in " ".join(told.split())
