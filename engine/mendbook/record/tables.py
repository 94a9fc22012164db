"""The tables of the present form. Only migrations make them; here they are told to the query builder.

Columns beside the text say again what is in it, so that entries are found without reading all of them; `verify`
holds them against the text.
"""

from typing import Any

from sqlalchemy import BigInteger, Column, Integer, LargeBinary, MetaData, Table, Text

from mendbook.record.chain import Link
from mendbook.record.entry import Decision, Entry, FollowUp

METADATA = MetaData()

FORM = Table(
    "record_form",
    METADATA,
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("made", Text, nullable=False),
    Column("program", Text, nullable=False),
)

ENTRIES = Table(
    "record_entries",
    METADATA,
    Column("sequence", BigInteger, primary_key=True, autoincrement=False),
    Column("previous", Text, nullable=False),
    Column("hash", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("recorded", Text, nullable=False),
    Column("person", Text, nullable=False),
    Column("tag", Text, nullable=False),
    Column("outcome", Text, nullable=False),
    Column("verdict", Text, nullable=False),
    Column("about", BigInteger),
    Column("corrects", BigInteger),
    Column("text", Text, nullable=False),
)

FILES = Table(
    "record_files",
    METADATA,
    Column("sha256", Text, primary_key=True),
    Column("size", BigInteger, nullable=False),
    Column("content", LargeBinary, nullable=False),
)


def row_of(link: Link, entry: Entry) -> dict[str, Any]:
    """Return the row for `entry`, whose text `link` holds."""
    head = {"sequence": link.sequence, "previous": link.previous, "hash": link.hash, "text": link.text}
    return head | columns_of(entry)


def columns_of(entry: Entry) -> dict[str, Any]:
    """Return what the columns beside the text say of `entry`."""
    return {
        "kind": entry.kind,
        "recorded": entry.recorded,
        "person": entry.by,
        "tag": tag_of(entry),
        **_answer(entry),
        "about": None if entry.kind == "withdrawal" else entry.about,
        "corrects": entry.corrects,
    }


def tag_of(entry: Entry) -> str:
    """Return the tag of the tyre that a decision is about, '' when it has none and for every other entry."""
    tyre = entry.docket.get("tyre") if isinstance(entry, Decision) else None
    return str(tyre.get("tag", "")) if isinstance(tyre, dict) else ""


def _answer(entry: Entry) -> dict[str, str]:
    if isinstance(entry, Decision):
        return {name: str(entry.docket.get(name) or "") for name in ("outcome", "verdict")}
    return {"outcome": entry.state if isinstance(entry, FollowUp) else "", "verdict": ""}
