import json
import re
from pathlib import Path

import pytest

from mendbook.cli.blank_case import FIRST, blank_case
from mendbook.cli.entry import run
from mendbook.cli.schemas import open_vocabulary
from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.document import parse_document
from mendbook.terms.vocabulary import Vocabulary

FILLED = {
    "case": "an invented case",
    "designation": "26.5R25",
    "date code": "3123",
    "casing": "steel",
    "tread left": "57 ± 2 mm",
    "tread new": "97 mm",
    "valve core": "out",
    "heat event": "none",
    "inside inspected": "yes",
    "pressure at removal": "4.9 bar",
    "use": "off-road",
    "duty": "loader v-cycle",
    "position": "not steered",
    "speed": "12 km/h",
    "pressure specified": "5 bar",
    "name": "A",
    "side": "serial side",
    "clock": "214 deg",
    "kind": "cut",
    "reaches": "through",
    "zone": "upper sidewall",
    "distance from bead": "318 mm",
    "length": "48 mm",
    "width": "118 mm",
    "depth": "46 mm",
    "skived": "yes",
    "plies damaged": "unknown",
    "cords cut": "13",
    "earlier repairs": "none",
}
BLANK = re.compile(r"^( *(?:- )?)([^#:\n]+):( +#.*)?$")


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return open_vocabulary()


def fill(form: str) -> str:
    """Write a value into every open line, as a person would, in front of the comment."""
    lines = []
    for line in form.splitlines():
        match = BLANK.match(line)
        value = FILLED.get(match[2].strip()) if match else None
        lines.append(f"{match[1]}{match[2]}: {value} {match[3] or ''}" if match and value else line)
    return "\n".join(lines)


def uncomment(form: str) -> str:
    """Take the # away from every line that holds a value."""
    body = form.split("\n\n", 1)[1]
    lines = [re.sub(r"^( *)# ?( *(?:- )?[a-z][a-z -]*: *[^ #])", r"\1\2", line) for line in body.splitlines()]
    return "\n".join(lines)


def read(text: str, vocabulary: Vocabulary) -> Case:
    return check_case(parse_document(text, "form.yaml"), vocabulary)


@pytest.mark.parametrize("is_full", [False, True])
def test_the_form_reads_as_a_case_once_its_blanks_are_filled(vocabulary: Vocabulary, is_full: bool) -> None:
    case = read(fill(blank_case(vocabulary, is_full=is_full)), vocabulary)
    assert case.case == "an invented case"
    assert case.tyre.designation == "26.5R25"
    assert case.injuries[0].name == "A"
    assert str(case.injuries[0].written("length")) == "48 mm"
    assert case.service.written("duty") == "loader v-cycle"
    assert case.earlier_repairs == "none"


def test_every_line_left_out_reads_too_when_its_mark_is_taken_away(vocabulary: Vocabulary) -> None:
    form = fill(blank_case(vocabulary, is_full=True)).replace("earlier repairs: none", "earlier repairs:")
    open_form = re.sub(r"^# (workshop|money|overrule):", r"\1:", uncomment(form), flags=re.MULTILINE)
    named = re.sub(r"^# ( +(?:by|why):)", r"\1 Ada Winter", open_form, flags=re.MULTILINE)
    case = read(named, vocabulary)
    assert case.found.written("crack class") == "C0"
    assert str(case.workshop.written("shop temperature")) == "20 °C"
    assert case.injuries[0].written("object") == "none"
    assert [(one.rule, one.by) for one in case.overrule] == [("sidewall/through_bias", "Ada Winter")]
    assert case.money is not None
    assert case.money.currency == "EUR"
    assert [repair.name for repair in case.earlier_repairs if not isinstance(repair, str)] == ["P1"]


def test_the_full_form_holds_every_fact_that_a_case_may_hold(vocabulary: Vocabulary) -> None:
    form = blank_case(vocabulary, is_full=True)
    missing = [
        fact.name
        for fact in vocabulary.given()
        if not re.search(rf"^[ #-]*{re.escape(fact.name)}:", form, re.MULTILINE)
    ]
    assert missing == []


def test_the_short_form_holds_the_first_lines_and_no_line_left_out(vocabulary: Vocabulary) -> None:
    body = blank_case(vocabulary).split("\n\n", 1)[1]
    fields = re.findall(r"^ +(?:- )?([a-z][a-z -]*):", body, re.MULTILINE)
    assert fields == [name for names in FIRST.values() for name in names]
    assert not re.search(r"^ *# [a-z][a-z -]*: ", body, re.MULTILINE)


def test_first_lines_come_before_those_left_out_in_every_section(vocabulary: Vocabulary) -> None:
    form = blank_case(vocabulary, is_full=True)
    for section, names in FIRST.items():
        if names:
            part = form.split(f"\n{section}:")[1].split("\n\n")[0]
            left_out = re.search(r"^ *# [a-z][a-z -]*: ", part, re.MULTILINE)
            assert left_out is not None
            assert max(part.index(f" {name}:") for name in names) < left_out.start()


@pytest.mark.parametrize("is_full", [False, True])
def test_the_form_as_printed_is_judged_and_asks_for_people_first(
    vocabulary: Vocabulary, is_full: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "loader_7.yaml"
    path.write_text(blank_case(vocabulary, is_full=is_full), encoding="utf-8")
    assert run(["triage", str(path), "--json"]) == 0
    docket = json.loads(capsys.readouterr().out)
    assert (docket["case"], docket["outcome"]) == ("loader_7", "stop")
    assert any("core" in stop for stop in docket["stops"])


@pytest.mark.parametrize("name", [name for name in FILLED if name != "name"])
def test_any_one_line_may_stay_open(vocabulary: Vocabulary, name: str) -> None:
    form = fill(blank_case(vocabulary))
    opened = re.sub(rf"^( *(?:- )?{name}:)(?: {re.escape(FILLED[name])})", r"\1", form, count=1, flags=re.MULTILINE)
    without = re.sub(rf"^ *{name}: {re.escape(FILLED[name])}.*$", "", form, count=1, flags=re.MULTILINE)
    assert opened != form != without
    assert read(opened, vocabulary) == read(without, vocabulary)


@pytest.mark.parametrize("is_full", [False, True])
def test_the_form_is_narrow_and_has_no_trailing_space(vocabulary: Vocabulary, is_full: bool) -> None:
    lines = blank_case(vocabulary, is_full=is_full).splitlines()
    assert max(len(line) for line in lines) <= 110
    assert [line for line in lines if line != line.rstrip()] == []


def test_the_form_gives_unit_choices_and_default(vocabulary: Vocabulary) -> None:
    form = blank_case(vocabulary, is_full=True)
    assert re.search(r"^  tread left: +# \[mm\] the least tread depth measured$", form, re.MULTILINE)
    assert re.search(r"^  # ambient: 30 °C +# \[°C\] highest air temperature where it works$", form, re.MULTILINE)
    assert "#   steel, nylon, polyester, rayon, aramid" in form


def test_the_facts_of_a_shops_own_book_stand_in_the_form(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["new", "--full", "--rulebook", str(root / "shop_books/fell_hollow")]) == 0
    assert "# photograph: missing" in capsys.readouterr().out
    assert run(["new", "--full"]) == 0
    assert "photograph" not in capsys.readouterr().out


@pytest.mark.parametrize("command", [["new"], ["schema", "case"]])
def test_a_folder_without_a_book_is_refused(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*command, "--rulebook", str(tmp_path / "nowhere")]) == 2
    assert "there is no such folder" in capsys.readouterr().err
    assert run([*command, "--rulebook", str(tmp_path)]) == 2
    assert "rulebook.yaml" in capsys.readouterr().err


def test_an_own_vocabulary_that_cannot_be_read_is_told_with_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tmp_path.joinpath("rulebook.yaml").write_text("rulebook: invented\n", encoding="utf-8")
    tmp_path.joinpath("vocabulary").mkdir()
    tmp_path.joinpath("vocabulary/own.yaml").write_text("facts:\n  photo: 3\n", encoding="utf-8")
    assert run(["new", "--rulebook", str(tmp_path)]) == 2
    told = capsys.readouterr().err
    assert told.startswith("error: ")
    assert "own.yaml:2" in " ".join(told.split())
