"""The guided inspection as a person meets it, in a terminal of two common sizes."""

import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
import yaml

from mendbook.cli.case_writing import case_text
from mendbook.inspection import full_form
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge
from tests.cli.terminal import Terminal
from tests.inspection.replay import read_tree, replay, reply

# The child process does nothing but run the command, so a thread of ours cannot hold a lock that it needs.
pytestmark = pytest.mark.filterwarnings("ignore:This process.*is multi-threaded:DeprecationWarning")

SIZES = [(80, 24), (60, 20)]
START = """\
case: invented
judged on: 2026-11-25
tyre: {designation: 26.5R25, date code: 3123, casing: steel}
found: {valve core: out, heat event: none}
service: {use: off-road, duty: loader v-cycle, position: not steered}
"""
Opener = Callable[..., Terminal]


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Opener]:
    opened: list[Terminal] = []

    def open_one(*arguments: str, columns: int = 80, lines: int = 24) -> Terminal:
        opened.append(Terminal(*arguments, columns=columns, lines=lines, folder=tmp_path))
        return opened[-1]

    yield open_one
    for one in opened:
        one.child.close(force=True)


@pytest.fixture
def start(tmp_path: Path) -> str:
    (tmp_path / "start.yaml").write_text(START, encoding="utf-8")
    return "start.yaml"


def told(folder: Path, name: str) -> dict[str, object]:
    written: dict[str, object] = yaml.safe_load((folder / name).read_text(encoding="utf-8"))
    return written


@pytest.mark.parametrize(
    ("name", "columns", "lines", "answer"),
    [
        ("loader_sidewall_cut", *SIZES[0], "REPAIR Section repair."),
        pytest.param("grader_scuff", *SIZES[1], "SERVE Back to service", marks=pytest.mark.long),
    ],
)
def test_a_whole_inspection_fits_the_screen_question_by_question(
    name: str, columns: int, lines: int, answer: str, terminal: Opener, tmp_path: Path, root: Path, shop: Shop
) -> None:
    tree = read_tree(root / f"examples/quarry/{name}.yaml")
    _, asked = replay(tree, shop)
    (tmp_path / "start.yaml").write_text(
        case_text({"case": tree["case"], "judged on": tree["judged on"]}), encoding="utf-8"
    )
    at = terminal("inspect", "start.yaml", "--out", "case.yaml", columns=columns, lines=lines)
    for number, question in enumerate(asked, 1):
        assert at.is_waiting
        heads = [line for line in at.screen if re.match(rf"{number}\. ", line)]
        assert len(heads) == 1, f"question {number} is not whole on the screen"
        at.say(reply(question, tree))
    assert at.status == 0
    brackets = re.findall(r"So far: ([^.]+)\.", at.text)
    assert len(set(brackets)) >= 3
    assert brackets[0].startswith("between ")
    assert not brackets[-1].startswith("between ")
    assert f"{len(asked)} questions asked; the full form has {full_form(shop.book.vocabulary, 1)}." in at.text
    assert answer in at.text
    whole = judge(read_case(tmp_path / "case.yaml", shop.book.vocabulary), shop)
    assert whole.outcome.upper() == answer.split()[0]


@pytest.mark.parametrize(("columns", "lines"), SIZES[1:])
def test_not_knowing_a_slip_a_why_and_a_way_back(columns: int, lines: int, terminal: Opener, tmp_path: Path) -> None:
    at = terminal("inspect", "--out", "case.yaml", columns=columns, lines=lines)
    at.say("non")
    assert "Did you mean 'none'?" in at.text
    assert at.is_waiting
    at.say("why")
    assert "People first: nothing else is asked until this is clear. Rules that look at it ask: " in at.text
    at.say("back")
    assert "There is no answer to take back." in at.text
    at.say("suspected")
    assert any(line.startswith("2. hours since heat") for line in at.screen)
    at.say("back")
    assert any(line.startswith("1. heat event") for line in at.screen)
    at.say("none")
    at.say("?")
    at.say("don't know")
    assert at.status == 0
    assert "STOP People first." in at.text
    assert told(tmp_path, "case.yaml")["found"] == {"heat event": "none", "valve core": "unknown"}


def test_an_interrupt_keeps_what_was_answered_in_a_file_of_its_own(terminal: Opener, tmp_path: Path) -> None:
    (tmp_path / "inspection-so-far.yaml").write_text("of yesterday", encoding="utf-8")
    at = terminal("inspect", columns=60, lines=20)
    at.say("none")
    at.say("out")
    at.interrupt()
    assert at.status == 130
    name = "inspection-so-far-2.yaml"
    assert f"What was answered so far is kept in {name}. Go on with: mendbook inspect {name}" in at.text
    assert told(tmp_path, name)["found"] == {"heat event": "none", "valve core": "out"}
    assert (tmp_path / "inspection-so-far.yaml").read_text(encoding="utf-8") == "of yesterday"
    at = terminal("inspect", name)
    assert any(line.startswith("1. safety at the tyre") for line in at.screen)
    at.interrupt()
    assert "Nothing was answered, so nothing is kept." in at.text


def test_an_interrupt_writes_where_it_was_asked_to(terminal: Opener, tmp_path: Path) -> None:
    at = terminal("inspect", "--out", "case.yaml")
    at.say("none")
    at.interrupt()
    assert at.status == 130
    assert "What was answered so far is kept in case.yaml." in at.text
    assert told(tmp_path, "case.yaml")["found"] == {"heat event": "none"}
    assert [file.name for file in tmp_path.iterdir()] == ["case.yaml"]


def test_the_end_of_input_keeps_what_was_answered_as_well(terminal: Opener, tmp_path: Path) -> None:
    at = terminal("inspect")
    at.say("none")
    at.end_input()
    assert at.status == 0
    assert "What was answered so far is kept in inspection-so-far.yaml." in at.text
    assert told(tmp_path, "inspection-so-far.yaml")["found"] == {"heat event": "none"}


def test_a_terminal_that_is_closed_loses_nothing(terminal: Opener, tmp_path: Path) -> None:
    at = terminal("inspect")
    at.say("none")
    at.hang_up()
    assert told(tmp_path, "inspection-so-far.yaml")["found"] == {"heat event": "none"}


def test_earlier_repairs_are_asked_for_one_by_one(terminal: Opener, tmp_path: Path, start: str) -> None:
    at = terminal("inspect", start, "--out", "case.yaml")
    usual = partial(at.say, "none")
    for _ in range(6):
        usual()
    for answer in ("A", "cut", "through", "330 mm from bead", "none"):
        at.say(answer)
    given = {
        "earlier repairs, inside": "section, spot", "P1: state": "sound", "P1: where": "300 mm from bead",
        "P1: side": "serial side", "P1: clock": "90 deg", "P1: length": "180 mm", "P1: width": "200 mm",
        "P2: state": "unknown",
    }  # fmt: skip
    for _ in range(40):
        if not at.is_waiting or not given:
            break
        head = next(line for line in reversed(at.screen) if re.match(r"\d+\. ", line))
        found = next((key for key in given if f" {key}" in head), None)
        at.say(given.pop(found) if found else "unknown")
    assert given == {}
    at.say("stop")
    assert told(tmp_path, "case.yaml")["earlier repairs"] == [
        {
            "name": "P1", "class": "section", "state": "sound", "distance from bead": "300 mm", "side": "serial side",
            "clock": "90 deg", "length": "180 mm", "width": "200 mm",
        },
        {"name": "P2", "class": "spot", "state": "unknown"},
    ]  # fmt: skip
