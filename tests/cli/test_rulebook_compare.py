"""Two books side by side, and the cases that come out otherwise."""

import json
import shutil
from pathlib import Path

import pytest

from mendbook.audit.boundaries import FlipFinder
from mendbook.cli.entry import run
from mendbook.folders import folder

COVER = "rulebook: own\nedition: first\ndate: 2026-11-20\nowner: a foreman\n"


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """An own book with one limit tightened: the box of the upper sidewall, in the class of a 26.5 inch tyre."""
    text = Path(str(folder("rules") / "limits" / "size_radial.yaml")).read_text(encoding="utf-8")
    assert "W6: 60 x 150 mm" in text
    (tmp_path / "own" / "limits").mkdir(parents=True)
    (tmp_path / "own" / "rulebook.yaml").write_text(COVER, encoding="utf-8")
    (tmp_path / "own" / "limits" / "size_radial.yaml").write_text(
        text.replace("W6: 60 x 150 mm", "W6: 60 x 110 mm"), encoding="utf-8"
    )
    return tmp_path / "own"


@pytest.fixture(autouse=True)
def _without_search(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seeking cases takes the solver some seconds each; the tests that are about them ask for it."""
    if "long" not in request.keywords:
        monkeypatch.setattr(FlipFinder, "find", lambda *_: None)


@pytest.mark.long
def test_a_moved_limit_shows_a_case_that_comes_out_otherwise(
    own: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["rulebook", "compare", "shipped", str(own), "--json"]) == 0
    (table,) = [one for one in json.loads(capsys.readouterr().out)["changes"] if one["kind"] == "table"]
    cases = [region["case"] for region in table["regions"]]
    assert cases
    for place, case in enumerate(cases):
        (tmp_path / f"{place}.yaml").write_text(case, encoding="utf-8")
        assert run(["rulebook", "compare", "shipped", str(own), "--on", str(tmp_path / f"{place}.yaml"), "--json"]) == 0
        (flip,) = json.loads(capsys.readouterr().out)["cases"]
        assert flip["flipped"]


def test_the_same_book_twice_is_no_change(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "compare", "shipped", "shipped"]) == 0
    assert "No change: the two books decide and read alike." in capsys.readouterr().out


def test_a_tightened_limit_is_told_as_a_cell(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "compare", "shipped", str(own)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "radial or bias-belted, upper sidewall, W6: table width 150 -> 110 mm, stricter" in out
    assert out.count("->") == 1
    assert run(["rulebook", "compare", str(own), "shipped"]) == 0
    assert "table width 110 -> 150 mm, looser" in " ".join(capsys.readouterr().out.split())


def test_the_cases_that_flip_are_those_in_the_cell(own: Path, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rulebook", "compare", "shipped", str(own), "--on", str(root / "examples"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    flipped = {Path(one["case"]).name: one for one in told["cases"] if one["flipped"]}
    # One, also there with its money, is 118 mm wide; the other, not skived yet, uses too much of the smaller box:
    # 57 mm by 95 mm at the least.
    assert set(flipped) == {"loader_sidewall_cut.yaml", "loader_before_skive.yaml", "loader_worth.yaml"}
    cut = flipped["loader_sidewall_cut.yaml"]
    assert (cut["then"]["outcome"], cut["now"]["outcome"]) == ("repair", "reject")
    assert (cut["then"]["uses"]["off-road"], cut["now"]["uses"]["off-road"]) == ("section", "reject")
    assert cut["gone"][0]["rule"] == cut["come"][0]["rule"] == "sidewall/through_steel_radial"
    assert (cut["gone"][0]["verdict"], cut["come"][0]["verdict"]) == ("section", "reject")
    assert len(told["cases"]) == len(list((root / "examples").rglob("*.yaml")))


def test_a_flip_is_told_with_its_reasons(own: Path, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = str(root / "examples/quarry/loader_sidewall_cut.yaml")
    assert run(["rulebook", "compare", "shipped", str(own), "--on", case]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "1 judged by both, 1 with another answer." in out
    assert "outcome repair -> reject" in out
    assert "off-road: section -> reject" in out
    assert "no longer section, A: 48 mm by 118 mm lies within 60 mm by 150 mm" in out
    assert "now reject, A: A limit counts as passed" in out


def test_the_example_of_an_own_book_on_a_case(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = str(root / "examples/quarry/grader_scuff.yaml")
    assert run(["rulebook", "compare", "shipped", str(root / "shop_books/fell_hollow"), "--on", case]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "identity/photograph (photograph before the skive) added, stricter" in out
    assert "upper sidewall, W6: table cords 18 -> 20 cords, looser" in out
    assert "outcome serve -> hold off-road: hold new: Photograph the injury" in out
    assert "Not to be judged by" not in out


def test_a_proposal_that_nobody_answers_for_is_compared_all_the_same(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = own / "limits" / "size_radial.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("60 x 110 mm", "60 x 160 mm"), encoding="utf-8")
    assert run(["rulebook", "compare", "shipped", str(own)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "table width 150 -> 160 mm, looser" in out
    assert "Not to be judged by until this is settled" in out
    assert "let somebody answer for 'limits/size_radial'" in out


def test_an_older_copy_is_a_whole_book(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    older = Path(shutil.copytree(str(folder("rules")), tmp_path / "older"))
    (older / "release" / "leak.yaml").unlink()
    assert run(["rulebook", "compare", str(older), "shipped"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert ", a whole book read by itself: first edition" in out
    assert "release/leak (leak after inflation) added, stricter: Does it hold air?" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["shipped", "nowhere"], "nowhere: there is no such folder. Name a rulebook's folder, or write 'shipped'."),
        (["shipped", "{empty}"], "no rulebook.yaml here"),
        (["shipped", "shipped", "--on", "nowhere.yaml"], "nowhere.yaml: there is no such file"),
        (["shipped", "shipped", "--on", "{empty}"], "no case file is in this folder"),
        (["shipped", "shipped", "--on", "{cover}"], "rulebook.yaml"),
        (["shipped"], "NEW"),
    ],
)
def test_what_cannot_be_compared_is_one_clear_error(
    words: list[str], said: str, own: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "empty").mkdir()
    given = [word.format(empty=tmp_path / "empty", cover=own / "rulebook.yaml") for word in words]
    assert run(["rulebook", "compare", *given]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert said in " ".join(captured.err.split())
