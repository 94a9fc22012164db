"""A carried record as JSON lines: a line that tells what follows, then a line for each entry, as it is kept."""

import base64
import binascii
from collections.abc import Iterable, Iterator
from typing import IO, Any

import orjson

from mendbook.record.carrying import Carried, CarriedError, Note
from mendbook.record.chain import Head, canonical
from mendbook.record.entry import EntryError


def write_lines(file: IO[bytes], note: Note, carried: Iterable[Carried]) -> None:
    """Write `carried` to `file`."""
    head = {"record": "mendbook", "form": note.form, "after": str(note.after), "head": str(note.head)}
    file.write(orjson.dumps(head) + b"\n")
    for one in carried:
        line: dict[str, Any] = {"sequence": one.sequence, "previous": one.previous, "hash": one.hash}
        # The text stands there as it was hashed, so that anybody can work the hash out from the line.
        line["entry"] = orjson.Fragment(one.text)
        if one.content is not None:
            line["content"] = base64.b64encode(one.content).decode()
        file.write(orjson.dumps(line) + b"\n")


def read_lines(file: IO[bytes]) -> tuple[Note, Iterator[Carried]]:
    """Return what is told of the record in `file`, and its entries. Raises CarriedError, then or later."""
    first = _map(file.readline(), 1)
    if first.get("record") != "mendbook":
        raise CarriedError("line 1: this is no record. Give what 'mendbook record export' wrote.")
    return read_note(first), _entries(file)


def read_note(said: dict[str, Any]) -> Note:
    """Return what `said` tells of a carried record. Raises CarriedError."""
    try:
        return Note(int(said["form"]), _head(said["after"]), _head(said["head"]))
    except (KeyError, ValueError, TypeError):
        raise CarriedError("what it says of itself is damaged. Carry it again.") from None


def _head(written: str) -> Head:
    sequence, _, digest = str(written).partition(":")
    return Head(int(sequence), digest)


def _entries(file: IO[bytes]) -> Iterator[Carried]:
    for number, line in enumerate(file, 2):
        tree = _map(line, number)
        try:
            content = tree.get("content")
            yield Carried(
                int(tree["sequence"]),
                str(tree["previous"]),
                str(tree["hash"]),
                canonical(tree["entry"]),
                None if content is None else base64.b64decode(content, validate=True),
            )
        except (KeyError, ValueError, TypeError, EntryError, binascii.Error):
            raise CarriedError(f"line {number}: this is no entry of a record. Carry it again.") from None


def _map(line: bytes, number: int) -> dict[str, Any]:
    try:
        tree = orjson.loads(line)
    except orjson.JSONDecodeError:
        tree = None
    if not isinstance(tree, dict):
        raise CarriedError(f"line {number}: this is no JSON map. Give what 'mendbook record export' wrote.")
    return tree
