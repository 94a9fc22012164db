import json
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.record import open_record, verify

CUT = Path(__file__).resolve().parents[2] / "examples/quarry/loader_sidewall_cut.yaml"
Captured = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A record with one decision, which tests copy."""
    file = tmp_path_factory.mktemp("kept") / "record.sqlite"
    assert run(["record", "add", str(CUT), "--by", "Invented Inspector", "--record", str(file)]) == 0
    return file.read_bytes()


@pytest.fixture
def record(kept: bytes, tmp_path: Path) -> str:
    file = tmp_path / "record.sqlite"
    file.write_bytes(kept)
    return str(file)


def said(captured: Captured) -> str:
    told = captured.readouterr()
    return " ".join((told.out + told.err).split())


def test_a_decision_is_kept_with_its_case_as_written(record: str, capsys: Captured) -> None:
    assert run(["record", "show", "1", "--record", record, "--json"]) == 0
    entry = json.loads(capsys.readouterr().out)
    assert entry["by"] == "Invented Inspector"
    assert entry["case_file"] == {"name": CUT.name, "text": CUT.read_text(encoding="utf-8")}
    assert entry["docket"]["outcome"] == "repair"
    assert {"digest", "edition", "owner"} <= entry["docket"]["rulebook"].keys()


def test_a_docket_that_was_kept_is_the_one_that_was_given(record: str, tmp_path: Path, capsys: Captured) -> None:
    assert run(["triage", str(CUT), "--json", "--record", record, "--by", "B"]) == 0
    printed, aside = capsys.readouterr()
    assert aside.startswith(f"Kept as entry 2 of {record}: ")
    assert run(["record", "show", "2", "--record", record, "--docket"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(printed)
    docket = tmp_path / "docket.json"
    docket.write_text(printed, encoding="utf-8")
    assert run(["record", "add", str(docket), "--by", "C", "--record", record]) == 0
    assert [line.tag for line in open_record(record).lines()] == ["FH-117"] * 3
    assert run(["record", "add", str(docket), "--by", "C", "--record", record, "--law", "us"]) == 2
    assert "this docket was judged already" in said(capsys)


def test_before_and_after_the_skive_hang_together(record: str, capsys: Captured) -> None:
    assert run(["record", "add", str(CUT), "--by", "B", "--record", record, "--after-skive-of", "1"]) == 0
    capsys.readouterr()
    assert run(["record", "show", "2", "--record", record]) == 0
    assert "after skive; entry 1 was before it" in said(capsys)
    assert run(["record", "add", str(CUT), "--by", "B", "--record", record, "--after-skive-of", "7"]) == 2
    assert "there is no entry 7" in said(capsys)


def test_a_follow_up_is_kept_and_put_right(record: str, capsys: Captured) -> None:
    follow = ["record", "follow-up", "1", "--by", "C", "--record", record]
    assert run([*follow, "--ran", "412 h", "--state", "in-service", "--on", "2027-01-05"]) == 0
    assert run([*follow, "--ran", "421 h", "--state", "in-service", "--on", "2027-01-05", "--corrects", "2"]) == 0
    assert run([*follow, "--ran", "12500 km", "--state", "removed", "--cause", "worn out", "--injury", "A"]) == 0
    assert run(["record", "withdraw", "4", "--because", "the wrong tyre", "--by", "C", "--record", record]) == 0
    capsys.readouterr()
    assert run(["record", "list", "--record", record, "--tag", "FH-117", "--json"]) == 0
    lines = json.loads(capsys.readouterr().out)
    assert [(one["kind"], one["corrected_by"]) for one in lines] == [
        ("decision", None), ("follow-up", 3), ("follow-up", None), ("follow-up", 5),
    ]  # fmt: skip
    assert run(["record", "list", "--record", record]) == 0
    assert "counts: see 3" in said(capsys)


@pytest.mark.parametrize(
    ("more", "fault"),
    [
        (["--ran", "soon", "--state", "in-service"], "--ran 'soon' is no running time or distance"),
        (["--ran", "40 to 60 h", "--state", "in-service"], "is no running time or distance"),
        (["--ran", "40 h", "--state", "failed"], "a cause is said of what failed or was removed"),
        (["--ran", "40 h", "--state", "failed", "--cause", "x", "--injury", "Z"], "knows no injury 'Z'"),
        (["--ran", "40 h", "--state", "lost"], "'lost' is not one of"),
    ],
)
def test_a_follow_up_that_cannot_be_is_one_error(record: str, more: list[str], fault: str, capsys: Captured) -> None:
    assert run(["record", "follow-up", "1", "--by", "C", "--record", record, *more]) == 2
    told = said(capsys)
    assert fault in told
    assert told.count("error: ") == 1
    assert verify(open_record(record)).entries == 1


def test_the_chain_is_walked_and_its_head_told(record: str, capsys: Captured) -> None:
    assert run(["record", "verify", "--record", record]) == 0
    told = said(capsys)
    assert "Every entry is as it was kept." in told
    assert "A chain alone cannot show that entries are missing at its end" in told
    head = str(open_record(record).head())
    assert head in told
    assert run(["record", "verify", "--record", record, "--head", head]) == 0
    assert "up to entry 1 nothing is missing or changed" in said(capsys)
    assert run(["record", "verify", "--record", record, "--head", f"2{head[1:]}"]) == 1
    assert "BROKEN at entry 2: the record ends before it" in said(capsys)
    assert run(["record", "verify", "--record", record, "--head", "12"]) == 2
    assert "'12' is no head" in said(capsys)


def test_a_record_may_be_named_by_the_environment(
    record: str, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.setenv("MENDBOOK_RECORD", record)
    assert run(["record", "migrate"]) == 0
    assert "already" in said(capsys)


@pytest.mark.parametrize(
    "arguments",
    [["list"], ["show", "1"], ["verify"], ["migrate"], ["withdraw", "1", "--because", "x", "--by", "C"]],
)
def test_nothing_but_adding_begins_a_record(arguments: list[str], tmp_path: Path, capsys: Captured) -> None:
    missing = tmp_path / "missing.sqlite"
    assert run(["record", *arguments, "--record", str(missing)]) == 2
    assert "there is no such record" in said(capsys)
    assert not missing.exists()


def test_a_decision_needs_a_name(record: str, capsys: Captured) -> None:
    assert run(["triage", str(CUT), "--record", record]) == 2
    assert "--record FILE_OR_URL --by NAME" in said(capsys)
    assert run(["triage", str(CUT), "--record", record, "--by", "  "]) == 2
    assert "it is blank" in said(capsys)
    assert (
        run(["record", "add", str(CUT), "--by", "B", "--record", record, "--before-skive", "--after-skive-of", "1"])
        == 2
    )
    assert "Leave one of the two out" in said(capsys)
