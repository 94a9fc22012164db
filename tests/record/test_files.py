from pathlib import Path

import pytest
from sqlalchemy import text

from mendbook.record import Attachment, EntryError, Record, RecordError, verify
from mendbook.record import files as kept_files
from mendbook.record.files import describe_file
from mendbook.record.places import Place
from tests.record.made import WHEN, decision

PHOTO = bytes(range(256)) * 40


def attachment(content: bytes = PHOTO, about: int = 1) -> Attachment:
    return Attachment(by="invented inspector", recorded=WHEN, about=about, file=describe_file("in/photo.jpg", content))


@pytest.fixture
def kept(record: Record) -> Record:
    record.add(decision())
    record.add(attachment(), PHOTO)
    return record


def test_a_file_comes_back_byte_by_byte(kept: Record) -> None:
    entry = kept.get(2).entry
    assert isinstance(entry, Attachment)
    assert entry.file.name == "photo.jpg"
    assert kept.content(entry.file) == PHOTO
    assert verify(kept).broken is None


def test_the_same_bytes_are_kept_once(kept: Record, where: str) -> None:
    kept.add(decision("FH-2"))
    kept.add(attachment(about=3), PHOTO)
    with Place(where).reading() as connection:
        assert connection.execute(text("SELECT count(*) FROM record_files")).scalar() == 1
    assert verify(kept).entries == 4


def test_an_entry_without_its_file_is_refused_and_a_refused_entry_leaves_no_file(kept: Record, where: str) -> None:
    with pytest.raises(EntryError, match=r"photo\.jpg: the file itself is not given"):
        kept.add(attachment(b"other"))
    with pytest.raises(EntryError, match="there is no entry 9"):
        kept.add(attachment(b"other", about=9), b"other")
    with Place(where).reading() as connection:
        assert connection.execute(text("SELECT count(*) FROM record_files")).scalar() == 1


@pytest.mark.parametrize(
    ("statement", "fault"),
    [("DELETE FROM record_files", "is gone"), ("UPDATE record_files SET content = {x}", "is not as it was kept")],
)
def test_a_file_that_was_touched_is_told(kept: Record, where: str, statement: str, fault: str) -> None:
    place = Place(where)
    said = statement.format(x=r"'\x00'" if place.is_server else "X'00'").replace(":", r"\:")
    with pytest.raises(RecordError, match="only ever added to"), place.writing() as connection:
        connection.execute(text(said))
    with place.writing() as connection:
        if place.is_server:
            connection.execute(text("ALTER TABLE record_files DISABLE TRIGGER USER"))
        else:
            connection.execute(text("DROP TRIGGER record_files_no_update"))
            connection.execute(text("DROP TRIGGER record_files_no_delete"))
        connection.execute(text(said))
    found = verify(kept)
    assert found.broken is not None
    assert found.broken.sequence == 2
    assert fault in found.broken.says
    entry = kept.get(2).entry
    assert isinstance(entry, Attachment)
    with pytest.raises(RecordError, match=fault):
        kept.content(entry.file)


def test_a_file_cannot_be_replaced(kept: Record, where: str) -> None:
    place = Place(where)
    said = "INSERT OR REPLACE INTO record_files SELECT sha256, size, X'00' FROM record_files"
    if place.is_server:
        said = (
            r"INSERT INTO record_files SELECT sha256, size, '\x00' FROM record_files "
            "ON CONFLICT (sha256) DO UPDATE SET content = excluded.content"
        )
    with pytest.raises(RecordError, match="only ever added to"), place.writing() as connection:
        connection.execute(text(said))
    assert verify(kept).broken is None


def test_a_film_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(kept_files, "LARGEST", 100)
    with pytest.raises(EntryError, match=r"film\.mp4: at most 100 bytes are kept"):
        describe_file(str(tmp_path / "film.mp4"), bytes(101))
