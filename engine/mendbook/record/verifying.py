"""The chain walked from its first entry to its last: the first that is not as it was kept is named.

A chain alone cannot show that entries are missing at its end, nor that somebody with every right to the database wrote
all of it anew. A head that was written down elsewhere shows both.
"""

import re
from dataclasses import dataclass

from mendbook.record.chain import GENESIS, Head, Link, link_hash
from mendbook.record.entry import WITH_FILE, Attachment, CureLog, EntryError, read_entry
from mendbook.record.files import hash_of
from mendbook.record.ledger import Record
from mendbook.record.tables import columns_of


@dataclass(frozen=True)
class Broken:
    """The first entry that is not as it was kept; `sequence` is the number it has or should have."""

    sequence: int
    says: str


@dataclass(frozen=True)
class Verified:
    """What the walk found: `head` is the last entry that is whole."""

    head: Head
    entries: int
    broken: Broken | None = None


def read_head(written: str) -> Head:
    """Return a head as it was written down, `NUMBER:HASH`. Raises ValueError."""
    if not (found := re.fullmatch(r"\s*(\d{1,18}):([0-9a-fA-F]{64})\s*", written)):
        raise ValueError(f"'{written[:80]}' is no head. Write it as 'mendbook record verify' printed it: NUMBER:HASH.")
    return Head(int(found[1]), found[2].lower())


def verify(record: Record, known: Head | None = None) -> Verified:
    """Walk the chain, in no more memory than a page of entries, and hold it against `known` if one was written down.

    Raises RecordError when the database cannot be read.
    """
    head, count = Head(), 0
    for row in record.rows():
        link = Link(row["sequence"], row["previous"], row["hash"], row["text"])
        fault = _fault(link, head, dict(row)) or _otherwise(link, known) or _file_fault(record, link, row["kind"])
        if fault is not None:
            return Verified(head, count, fault)
        head, count = Head(link.sequence, link.hash), count + 1
    if known is not None and known.sequence > head.sequence:
        missing = known.sequence - head.sequence
        says = f"the record ends before it: {missing} of the entries that the head written down counts are gone"
        return Verified(head, count, Broken(head.sequence + 1, says))
    return Verified(head, count)


def _fault(link: Link, before: Head, row: dict[str, object]) -> Broken | None:
    expected = before.sequence + 1
    if link.sequence != expected:
        return Broken(expected, f"it is missing; entry {link.sequence} comes next")
    if link.previous != before.hash:
        first = "is the first, and names another before it"
        return Broken(expected, f"it {first if before.hash == GENESIS else 'does not follow the entry before it'}")
    if link.hash != link_hash(link.sequence, link.previous, link.text):
        return Broken(expected, "what it says is not what was kept: its hash is another")
    try:
        columns = columns_of(read_entry(link.tree))
    except EntryError as error:
        return Broken(expected, f"it is no entry that this program knows: {error}")
    if differing := [name for name, value in columns.items() if row[name] != value]:
        return Broken(expected, f"the columns beside it say otherwise: {', '.join(differing)}")
    return None


def _file_fault(record: Record, link: Link, kind: str) -> Broken | None:
    if kind not in WITH_FILE:
        return None
    entry = link.entry
    assert isinstance(entry, Attachment | CureLog)
    content = record.find_content(entry.file)
    if content is None:
        return Broken(link.sequence, f"its file {entry.file.name} is gone")
    if hash_of(content) != entry.file.sha256:
        return Broken(link.sequence, f"its file {entry.file.name} is not as it was kept")
    return None


def _otherwise(link: Link, known: Head | None) -> Broken | None:
    if known is None or link.sequence != known.sequence or link.hash == known.hash:
        return None
    return Broken(link.sequence, "it is not the one whose hash was written down: the record was written anew")
