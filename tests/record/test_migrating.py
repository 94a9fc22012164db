"""A record made when form 1 was all there was (`form_1.sql`, dumped then) comes to the present form."""

import dataclasses
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import text

from mendbook.record import Attachment, RecordError, migrations, open_record, read_head, verify
from mendbook.record.files import describe_file
from mendbook.record.migrating import migrate_record
from mendbook.record.migrations import PRESENT, migrate
from mendbook.record.places import Place
from mendbook.record.tables import ENTRIES
from tests.record.made import WHEN, decision

DUMP = Path(__file__).parent / "form_1.sql"
# Written down when it was dumped.
HEAD = read_head("7:530d0dc1a120666f079869443e9b72456a0b2c72c3dcd3ca4df334dc5fbba118")


@pytest.fixture
def old(where: str, tmp_path: Path) -> str:
    """A record of form 1 in either database."""
    file = Path(where) if "://" not in where else tmp_path / "dumped.sqlite"
    database = sqlite3.connect(file)
    database.executescript(DUMP.read_text(encoding="utf-8"))
    database.row_factory = sqlite3.Row
    rows = [dict(row) for row in database.execute("SELECT * FROM record_entries ORDER BY sequence")]
    database.close()
    if "://" in where:
        with Place(where).writing() as connection:
            migrate(connection, upto=1)
            connection.execute(ENTRIES.insert(), rows)
    return where


def rows(where: str) -> list[tuple[object, ...]]:
    with Place(where).reading() as connection:
        return [tuple(row) for row in connection.execute(ENTRIES.select().order_by(ENTRIES.c.sequence))]


def test_nothing_is_lost_and_the_chain_still_verifies(old: str) -> None:
    before = rows(old)
    assert migrate_record(old) == (1, PRESENT)
    assert rows(old) == before
    record = open_record(old)
    assert record.head() == HEAD
    assert verify(record, HEAD) == verify(record)
    assert verify(record).entries == 7
    assert [line.corrected_by for line in record.lines()] == [None, None, None, 6, 7, None, None]
    assert migrate_record(old) == (PRESENT, PRESENT)


def test_what_is_new_can_be_kept_then(old: str) -> None:
    migrate_record(old)
    record = open_record(old)
    photo = b"invented photo"
    record.add(Attachment(by="a", recorded=WHEN, about=1, file=describe_file("photo.jpg", photo)), photo)
    assert verify(record, HEAD).entries == 8


def test_an_older_record_is_not_written_to_as_it_is(old: str) -> None:
    with pytest.raises(RecordError, match=r"has form 1, this program writes form .* mendbook record migrate"):
        open_record(old, is_new_allowed=True)
    assert len(rows(old)) == 7


def test_a_step_that_fails_leaves_the_older_form_whole(old: str, monkeypatch: pytest.MonkeyPatch) -> None:
    broken = dataclasses.replace(
        migrations.STEPS[-1],
        version=PRESENT + 1,
        sqlite=("CREATE TABLE half (way TEXT)", "CREATE TABLE record_entries (twice TEXT)"),
        postgresql=("CREATE TABLE half (way TEXT)", "CREATE TABLE record_entries (twice TEXT)"),
    )
    monkeypatch.setattr(migrations, "STEPS", (*migrations.STEPS, broken))
    before = rows(old)
    with pytest.raises(RecordError, match="already exists"), Place(old).writing() as connection:
        migrate(connection, upto=PRESENT + 1)
    assert rows(old) == before
    with pytest.raises(RecordError, match="has form 1"):
        open_record(old)


def test_the_guards_of_form_1_are_those_of_a_new_record(old: str) -> None:
    migrate_record(old)
    with pytest.raises(RecordError, match="only ever added to"), Place(old).writing() as connection:
        connection.execute(text("DELETE FROM record_entries"))


def test_a_database_without_a_record_is_left_alone(where: str) -> None:
    if "://" not in where:
        sqlite3.connect(where).executescript("CREATE TABLE other (a TEXT)")
    with pytest.raises(RecordError, match="holds no record"):
        migrate_record(where)


def test_a_newer_record_is_not_brought_back(old: str) -> None:
    migrate_record(old)
    open_record(old).add(decision())
    with Place(old).writing() as connection:
        connection.execute(text(f"INSERT INTO record_form VALUES ({PRESENT + 7}, 'later', '9.9')"))
    with pytest.raises(RecordError, match="Use the newer program that made it"):
        migrate_record(old)
    assert len(rows(old)) == 8
