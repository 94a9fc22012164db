r"""How entries hang together: each has the hash of its own text and of the hash before it.

The text of an entry is canonical JSON: keys in order, no blanks, UTF-8, the shortest figures that give the number
again. The hash covers number, previous hash and text, so anybody can work it out without this program:

    printf 'mendbook entry %d\n%s\n%s' NUMBER PREVIOUS TEXT | sha256sum
"""

import hashlib
from dataclasses import dataclass
from typing import Any

import orjson

from mendbook.record.entry import Entry, EntryError, read_entry
from mendbook.terms.closed import Closed

GENESIS = "0" * 64  # what the first entry names as the hash before it


@dataclass(frozen=True)
class Link:
    """An entry as it is kept. `sequence` counts from 1 without gaps."""

    sequence: int
    previous: str
    hash: str
    text: str

    @property
    def entry(self) -> Entry:
        """What the text says. Raises EntryError."""
        return read_entry(self.tree)

    @property
    def tree(self) -> dict[str, Any]:
        """What the text says, unchecked. Raises EntryError when it is no JSON map."""
        try:
            tree = orjson.loads(self.text)
        except orjson.JSONDecodeError as error:
            raise EntryError(f"the text is no JSON: {error}") from None
        if not isinstance(tree, dict):
            raise EntryError("the text is no map of fields")
        return tree


@dataclass(frozen=True)
class Head:
    """The last entry at some moment: what to write down elsewhere."""

    sequence: int = 0
    hash: str = GENESIS

    def __str__(self) -> str:
        return f"{self.sequence}:{self.hash}"


def canonical(tree: object) -> str:
    """Return `tree` as canonical JSON. Raises EntryError for what JSON cannot say."""
    try:
        return orjson.dumps(tree, option=orjson.OPT_SORT_KEYS).decode()
    except (orjson.JSONEncodeError, UnicodeEncodeError) as error:
        raise EntryError(f"this cannot be kept as JSON: {error}") from None


def entry_text(entry: Entry) -> str:
    """Return the text that is kept of `entry`; what it leaves out is not written."""
    said = ((name, value) for name, value in entry if value is not None and value != "")
    return canonical({name: value.model_dump() if isinstance(value, Closed) else value for name, value in said})


def link(head: Head, text: str) -> Link:
    """Return the entry of this text that follows `head`."""
    sequence = head.sequence + 1
    return Link(sequence, head.hash, link_hash(sequence, head.hash, text), text)


def link_hash(sequence: int, previous: str, text: str) -> str:
    """Return the SHA-256 of an entry, in hexadecimal."""
    said = f"mendbook entry {sequence}\n{previous}\n{text}"
    return hashlib.sha256(said.encode("utf-8", "surrogateescape")).hexdigest()  # a damaged text has its own hash too
