import io
from pathlib import Path

import pytest
import yaml

from mendbook.cli.case_writing import case_text
from mendbook.cli.entry import run
from mendbook.inspection import outcome
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge
from tests.inspection.replay import read_tree, replay, reply

SHORT = ("none", "in")  # no heat, but the core is in: a stop
START = """\
case: invented
judged on: 2026-11-25
tyre: {designation: 26.5R25, date code: 3123, casing: steel}
found: {valve core: out, heat event: none}
service: {use: off-road, duty: loader v-cycle, position: not steered}
"""


def pipe(monkeypatch: pytest.MonkeyPatch, *lines: str) -> None:
    text = "".join(f"{line}\n" for line in lines)
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8"))


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "case.yaml"


def test_a_piped_session_asks_tells_and_writes(
    out: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe(monkeypatch, "none", "nonsense", "?", "in")
    assert run(["inspect", "--out", str(out)]) == 0
    captured = capsys.readouterr()
    said = " ".join(captured.out.split())
    assert captured.err == ""
    assert "'nonsense' is not known here. Write one of: out, in" in said
    assert said.count("push a wire through the valve") >= 2  # once with the question, once for the '?'
    assert "So far: stop, people first." in said
    assert "STOP People first." in said
    assert "2 questions asked; the full form has 110." in said
    assert yaml.safe_load(out.read_text(encoding="utf-8"))["found"] == {"heat event": "none", "valve core": "in"}


def test_the_written_case_judges_to_the_same_docket(
    root: Path, out: Path, shop: Shop, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    tree = read_tree(root / "examples" / "quarry" / "grader_scuff.yaml")
    state, asked = replay(tree, shop)
    start = out.with_name("start.yaml")
    start.write_text(case_text({"case": tree["case"], "judged on": tree["judged on"]}), encoding="utf-8")
    pipe(monkeypatch, *(reply(question, tree) for question in asked))
    assert run(["inspect", str(start), "--out", str(out)]) == 0
    assert f"{len(asked)} questions asked" in capsys.readouterr().out
    written = judge(read_case(out, shop.book.vocabulary), shop)
    assert outcome(state, shop).model_copy(update={"judged": written.judged}) == written
    assert written.outcome == "serve"


def test_the_bracket_narrows_in_a_line_after_each_answer(
    out: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    start = out.with_name("start.yaml")
    start.write_text(START, encoding="utf-8")
    pipe(monkeypatch, *["none"] * 6, "A", "abrasion", "rubber", "330 mm from bead", "none", "9 mm", "none")
    assert run(["inspect", str(start)]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if "So far: " in line and line.startswith("   ")]
    assert len(lines) >= 3
    assert len(set(lines)) == len(lines)


def test_back_takes_one_answer_back(
    out: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe(monkeypatch, "back", "none", "back", "suspected", "6 h")
    assert run(["inspect", "--out", str(out)]) == 0
    assert "There is no answer to take back." in capsys.readouterr().out
    assert yaml.safe_load(out.read_text(encoding="utf-8"))["found"] == {
        "heat event": "suspected",
        "hours since heat": "6 h",
    }


@pytest.mark.parametrize("lines", [("none", "stop", "out"), ("none",)])
def test_stop_and_the_end_of_input_end_it_and_keep_what_was_said(
    lines: tuple[str, ...], out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe(monkeypatch, *lines)
    assert run(["inspect", "--out", str(out)]) == 0
    assert yaml.safe_load(out.read_text(encoding="utf-8"))["found"] == {"heat event": "none"}


def test_too_little_known_to_judge_is_told_and_the_case_kept(
    out: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe(monkeypatch, "none", "out", "none", *["unknown"] * 8, *["none"] * 5, "2", *["unknown"] * 40)
    assert run(["inspect", "--out", str(out)]) == 0
    assert "Too little is known to judge" in capsys.readouterr().out
    assert len(yaml.safe_load(out.read_text(encoding="utf-8"))["injuries"]) == 2


def test_without_a_file_the_case_is_printed(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe(monkeypatch, *SHORT)
    assert run(["inspect"]) == 0
    printed = capsys.readouterr().out
    assert yaml.safe_load(printed[printed.index("case: ") :])["found"]["valve core"] == "in"


def test_a_file_that_is_there_is_replaced_only_by_force(
    out: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    out.write_text("old", encoding="utf-8")
    assert run(["inspect", "--out", str(out)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "add --force" in captured.err
    assert out.read_text(encoding="utf-8") == "old"
    pipe(monkeypatch, *SHORT)
    assert run(["inspect", "--out", str(out), "--force"]) == 0
    assert "valve core: in" in out.read_text(encoding="utf-8")
    assert [path.name for path in out.parent.iterdir()] == [out.name]


@pytest.mark.parametrize(
    ("start", "fault"),
    [
        ("casing: steel", "no field is called 'casing' here"),
        ("tyre: {casing: steal}", "Did you mean 'steel'?"),
        ("tyre: [steel", "is opened and never closed"),
    ],
)
def test_a_bad_start_is_one_clear_error(start: str, fault: str, out: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = out.with_name("start.yaml")
    file.write_text(start, encoding="utf-8")
    assert run(["inspect", str(file), "--out", str(out)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("error: ")
    assert captured.err.count("error: ") == 1
    assert fault in " ".join(captured.err.split())
    assert not out.exists()


@pytest.mark.parametrize("words", [["-"], ["nowhere.yaml"], ["--out", "nowhere/case.yaml"], ["--rulebook", "nowhere"]])
def test_what_cannot_be_used_is_refused_before_a_question(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["inspect", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("error: ")


def test_an_interrupt_leaves_no_trace(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Interrupted(io.BytesIO):
        def readline(self, *_: object) -> bytes:
            raise KeyboardInterrupt

    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(Interrupted(), encoding="utf-8"))
    assert run(["inspect", "--out", str(out)]) == 130
    assert not out.exists()


def test_bytes_that_are_no_text_are_asked_again(
    out: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"\xff\x00\nnone\nin\n"), encoding="utf-8"))
    assert run(["inspect", "--out", str(out)]) == 0
    assert "no answer that can be read" in " ".join(capsys.readouterr().out.split())
