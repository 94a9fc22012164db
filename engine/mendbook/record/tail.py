"""The end of the record while one writer has it: entries are put there one after the other."""

from typing import Any

from sqlalchemy import Connection, select

from mendbook.record.chain import Head, entry_text, link
from mendbook.record.entry import Entry
from mendbook.record.files import put_file
from mendbook.record.fitting import check_fit
from mendbook.record.tables import ENTRIES, row_of

PAGE = 200  # entries sent to the database at once


def head_of(connection: Connection) -> Head:
    """Return number and hash of the last entry."""
    last = select(ENTRIES.c.sequence, ENTRIES.c.hash).order_by(ENTRIES.c.sequence.desc()).limit(1)
    found = connection.execute(last).first()
    return Head() if found is None else Head(found.sequence, found.hash)


class Tail:
    """Where the next entry goes. Nothing is kept for good before the transaction of `connection` ends."""

    def __init__(self, connection: Connection) -> None:
        self.head = head_of(connection)
        self._connection = connection
        self._waiting: list[dict[str, Any]] = []

    def keep(self, entry: Entry, content: bytes | None = None, text: str | None = None) -> Head:
        """Put `entry` at the end and return its number and hash.

        content : the file that it names, unless that is kept already
        text : what is written of it, where that is given from elsewhere
        Raises EntryError when it does not fit the entries before it.
        """
        if content is not None:
            put_file(self._connection, content)
        if entry.corrects is not None or entry.about is not None:
            self.flush()
            check_fit(self._connection, entry)
        kept = link(self.head, entry_text(entry) if text is None else text)
        self.head = Head(kept.sequence, kept.hash)
        self._waiting.append(row_of(kept, entry))
        if len(self._waiting) >= PAGE:
            self.flush()
        return self.head

    def hash_at(self, sequence: int) -> str | None:
        """Return the hash of the entry of this number, None when there is none."""
        self.flush()
        return self._connection.execute(select(ENTRIES.c.hash).where(ENTRIES.c.sequence == sequence)).scalar()

    def flush(self) -> None:
        """Send what was put here to the database."""
        if self._waiting:
            self._connection.execute(ENTRIES.insert(), self._waiting)
            self._waiting = []
