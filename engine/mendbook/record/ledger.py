"""The record: entries are added at its end, and read. Nothing is changed and nothing is taken out."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, RowMapping, inspect, select

from mendbook.record.chain import Head, Link
from mendbook.record.entry import Entry, FileNote
from mendbook.record.faults import RecordError
from mendbook.record.files import get_file, hash_of
from mendbook.record.migrations import PRESENT, form_of, migrate
from mendbook.record.places import Place
from mendbook.record.tables import ENTRIES
from mendbook.record.tail import PAGE, Tail, head_of

_BEFORE_ALL = -(2**62)  # lower than any number that somebody could have slipped in


@dataclass(frozen=True)
class Line:
    """An entry in short, as its columns give it."""

    sequence: int
    kind: str
    recorded: str
    person: str
    tag: str
    outcome: str
    verdict: str
    about: int | None
    corrects: int | None
    corrected_by: int | None


class Record:
    """A record. It holds no connection between two calls, so there is nothing to close."""

    def __init__(self, place: Place) -> None:
        self._place = place

    @property
    def name(self) -> str:
        """Where it lies, without any password."""
        return self._place.name

    def head(self) -> Head:
        """Return number and hash of the last entry. Raises RecordError."""
        with self._place.reading() as connection:
            return head_of(connection)

    def add(self, entry: Entry, content: bytes | None = None) -> Head:
        """Keep `entry` at the end, with the file that it names, and return its number and hash.

        Raises EntryError when it does not fit the entries before it or its file, and RecordError.
        """
        with self.at_end() as tail:
            return tail.keep(entry, content)

    def add_all(self, entries: Iterable[Entry]) -> list[Head]:
        """Keep `entries` at the end, all of them or none, while nobody else writes; return their numbers and hashes.

        What `entries` raises leaves the record as it was. Raises EntryError and RecordError.
        """
        with self.at_end() as tail:
            return [tail.keep(entry) for entry in entries]

    @contextmanager
    def at_end(self) -> Iterator[Tail]:
        """Yield the end of the record, to which nobody else writes meanwhile; what was put there is kept whole, or not.

        Raises RecordError.
        """
        with self._place.writing() as connection:
            tail = Tail(connection)
            yield tail
            tail.flush()

    def content(self, file: FileNote) -> bytes:
        """Return the bytes of `file`. Raises RecordError when they are not there, or are not those that were kept."""
        found = self.find_content(file)
        if found is None:
            raise RecordError(f"{self.name}: the file {file.name} ({file.sha256}) is gone from it.")
        if hash_of(found) != file.sha256:
            raise RecordError(f"{self.name}: the file {file.name} ({file.sha256}) is not as it was kept.")
        return found

    def find_content(self, file: FileNote) -> bytes | None:
        """Return the bytes kept under the hash of `file`, unchecked, None when there are none. Raises RecordError."""
        with self._place.reading() as connection:
            return get_file(connection, file.sha256)

    def get(self, sequence: int) -> Link:
        """Return the entry of this number. Raises RecordError."""
        with self._place.reading() as connection:
            row = connection.execute(select(ENTRIES).where(ENTRIES.c.sequence == sequence)).mappings().first()
        if row is None:
            raise RecordError(f"{self.name}: there is no entry {sequence}. See 'mendbook record list'.")
        return _link(row)

    def rows(self, *wanted: ColumnElement[bool]) -> Iterator[RowMapping]:
        """Yield whole rows in their order, page by page, so that no writer waits for a reader. Raises RecordError."""
        yield from self._pages(select(ENTRIES).where(*wanted))

    def rows_between(self, after: int, upto: int) -> Iterator[RowMapping]:
        """Yield whole rows from the number behind `after` up to `upto`. Raises RecordError."""
        return self.rows(ENTRIES.c.sequence > after, ENTRIES.c.sequence <= upto)

    def links(self, *kinds: str) -> Iterator[Link]:
        """Yield the entries of these kinds, or all, in their order. Raises RecordError."""
        return map(_link, self.rows(*[ENTRIES.c.kind.in_(kinds)] if kinds else []))

    def lines(self, *, tag: str | None = None, kind: str | None = None, about: int | None = None) -> Iterator[Line]:
        """Yield entries in short: those of the tyre `tag` and about its decisions, of one kind, about one entry.

        Raises RecordError.
        """
        wanted = list[ColumnElement[bool]]()
        if tag is not None:
            of_tag = select(ENTRIES.c.sequence).where(ENTRIES.c.tag == tag)
            wanted.append((ENTRIES.c.tag == tag) | ENTRIES.c.about.in_(of_tag) | ENTRIES.c.corrects.in_(of_tag))
        if kind is not None:
            wanted.append(ENTRIES.c.kind == kind)
        if about is not None:
            wanted.append(ENTRIES.c.about == about)
        return self._lines(*wanted)

    def corrections(self) -> Iterator[Line]:
        """Yield the entries in short that put another right or withdraw it. Raises RecordError."""
        return self._lines(ENTRIES.c.corrects.is_not(None))

    def _lines(self, *wanted: ColumnElement[bool]) -> Iterator[Line]:
        later = ENTRIES.alias("later")
        corrected = select(later.c.sequence).where(later.c.corrects == ENTRIES.c.sequence).scalar_subquery()
        short = [ENTRIES.c[name] for name in Line.__dataclass_fields__ if name != "corrected_by"]
        asked = select(*short, corrected.label("corrected_by")).where(*wanted)
        return (Line(**row) for row in self._pages(asked))

    def line(self, sequence: int) -> Line:
        """Return the entry of this number in short. Raises RecordError."""
        self.get(sequence)
        return next(self._lines(ENTRIES.c.sequence == sequence))

    def _pages(self, asked: Any) -> Iterator[RowMapping]:
        last = _BEFORE_ALL
        while True:
            page = asked.where(ENTRIES.c.sequence > last).order_by(ENTRIES.c.sequence).limit(PAGE)
            with self._place.reading() as connection:
                found = connection.execute(page).mappings().all()
            yield from found
            if len(found) < PAGE:
                return
            last = found[-1]["sequence"]


def open_record(given: str, *, is_new_allowed: bool = False) -> Record:
    """Return the record at `given`, a path or a URL; with `is_new_allowed` one is begun where there is none.

    Raises RecordError, also when its form is older or newer than this program's.
    """
    place = Place(given, is_new_allowed=is_new_allowed)
    with place.reading() as connection:
        found = form_of(connection)
        is_empty = not found and not inspect(connection).get_table_names()
    if not found and is_new_allowed and (is_empty or place.is_server):
        with place.writing() as connection:
            migrate(connection)
            return Record(place)
    if not found:
        raise RecordError(f"{place.name}: this database holds no record. Name one that 'mendbook record add' began.")
    check_form(place.name, found)
    return Record(place)


def check_form(name: str, found: int) -> None:
    """Raise RecordError when a record of the form `found` cannot be used as it is."""
    if found > PRESENT:
        raise RecordError(
            f"{name}: the record has form {found}, and this program knows forms up to {PRESENT}. "
            "Nothing was touched. Use the newer program that made it."
        )
    if found < PRESENT:
        raise RecordError(
            f"{name}: the record has form {found}, this program writes form {PRESENT}. "
            f"Bring it there, after a copy was made: mendbook record migrate --record {name}."
        )


def _link(row: RowMapping) -> Link:
    return Link(row["sequence"], row["previous"], row["hash"], row["text"])
