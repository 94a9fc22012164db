import json
from pathlib import Path

import pytest

from mendbook.cli.entry import run


def test_the_list_begins_with_the_sum(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "cite"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Lines and tables by the source that carries them: law ")
    for title in ("law:", "guidance:", "common practice:", "house default:"):
        assert f"\n{title}" in out


def test_one_kind_alone(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "cite", "--kind", "law"]) == 0
    out = capsys.readouterr().out
    assert "people/valve_core" in out
    assert "\nhouse default:" not in out


def test_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "cite", "--kind", "law", "--json"]) == 0
    cited = json.loads(capsys.readouterr().out)
    assert {one["kind"] for one in cited} == {"law"}
    assert any(one["source"] == "49 cfr 393.75" for one in cited)


def test_what_is_the_shops_own_and_what_is_looser_is_marked(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own = ["rulebook", "cite", "--rulebook", str(root / "shop_books/fell_hollow")]
    assert run(own) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "fell hollow workshop instruction, sizes; invented The shop's own." in out
    assert "looser than the shipped book. Approved by tyre engineer of the quarry, 2026-11-18: Two years" in out
    assert run([*own, "--json"]) == 0
    marked = [one for one in json.loads(capsys.readouterr().out) if one["is_own"]]
    assert {one["place"]: bool(one["looser"]) for one in marked} == {
        "identity/photograph": False,
        "limits/cords_steel_radial": True,
        "limits/size_radial": False,
    }


def test_a_kind_that_is_none_is_one_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "cite", "--kind", "rumour"]) == 2
    assert capsys.readouterr().err.count("error:") == 1
