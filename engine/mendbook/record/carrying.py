"""A record carried from one database to another: entries with their hashes and files, out of one and into the next.

Only what continues a record goes into it: up to its head the carried chain must be the same, and what comes after is
added whole or not at all. Two records that grew apart are two records; to lay one behind the other would give its
entries other hashes.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mendbook.record.chain import Head, Link, link_hash
from mendbook.record.entry import WITH_FILE, Attachment, CureLog, EntryError, FileNote, read_entry
from mendbook.record.files import hash_of
from mendbook.record.ledger import Record
from mendbook.record.migrations import PRESENT
from mendbook.record.tail import Tail

_AGAIN = "It is damaged: carry it again."


class CarriedError(ValueError):
    """A carried record that cannot be taken in. The message says which entry, why, and what to do."""


@dataclass(frozen=True)
class Note:
    """What is said of a carried record before its entries: its form, and where it begins and ends."""

    form: int
    after: Head
    head: Head


@dataclass(frozen=True)
class Carried:
    """One entry on its way: its place in the chain, its text, and its file the first time that it is named."""

    sequence: int
    previous: str
    hash: str
    text: str
    content: bytes | None = None


@dataclass(frozen=True)
class TakenIn:
    """What became of it: how many entries were there already, and where the record ended before and ends now."""

    known: int
    head: Head
    before: Head

    @property
    def added(self) -> int:
        """How many entries are new."""
        return self.head.sequence - self.before.sequence


def describe(record: Record, after: int = 0) -> Note:
    """Return the note for all entries that come after the number `after`. Raises RecordError when there is none."""
    begin = record.get(after) if after else None
    return Note(PRESENT, Head() if begin is None else Head(begin.sequence, begin.hash), record.head())


def carry(record: Record, note: Note) -> Iterator[Carried]:
    """Yield the entries that `note` tells of. Raises CarriedError where the chain is broken, and RecordError."""
    carried, before = set[str](), note.after
    for row in record.rows_between(note.after.sequence, note.head.sequence):
        here = Head(row["sequence"], link_hash(before.sequence + 1, before.hash, row["text"]))
        if here != Head(before.sequence + 1, row["hash"]):
            raise CarriedError(f"entry {here.sequence} is not as it was kept. See 'mendbook record verify'.")
        content, before = None, here
        if row["kind"] in WITH_FILE:
            file = _file_of(row["text"])
            if file is not None and file.sha256 not in carried:
                content = record.content(file)
                carried.add(file.sha256)
        yield Carried(row["sequence"], row["previous"], row["hash"], row["text"], content)


def take_in(record: Record, note: Note, carried: Iterable[Carried]) -> TakenIn:
    """Add what of `carried` continues `record`; all of it or nothing.

    Raises CarriedError where it is another chain, is damaged or ends too soon, and RecordError.
    """
    if note.form > PRESENT:
        raise CarriedError(f"it has form {note.form}, this program knows forms up to {PRESENT}. Use the newer program.")
    before = note.after
    with record.at_end() as tail:
        begin = tail.head
        if note.after.sequence and tail.hash_at(note.after.sequence) != note.after.hash:
            raise CarriedError(
                f"it goes on from entry {note.after.sequence}, which is not that of this record. "
                f"Carry all of it, or what comes after entry {begin.sequence}."
            )
        for one in carried:
            if (one.sequence, one.previous) != (before.sequence + 1, before.hash):
                raise CarriedError(f"entry {one.sequence} does not follow entry {before.sequence}. {_AGAIN}")
            _put(tail, one, begin)
            before = Head(one.sequence, one.hash)
        if before != note.head:
            raise CarriedError(f"it should end with entry {note.head.sequence}, not {before.sequence}. {_AGAIN}")
        return TakenIn(before.sequence - note.after.sequence - (tail.head.sequence - begin.sequence), tail.head, begin)


def _put(tail: Tail, one: Carried, begin: Head) -> None:
    """Put `one` at the end, or see that it is the one that is there already."""
    if one.sequence <= begin.sequence:
        if tail.hash_at(one.sequence) != one.hash:
            raise CarriedError(f"entry {one.sequence} is another than the one here. These are two records: keep both.")
        return
    try:
        entry = read_entry(Link(one.sequence, one.previous, one.hash, one.text).tree)
        file = _file_of(one.text)
        if one.content is not None and (file is None or hash_of(one.content) != file.sha256):
            raise EntryError("the file with it is not the one that it names")
        kept = tail.keep(entry, one.content, one.text)
    except EntryError as error:
        raise CarriedError(f"entry {one.sequence}: {error}") from error
    if kept.hash != one.hash:
        raise CarriedError(f"entry {one.sequence} is not what was kept: its hash is another. {_AGAIN}")


def _file_of(text: str) -> FileNote | None:
    entry = Link(0, "", "", text).entry
    return entry.file if isinstance(entry, Attachment | CureLog) else None
