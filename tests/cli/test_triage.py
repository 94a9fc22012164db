import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from mendbook.cli.entry import run
from mendbook.cli.options import Law
from mendbook.cli.schemas import schema
from mendbook.triage import Shop

CASE = """\
case: "[red] invented loader"
judged on: 2026-11-25
tyre:
  designation: 26.5R25
  date code: 3123
  casing: steel
  tread left: 57 mm
  tread new: 97 mm
  tread depths: [60 mm, 57 mm, 58 mm, 61 mm]
found:
  valve core: out
  heat event: none
  inside inspected: yes
  pressure at removal: 4.9 bar
service: {use: off-road, duty: loader v-cycle, position: not steered, speed: 12 km/h, pressure specified: 5 bar}
injuries:
  - name: A
    side: serial side
    clock: 214 deg
    kind: cut
    reaches: through
    distance from bead: 330 mm
    length: 48 mm
    width: 118 mm
    depth: 46 mm
    skived: yes
    cords cut: 13
earlier repairs: none
"""


@pytest.fixture
def case(tmp_path: Path) -> Path:
    file = tmp_path / "case.yaml"
    file.write_text(CASE, encoding="utf-8")
    return file


def pipe(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8"))


def test_a_case_gives_a_report(case: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert run(["triage", str(case)]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    assert captured.out.splitlines()[0] == "[red] invented loader"
    assert "\nFindings\n" in captured.out
    assert "\x1b" not in captured.out
    assert all(len(line) <= 80 for line in captured.out.splitlines())


def test_the_json_is_the_docket_and_fits_its_schema(case: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["triage", str(case), "--json", "--law", "none"]) == 0
    docket = json.loads(capsys.readouterr().out)
    Draft202012Validator(schema("docket")).validate(docket)
    assert docket["case"] == "[red] invented loader"
    assert docket["law"] == "none"


def test_a_stop_is_an_answer_and_no_error(case: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case.write_text(CASE.replace("valve core: out", "valve core: in"), encoding="utf-8")
    assert run(["triage", str(case)]) == 0
    assert "\nSTOP" in capsys.readouterr().out


def test_standard_input_takes_yaml_and_json(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe(monkeypatch, CASE)
    assert run(["triage", "-"]) == 0
    first = capsys.readouterr().out
    pipe(monkeypatch, json.dumps({"case": "from json", "tyre": {"designation": "26.5R25"}}))
    assert run(["triage", "-"]) == 0
    assert first.startswith("[red] invented loader\n")
    assert capsys.readouterr().out.startswith("from json\n")


@pytest.mark.parametrize(
    ("before", "after", "fault"),
    [
        ("length: 48 mm", "length: 48", ":23: injuries [1].length: '48' has no unit"),
        ("casing: steel", "casing: steal", ":6: tyre.casing: 'steal' is not known here. Did you mean 'steel'?"),
        ("casing: steel", "casin: steel", ":6: tyre.casin: no field is called 'casin' here. Did you mean 'casing'?"),
        ("distance from bead: 330 mm", "distance from bead: 1500 mm", ":22: injuries [1].distance from bead: 1500 mm"),
        ("casing: steel", "casing: [steel", "a '[' or '{' is opened and never closed"),
    ],
)
def test_bad_input_is_one_clear_error(
    before: str, after: str, fault: str, case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case.write_text(CASE.replace(before, after), encoding="utf-8")
    assert run(["triage", str(case)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    said = " ".join(captured.err.split())
    assert said.startswith(f"error: {case}:")
    assert fault in said
    assert said.count("error: ") == 1


def test_a_file_that_is_not_there_is_one_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["triage", "nowhere.yaml"]) == 2
    assert capsys.readouterr().err == "error: nowhere.yaml: there is no such file. Check the name and the folder.\n"


def test_a_rulebook_that_is_not_there_is_one_error(case: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["triage", str(case), "--rulebook", "nowhere"]) == 2
    assert capsys.readouterr().err.startswith("error: nowhere: there is no such folder.")


def test_every_law_of_the_book_may_be_asked_for(shop: Shop) -> None:
    assert {law.value for law in Law} == set(shop.book.vocabulary["law"].values)
