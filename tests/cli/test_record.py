import json
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.record import CureLog, open_record, verify

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


def test_an_overrule_is_kept_and_found(record: str, capsys: Captured) -> None:
    case = CUT.with_name("loader_overruled.yaml")
    assert run(["record", "add", str(case), "--by", "B", "--record", record]) == 0
    capsys.readouterr()
    assert run(["record", "list", "--overruled", "--record", record, "--json"]) == 0
    assert [one["sequence"] for one in json.loads(capsys.readouterr().out)] == [2]
    (reject,) = open_record(record).get(2).tree["docket"]["overruled"]
    assert run(["record", "show", "2", "--record", record]) == 0
    told = said(capsys)
    assert f"by {reject['by']}, {reject['on']}:" in told
    assert reject["why"][:20] in told
    assert run(["record", "replay", "--record", record]) == 0
    assert "2 come out the same" in said(capsys)


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


def test_a_photo_is_kept_and_written_out_again(record: str, tmp_path: Path, capsys: Captured) -> None:
    photo = tmp_path / "inside 12 o'clock.jpg"
    photo.write_bytes(b"\xff\xd8 invented \x00")
    assert (
        run(["record", "attach", "1", str(photo), str(CUT), "--by", "B", "--note", "inside", "--record", record]) == 0
    )
    assert run(["record", "show", "2", "--record", record]) == 0
    assert "inside 12 o'clock.jpg, 13 bytes" in said(capsys)
    out = tmp_path / "out.jpg"
    assert run(["record", "show", "2", "--record", record, "--file", str(out)]) == 0
    assert out.read_bytes() == photo.read_bytes()
    capsys.readouterr()
    assert run(["record", "show", "2", "--record", record, "--file", str(out)]) == 2
    assert "is there already" in said(capsys)
    assert run(["record", "show", "1", "--record", record, "--file", str(tmp_path / "no")]) == 2
    assert "entry 1 is a decision, which holds no file" in said(capsys)
    assert run(["record", "attach", "1", str(tmp_path / "missing.jpg"), "--by", "B", "--record", record]) == 2
    assert "there is no such file" in said(capsys)


def test_a_cure_log_is_kept_with_what_it_says(record: str, capsys: Captured) -> None:
    keep = ["record", "cure-log", "1", "examples/cure/through_60_mm.csv", "--by", "B", "--record", record]
    assert run([*keep, "--order", "examples/cure/through_60_mm.order"]) == 0
    capsys.readouterr()
    entry = open_record(record).get(2).entry
    assert isinstance(entry, CureLog)
    assert entry.state["may_release"] in (True, False)
    assert entry.order is not None
    assert run(["cure", "examples/cure/through_60_mm.order", "--log", "examples/cure/through_60_mm.csv", "--json"]) == 0
    assert entry.state == json.loads(capsys.readouterr().out)
    assert run(["record", "show", "2", "--record", record]) == 0
    assert "of t90 at" in said(capsys)
    assert run([*keep, "--injury", "Z"]) == 2
    assert "has no cure order for 'Z'" in said(capsys)
    assert run([*keep, "--order", "examples/cure/through_60_mm.order", "--injury", "Z"]) == 2
    assert "knows no injury 'Z'" in said(capsys)


def test_a_cure_log_follows_the_order_of_the_docket_by_itself(record: str, tmp_path: Path, capsys: Captured) -> None:
    log = tmp_path / "log.csv"
    rows = (f"{minute},{20 + 2 * minute},{20 + 2 * minute}" for minute in range(0, 60, 5))
    log.write_text("\n".join(["time [min],outside pad [°C],inside pad [°C]", *rows]), encoding="utf-8")
    for injury in ("", "A"):
        assert run(["record", "cure-log", "1", str(log), "--by", "B", "--record", record, "--injury", injury]) == 0
    states = [link.tree["state"] for link in open_record(record).links("cure log")]
    assert states[0] == states[1]
    assert states[0]["case"] == "repair A"
    log.write_text("a,b\n1,2\n", encoding="utf-8")
    assert run(["record", "cure-log", "1", str(log), "--by", "B", "--record", record]) == 2
    assert str(log.name) in said(capsys)
