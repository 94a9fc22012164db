"""Many writers, killed writers, full disks, missing rights, a server that goes away: whole or absent, and told."""

import contextlib
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from mendbook.record import Decision, Record, RecordError, open_record, places, verify
from mendbook.record.places import Place
from tests.record.made import decision
from tests.record.processes import begin, fill, stop_half_way, write_for_ever, write_some, write_until_full
from tests.record.servers import Server, owner

WRITERS, BATCHES, SIZE = 10, 2, 3


def batches_in(record: Record) -> Counter[str]:
    return Counter(line.tag for line in record.lines())


def wait_for(sign: Path, seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while not sign.exists():
        assert time.monotonic() < end, "the other process never came so far"
        time.sleep(0.01)


def test_ten_writers_at_once_lose_nothing(where: str) -> None:
    """All of them find no record yet: one begins it, and all write to it."""
    writers = [begin(write_some, where, f"w{number}", BATCHES, SIZE) for number in range(WRITERS)]
    for writer in writers:
        writer.join(120)
        assert writer.exitcode == 0
    record = open_record(where)
    found = verify(record)
    assert (found.broken, found.entries) == (None, WRITERS * BATCHES * SIZE)
    assert batches_in(record) == {f"w{n}/{b}": SIZE for n in range(WRITERS) for b in range(BATCHES)}
    tags = [line.tag for line in record.lines()]
    assert all(len(set(tags[start : start + SIZE])) == 1 for start in range(0, len(tags), SIZE)), "a batch was split"


def test_a_writer_killed_half_way_leaves_nothing_and_holds_up_nobody(
    record: Record, where: str, tmp_path: Path
) -> None:
    record.add(decision("before"))
    sign = tmp_path / "sign"
    writer = begin(stop_half_way, where, 450, sign)
    wait_for(sign)
    assert verify(record).entries == 1
    assert writer.pid is not None
    os.kill(writer.pid, signal.SIGKILL)
    writer.join()
    record.add(decision("after"))
    assert batches_in(record) == {"before": 1, "after": 1}
    assert verify(record).broken is None


@pytest.mark.long
def test_a_writer_killed_at_any_moment_leaves_whole_batches(record: Record, where: str) -> None:
    for moment in (0.0, 0.003, 0.007, 0.013, 0.031, 0.1):
        writer = begin(write_for_ever, where, SIZE)
        before, end = record.head().sequence, time.monotonic() + 60
        while record.head().sequence == before:
            assert time.monotonic() < end
        time.sleep(moment)
        assert writer.pid is not None
        os.kill(writer.pid, signal.SIGKILL)
        writer.join()
        found = verify(record)
        assert found.broken is None
        assert found.entries > before
        assert found.entries % SIZE == 0


def test_a_writer_who_waits_too_long_is_told(record: Record, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(places, "PATIENCE", 0.05)
    with record.at_end() as tail:
        tail.keep(decision("first"))
        with pytest.raises(RecordError, match="others have been writing for too long"):
            record.add(decision("second"))
    assert batches_in(record) == {"first": 1}


def test_a_full_disk_is_told_and_costs_nothing(tmp_path: Path) -> None:
    where, told = str(tmp_path / "record.sqlite"), tmp_path / "told"
    record = open_record(where, is_new_allowed=True)
    writer = begin(write_until_full, where, 3_000_000, told)
    writer.join(60)
    kept, _, said = told.read_text(encoding="utf-8").partition("\n")
    assert f"{where}: the disk" in said
    assert "Nothing of this was kept" in said
    found = verify(record)
    assert (found.broken, found.entries) == (None, int(kept))
    assert found.entries > 5
    record.add(decision("there is room again"))
    assert verify(record).entries == int(kept) + 1


@pytest.fixture
def small_disk(server: Server) -> Iterator[Path]:
    """A disk of 24 MB that the server may write to."""
    if os.geteuid() != 0 or server.folder is None:  # a full disk is made by mounting a small one under the server
        pytest.skip("only root can make a small disk, and only our own server can use it")
    disk = Path(tempfile.mkdtemp(prefix="small-"))
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=24m", "none", disk], check=False, capture_output=True)
    if made.returncode != 0:
        disk.rmdir()
        pytest.skip(f"this machine lets nobody make a small disk: {made.stderr.decode().strip()}")
    try:
        shutil.chown(disk, owner())
        yield disk
    finally:
        subprocess.run(["umount", disk], check=True)
        disk.rmdir()


def test_a_full_disk_of_a_server_is_told_and_costs_nothing(server: Server, schema: str, small_disk: Path) -> None:
    place = Place(server.url)
    outside = place.engine.execution_options(isolation_level="AUTOCOMMIT")
    with outside.connect() as connection:
        connection.execute(text(f"CREATE TABLESPACE small LOCATION '{small_disk}'"))
    try:
        record = open_record(f"{schema}%20-cdefault_tablespace%3Dsmall", is_new_allowed=True)
        kept, _, said = fill(record).partition("\n")
        assert "the disk is full. Nothing of this was kept" in said
        found = verify(record)
        assert (found.broken, found.entries) == (None, int(kept))
        assert found.entries > 5
    finally:
        with outside.connect() as connection:
            for table in ("record_entries", "record_form", "record_files"):
                connection.execute(text(f"DROP TABLE IF EXISTS {schema.rpartition('%3D')[2]}.{table}"))
            connection.execute(text("DROP TABLESPACE small"))


@contextlib.contextmanager
def nobody() -> Iterator[Path]:
    """Yield a folder that everybody may read, and be somebody without rights meanwhile."""
    folder = Path(tempfile.mkdtemp(prefix="rights-"))
    folder.chmod(0o755)
    is_root = os.geteuid() == 0
    try:
        yield folder
    finally:
        if is_root:
            os.seteuid(0)
        folder.chmod(0o755)
        shutil.rmtree(folder)


def test_a_file_without_the_right_to_write_is_told() -> None:
    with nobody() as folder:
        where = folder / "record.sqlite"
        record = open_record(str(where), is_new_allowed=True)
        record.add(decision())
        where.chmod(0o444)
        folder.chmod(0o555)
        if os.geteuid() == 0:
            os.seteuid(pwd.getpwnam("nobody").pw_uid)
        with pytest.raises(RecordError, match=r"there is no right to write to it\. Nothing was kept"):
            record.add(decision())
        assert verify(record).entries == 1
        with pytest.raises(RecordError, match="the file cannot be opened"):
            open_record(str(folder / "another.sqlite"), is_new_allowed=True)


def test_a_user_of_a_server_without_the_right_to_write_is_told(server: Server, schema: str) -> None:
    record = open_record(schema, is_new_allowed=True)
    record.add(decision())
    name = schema.rpartition("%3D")[2]
    with Place(server.url).engine.begin() as connection:
        connection.execute(text(f"CREATE ROLE reader_{name} LOGIN"))
        connection.execute(text(f"GRANT USAGE ON SCHEMA {name} TO reader_{name}"))
        connection.execute(text(f"GRANT SELECT ON ALL TABLES IN SCHEMA {name} TO reader_{name}"))
    try:
        reader = open_record(f"{schema}%20-crole%3Dreader_{name}")
        assert verify(reader).entries == 1
        with pytest.raises(RecordError, match="there is no right to write to it"):
            reader.add(decision())
    finally:
        with Place(server.url).engine.begin() as connection:
            connection.execute(text(f"DROP OWNED BY reader_{name}"))
            connection.execute(text(f"DROP ROLE reader_{name}"))


def test_a_server_that_goes_away_half_way_is_told_and_costs_nothing(server: Server, schema: str) -> None:
    if server.folder is None:
        pytest.skip("the server that the environment names is not ours to stop")
    record = open_record(schema, is_new_allowed=True)
    record.add(decision("before"))

    def entries() -> Iterator[Decision]:
        for number in range(450):
            if number == 300:
                server.stop()
            yield decision(f"half/{number}")

    try:
        with pytest.raises(RecordError, match="the server"):
            record.add_all(entries())
        with pytest.raises(RecordError, match="the server cannot be reached, or went away"):
            record.head()
    finally:
        server.start()
    assert batches_in(record) == {"before": 1}
    record.add(decision("after"))
    assert verify(record).entries == 2


def test_a_file_that_is_no_database_is_left_as_it_is(tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    file.write_text("case: invented\n" * 100, encoding="utf-8")
    for is_new_allowed in (False, True):
        with pytest.raises(RecordError, match="this file is no database"):
            open_record(str(file), is_new_allowed=is_new_allowed)
    assert file.read_text(encoding="utf-8") == "case: invented\n" * 100


def test_a_damaged_file_is_told(tmp_path: Path) -> None:
    file = tmp_path / "record.sqlite"
    record = open_record(str(file), is_new_allowed=True)
    record.add_all(decision(f"FH-{number}") for number in range(60))
    data = bytearray(file.read_bytes())
    data[4096 * 3 :] = b"\xa5" * (len(data) - 4096 * 3)
    file.write_bytes(data)
    with pytest.raises(RecordError, match="the file is damaged"):
        verify(record)
