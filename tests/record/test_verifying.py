"""Whoever holds the database can take its guards away: the chain tells what was done, and a known head the rest."""

import json

import pytest
from sqlalchemy import text

from mendbook.record import Head, Record, open_record, read_head, verify
from mendbook.record.chain import Head as ChainHead
from mendbook.record.chain import link
from mendbook.record.places import Place
from tests.record.made import decision, follow_up

COUNT = 8


@pytest.fixture
def kept(record: Record) -> Record:
    record.add_all([*(decision(f"FH-{number}") for number in range(COUNT - 1)), follow_up(1, 3)])
    return record


def tamper(where: str, *statements: str) -> None:
    """Do what the guards forbid, as its owner can."""
    place = Place(where)
    with place.engine.begin() as connection:
        if place.is_server:
            connection.execute(text("ALTER TABLE record_entries DISABLE TRIGGER USER"))
        else:
            for what in ("no_update", "no_delete", "next"):
                connection.execute(text(f"DROP TRIGGER record_entries_{what}"))
        for statement in statements:
            connection.execute(text(statement))


def test_a_whole_chain_is_whole(kept: Record) -> None:
    found = verify(kept)
    assert (found.broken, found.entries, found.head) == (None, COUNT, kept.head())
    assert verify(kept, found.head).broken is None
    kept.add(decision("FH-99"))
    assert verify(kept, found.head).broken is None


@pytest.mark.parametrize(
    ("statement", "sequence", "fault"),
    [
        ("UPDATE record_entries SET text = replace(text, 'FH-4', 'FH-3') WHERE sequence = 5", 5, "its hash is another"),
        ("UPDATE record_entries SET text = text || ' ' WHERE sequence = 1", 1, "its hash is another"),
        ("UPDATE record_entries SET hash = substr(hash, 2) || '!' WHERE sequence = 5", 5, "its hash is another"),
        (f"UPDATE record_entries SET previous = '{'0' * 64}' WHERE sequence = 4", 4, "does not follow"),
        (f"UPDATE record_entries SET previous = '{'1' * 64}' WHERE sequence = 1", 1, "names another before it"),
        ("DELETE FROM record_entries WHERE sequence = 3", 3, "it is missing; entry 4 comes next"),
        ("DELETE FROM record_entries WHERE sequence = 1", 1, "it is missing; entry 2 comes next"),
        ("UPDATE record_entries SET sequence = -1 WHERE sequence = 6", 1, "it is missing; entry -1 comes next"),
        ("UPDATE record_entries SET tag = 'other' WHERE sequence = 2", 2, "the columns beside it say otherwise: tag"),
        ("UPDATE record_entries SET person = 'x', about = 2 WHERE sequence = 8", 8, "say otherwise: person, about"),
    ],
)
def test_the_first_broken_entry_is_named(kept: Record, where: str, statement: str, sequence: int, fault: str) -> None:
    tamper(where, statement)
    found = verify(kept)
    assert found.broken is not None
    assert found.broken.sequence == sequence
    assert fault in found.broken.says
    assert found.head.sequence == found.entries == max(0, sequence - 1)


def test_bytes_that_are_no_text_are_named(tmp_path_factory: pytest.TempPathFactory) -> None:
    where = str(tmp_path_factory.mktemp("damaged") / "record.sqlite")
    record = open_record(where, is_new_allowed=True)
    record.add_all([decision(), decision()])
    tamper(where, "UPDATE record_entries SET text = CAST(X'7B22FF227D' AS TEXT) WHERE sequence = 2")
    found = verify(record)
    assert found.broken is not None
    assert found.broken.sequence == 2


def test_a_missing_end_is_seen_only_by_a_head_that_was_written_down(kept: Record, where: str) -> None:
    known = kept.head()
    tamper(where, f"DELETE FROM record_entries WHERE sequence > {COUNT - 2}")
    assert verify(kept).broken is None
    found = verify(kept, known)
    assert found.broken is not None
    assert found.broken.sequence == COUNT - 1
    assert "2 of the entries that the head written down counts are gone" in found.broken.says


def test_a_record_written_anew_is_seen_only_by_a_head_that_was_written_down(kept: Record, where: str) -> None:
    known, head, statements = kept.head(), ChainHead(), []
    for one in list(kept.links()):
        anew = link(head, one.text.replace("FH-2", "FH-5"))
        head = ChainHead(anew.sequence, anew.hash)
        tag = json.loads(anew.text).get("docket", {}).get("tyre", {}).get("tag", "")
        statements.append(
            f"UPDATE record_entries SET text = '{anew.text}', hash = '{anew.hash}', previous = '{anew.previous}', "
            f"tag = '{tag}' WHERE sequence = {anew.sequence}"
        )
    tamper(where, *(said.replace(":", r"\:") for said in statements))
    assert verify(kept).broken is None
    found = verify(kept, known)
    assert found.broken is not None
    assert found.broken.sequence == COUNT
    assert "written anew" in found.broken.says


@pytest.mark.parametrize("written", ["", "12", "x" * 64, f"1:{'g' * 64}", f"-1:{'a' * 64}"])
def test_what_is_no_head_is_refused(written: str) -> None:
    with pytest.raises(ValueError, match="is no head"):
        read_head(written)


def test_a_head_is_read_as_it_is_printed() -> None:
    assert read_head(f" {Head(12, 'AB' * 32)}\n") == Head(12, "ab" * 32)
