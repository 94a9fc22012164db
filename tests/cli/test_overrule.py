"""Overrules on the command line, and how each refusal says where it stands."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from tests.triage.cases import CUT, LOADER, Tree, but, write

RULE = "sidewall/through_steel_radial"
BY = ("--by", "Ada Winter", "--why", "no spare for eight weeks")
ENTRY: Tree = {"rule": RULE, "by": "Ada Winter", "on": "2026-11-24", "why": "no spare for eight weeks"}


@pytest.fixture
def case(tmp_path: Path) -> Path:
    file = tmp_path / "case.yaml"
    file.write_text(write(but(LOADER, injuries=[but(CUT, length="72 mm", cords_cut="17")])), encoding="utf-8")
    return file


def triaged(capsys: pytest.CaptureFixture[str], *given: str) -> tuple[int, str]:
    code = run(["triage", *given])
    said = capsys.readouterr()
    return code, " ".join((said.out + said.err).split())


def test_the_command_line_overrules_as_the_case_file_does(case: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["triage", str(case), "--json", "--overrule", f"{RULE}@A", *BY]) == 0
    docket = json.loads(capsys.readouterr().out)
    today = datetime.now(UTC).date().isoformat()
    assert docket["outcome"] == "repair"
    assert docket["written"]["overrule"] == [{**ENTRY, "on": today, "injury": "A"}]
    assert docket["overruled"][0]["by"] == "Ada Winter"


def test_a_docket_with_an_overrule_replays(case: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["triage", str(case), "--json", "--overrule", RULE, *BY]) == 0
    kept = tmp_path / "docket.json"
    kept.write_text(capsys.readouterr().out, encoding="utf-8")
    assert run(["replay", str(kept)]) == 0
    assert "The same docket, to the letter." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("--overrule", RULE), "--overrule takes --by with the name of a person and --why with the reason."),
        (("--overrule", RULE, "--by", " ", "--why", "a good reason"), "--overrule takes --by with the name"),
        (BY, "--by and --why belong to --overrule RULE. Name the rule, or leave them out."),
        (("--overrule", "casing/foam", *BY), "error: --overrule casing/foam: 'casing/foam' cannot be overruled: it"),
        (("--overrule", f"{RULE}@B", *BY), f"error: --overrule {RULE}@B: no injury is called 'B' here."),
        (("--overrule", "people/valve_core", *BY), "people first, and a stop cannot be waived"),
    ],
)
def test_what_cannot_be_overruled_is_one_error(
    given: tuple[str, ...], words: str, case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = triaged(capsys, str(case), *given)
    assert code == 2
    assert words in said
    assert said.count("error:") == 1


def test_an_entry_of_the_file_is_refused_with_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "case.yaml"
    cut = but(CUT, length="72 mm", cords_cut="17")
    file.write_text(write(but(LOADER, injuries=[cut], overrule=[{**ENTRY, "rule": "casing/foam"}])), encoding="utf-8")
    line = 1 + file.read_text(encoding="utf-8").splitlines().index("- rule: casing/foam")
    code, said = triaged(capsys, str(file), "--overrule", RULE, *BY)
    assert code == 2
    assert f"case.yaml:{line}: overrule [1].rule: 'casing/foam' cannot be overruled" in said.replace("- ", "-")


def test_a_tyre_of_a_review_is_overruled_in_its_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    code, said = triaged(capsys, "--from", "decisions", "--tyre", "A", "--overrule", RULE, *BY)
    assert code == 2
    assert "--from judges as the review did. Overrule in the sheet, and review it again." in said


def test_two_books_are_compared_without_what_people_overrule(
    case: Path, root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cases = tmp_path / "cases"
    cases.mkdir()
    plain, overruled = cases / "a.yaml", cases / "b.yaml"
    text = case.read_text(encoding="utf-8")
    plain.write_text(text, encoding="utf-8")
    overruled.write_text(text + write({"overrule": [ENTRY]}), encoding="utf-8")
    rules, own = str(root / "rules"), str(root / "shop_books/fell_hollow")
    assert run(["rulebook", "compare", rules, own, "--on", str(cases), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    first, second = found["cases"]
    assert (first["then"], first["now"]) == (second["then"], second["now"])


def test_the_blank_case_shows_how_to_overrule(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["new", "--full"]) == 0
    form = capsys.readouterr().out
    assert "# overrule:" in form
    assert all(f"{name}:" in form.split("# overrule:")[1] for name in ENTRY)
