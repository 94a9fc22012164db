import json

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


def test_a_kind_that_is_none_is_one_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "cite", "--kind", "rumour"]) == 2
    assert capsys.readouterr().err.count("error:") == 1
