"""A record that is carried is the same: texts, hashes, files. What does not continue it stays out."""

import hashlib
import json
import random
from pathlib import Path

import polars as pl
import pytest
from sqlalchemy import text

from mendbook.cli.entry import run
from mendbook.record import Attachment, Record, open_record, verify
from mendbook.record.files import describe_file
from mendbook.record.places import Place
from tests.record.made import WHEN, decision, docket, follow_up

KINDS = ("jsonl", "parquet")
PHOTO = bytes(range(256))
Captured = pytest.CaptureFixture[str]


def fill(record: Record) -> None:
    odd = docket("FH-1") | {"written": {"note": '"\n\u2028 12.00 \u0000', "ratings": [250.0, 1e-05, 1e22, 0.1, 3]}}
    record.add(decision().model_copy(update={"docket": odd}))
    photo = Attachment(by="a", recorded=WHEN, about=1, file=describe_file("photo.jpg", PHOTO))
    record.add(photo, PHOTO)
    record.add(photo)
    record.add_all([decision("FH-2"), follow_up(4, 100), follow_up(4, 101, corrects=5)])


@pytest.fixture
def kept(record: Record) -> Record:
    fill(record)
    return record


def everything(record: Record) -> list[tuple[str, ...]]:
    return [(link.previous, link.hash, link.text) for link in record.links()]


def export(where: str, file: Path, *more: str) -> Path:
    assert run(["record", "export", str(file), "--record", where, *more]) == 0
    return file


@pytest.mark.parametrize("kind", KINDS)
def test_a_round_trip_gives_the_same_chain(kept: Record, where: str, kind: str, tmp_path: Path) -> None:
    file = export(where, tmp_path / f"out.{kind}")
    there = str(tmp_path / "there.sqlite")
    assert run(["record", "import", str(file), "--record", there]) == 0
    again = open_record(there)
    assert everything(again) == everything(kept)
    assert verify(again, kept.head()).broken is None
    assert [line.corrected_by for line in again.lines()] == [line.corrected_by for line in kept.lines()]
    photo = again.get(3).entry
    assert isinstance(photo, Attachment)
    assert again.content(photo.file) == PHOTO
    assert export(there, tmp_path / f"again.{kind}").read_bytes() == file.read_bytes()


def test_from_a_file_to_a_server_and_back(schema: str, tmp_path: Path) -> None:
    here = str(tmp_path / "here.sqlite")
    fill(open_record(here, is_new_allowed=True))
    assert run(["record", "import", str(export(here, tmp_path / "out.jsonl")), "--record", schema]) == 0
    assert verify(open_record(schema), open_record(here).head()).entries == 6
    assert run(["record", "export", str(tmp_path / "back.jsonl"), "--record", schema]) == 0
    assert (tmp_path / "back.jsonl").read_bytes() == (tmp_path / "out.jsonl").read_bytes()


@pytest.fixture
def here(tmp_path: Path) -> str:
    where = str(tmp_path / "here.sqlite")
    fill(open_record(where, is_new_allowed=True))
    return where


@pytest.mark.parametrize("kind", KINDS)
def test_a_copy_is_brought_up_to_date(here: str, kind: str, tmp_path: Path, capsys: Captured) -> None:
    copy = str(tmp_path / "copy.sqlite")
    run(["record", "import", str(export(here, tmp_path / f"first.{kind}")), "--record", copy])
    open_record(here).add_all([decision("FH-3"), follow_up(7, 4)])
    run(["record", "import", str(export(here, tmp_path / f"all.{kind}")), "--record", copy])
    assert "2 entries added, 6 were there already" in capsys.readouterr().out
    open_record(here).add(follow_up(7, 40))
    run(["record", "import", str(export(here, tmp_path / f"new.{kind}", "--after", "7")), "--record", copy])
    assert "1 entries added, 1 were there already" in capsys.readouterr().out
    assert everything(open_record(copy)) == everything(open_record(here))


@pytest.mark.parametrize("kind", KINDS)
def test_another_record_and_a_gap_stay_out(here: str, kind: str, tmp_path: Path, capsys: Captured) -> None:
    other = str(tmp_path / "other.sqlite")
    open_record(other, is_new_allowed=True).add(decision("FH-8"))
    assert run(["record", "import", str(export(here, tmp_path / f"out.{kind}")), "--record", other]) == 2
    assert "entry 1 is another than the one here. These are two records" in " ".join(capsys.readouterr().err.split())
    late = export(here, tmp_path / f"late.{kind}", "--after", "4")
    assert run(["record", "import", str(late), "--record", other]) == 2
    assert "it goes on from entry 4, which is not that of this record" in " ".join(capsys.readouterr().err.split())
    assert open_record(other).head().sequence == 1


def _lines(file: Path) -> list[str]:
    """Return the lines; a text may hold other marks at which Python would split."""
    return file.read_text(encoding="utf-8").rstrip("\n").split("\n")


def damaged(lines: list[str], how: str) -> list[str]:
    first, entries = json.loads(lines[0]), [json.loads(line) for line in lines[1:]]
    match how:
        case "a figure":
            entries[3]["entry"]["docket"]["case"] = "another"
        case "a whole float":
            entries[0]["entry"]["docket"]["written"]["ratings"][0] = 250
        case "no end":
            entries.pop()
        case "a gap":
            del entries[2]
        case "swapped":
            entries[3], entries[4] = entries[4], entries[3]
        case "another photo":
            entries[1]["content"] = "AAAA"
        case "no photo":
            del entries[1]["content"]
        case "a newer form":
            first["form"] = 99
        case "no entry":
            del entries[1]["entry"]
        case "another file":
            first = {"case": "x"}
    return [json.dumps(first), *map(json.dumps, entries)]


@pytest.mark.parametrize(
    ("how", "fault"),
    [
        ("a figure", "entry 4 is not what was kept: its hash is another"),
        ("a whole float", "entry 1 is not what was kept: its hash is another"),
        ("no end", "it should end with entry 6, not 5"),
        ("a gap", "entry 4 does not follow entry 2"),
        ("swapped", "entry 5 does not follow entry 3"),
        ("another photo", "entry 2: the file with it is not the one that it names"),
        ("no photo", "entry 2: photo.jpg: the file itself is not given"),
        ("a newer form", "it has form 99"),
        ("no entry", "line 3: this is no entry of a record"),
        ("another file", "line 1: this is no record"),
    ],
)
def test_what_is_damaged_on_the_way_is_told_and_nothing_of_it_kept(
    here: str, how: str, fault: str, tmp_path: Path, capsys: Captured
) -> None:
    file = export(here, tmp_path / "out.jsonl")
    file.write_text("\n".join(damaged(_lines(file), how)), encoding="utf-8")
    there = str(tmp_path / "there.sqlite")
    assert run(["record", "import", str(file), "--record", there]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert fault in said
    assert said.startswith(f"error: {file}: ")
    assert open_record(there).head().sequence == 0


@pytest.mark.parametrize("kind", KINDS)
def test_a_flipped_bit_is_told_or_changes_nothing(here: str, kind: str, tmp_path: Path, capsys: Captured) -> None:
    data = export(here, tmp_path / f"out.{kind}").read_bytes()
    drawn = random.Random(kind)
    for number in range(8):
        flipped = bytearray(data)
        flipped[drawn.randrange(len(data))] ^= 1 << drawn.randrange(8)
        file = tmp_path / f"flipped.{kind}"
        file.write_bytes(flipped[: drawn.choice([None, len(data) // 2])])
        there = str(tmp_path / f"there_{number}.sqlite")
        if run(["record", "import", str(file), "--record", there]) == 0:
            assert everything(open_record(there)) == everything(open_record(here))
        else:
            assert capsys.readouterr().err.count("error: ") == 1
            assert open_record(there).head().sequence == 0


def test_lines_written_otherwise_are_the_same_entries(here: str, tmp_path: Path) -> None:
    """Keys in another order, blanks and escapes are no part of what is kept."""
    file = export(here, tmp_path / "out.jsonl")
    lines = [json.loads(line) for line in _lines(file)]
    file.write_text("\n".join(json.dumps(dict(reversed(line.items()))) for line in lines), encoding="utf-8")
    there = str(tmp_path / "there.sqlite")
    assert run(["record", "import", str(file), "--record", there]) == 0
    assert everything(open_record(there)) == everything(open_record(here))


def test_a_hash_can_be_worked_out_from_a_line(here: str, tmp_path: Path) -> None:
    line = export(here, tmp_path / "out.jsonl").read_bytes().split(b"\n")[4]
    written = line.partition(b',"entry":')[2][:-1]
    told = json.loads(line)
    said = f"mendbook entry {told['sequence']}\n{told['previous']}\n".encode() + written
    assert hashlib.sha256(said).hexdigest() == told["hash"]


def test_parquet_can_be_read_by_anybody(here: str, tmp_path: Path) -> None:
    frame = pl.read_parquet(export(here, tmp_path / "out.parquet"))
    assert frame["tag"].to_list() == ["FH-1", "", "", "FH-2", "", ""]
    assert frame["kind"].to_list()[-1] == "follow-up"
    assert json.loads(frame["text"][3])["docket"]["tyre"]["tag"] == "FH-2"


@pytest.mark.parametrize("kind", KINDS)
def test_a_broken_record_is_not_carried(here: str, kind: str, tmp_path: Path, capsys: Captured) -> None:
    with Place(here).writing() as connection:
        connection.execute(text("DROP TRIGGER record_entries_no_update"))
        connection.execute(text("UPDATE record_entries SET text = replace(text, 'FH-2', 'FH-3') WHERE sequence = 4"))
    file = tmp_path / f"out.{kind}"
    assert run(["record", "export", str(file), "--record", here]) == 2
    assert "entry 4 is not as it was kept. See 'mendbook record verify'" in " ".join(capsys.readouterr().err.split())
    assert [one.name for one in tmp_path.iterdir()] == ["here.sqlite"]


@pytest.mark.parametrize(
    ("name", "content", "fault"),
    [
        ("out.csv", b"", "a record is carried as JSON lines or Parquet"),
        ("out.jsonl", None, "there is no such file"),
        ("out.jsonl", b"", "line 1: this is no JSON map"),
        ("out.jsonl", b"\xff\n", "line 1: this is no JSON map"),
        ("out.parquet", b"PAR1 not", "this is no Parquet file, or it is damaged"),
    ],
)
def test_what_is_no_carried_record_is_one_error(
    name: str, content: bytes | None, fault: str, tmp_path: Path, capsys: Captured
) -> None:
    file = tmp_path / name
    if content is not None:
        file.write_bytes(content)
    assert run(["record", "import", str(file), "--record", str(tmp_path / "there.sqlite")]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert fault in told
    assert told.count("error: ") == 1


def test_another_parquet_file_is_no_record(tmp_path: Path, capsys: Captured) -> None:
    file = tmp_path / "yard.parquet"
    pl.DataFrame({"tag": ["FH-1"]}).write_parquet(file)
    assert run(["record", "import", str(file), "--record", str(tmp_path / "there.sqlite")]) == 2
    assert "this Parquet file is no record" in capsys.readouterr().err


def test_an_export_that_cannot_be_written_is_told(here: str, tmp_path: Path, capsys: Captured) -> None:
    assert run(["record", "export", str(tmp_path / "nowhere/out.jsonl"), "--record", here]) == 2
    assert "there is no folder" in capsys.readouterr().err
    for kind in KINDS:
        assert run(["record", "export", f"/proc/out.{kind}", "--record", here]) == 2
        told = " ".join(capsys.readouterr().err.split())
        assert f"/proc/out.{kind}: it cannot be written" in told
        assert told.count("error: ") == 1


def test_an_export_does_not_replace_a_file_unasked(here: str, tmp_path: Path, capsys: Captured) -> None:
    file = export(here, tmp_path / "out.jsonl")
    assert run(["record", "export", str(file), "--record", here]) == 2
    assert "is there already" in capsys.readouterr().err
    assert run(["record", "export", str(file), "--record", here, "--force"]) == 0
    assert run(["record", "export", str(file), "--record", here, "--force", "--after", "70"]) == 2
    assert "there is no entry 70" in " ".join(capsys.readouterr().err.split())
