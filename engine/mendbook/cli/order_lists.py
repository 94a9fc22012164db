"""Many cure orders in one file: JSON lines, an order a line, or a list in YAML or JSON.

A line that is plain JSON goes a short way, for there may be thousands; any other, and any with a fault, goes through
the reader of documents, which has the words for it.
"""

import json
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import NoReturn

from pydantic import ValidationError

from mendbook.cli.documents import DASH
from mendbook.cli.orders import OrderError, read_order
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.document import (
    LIMIT,
    STANDARD_INPUT,
    WHOLE_FILE,
    Document,
    DocumentError,
    Tree,
    Way,
    parse_document,
)

LONGEST_LIST = 50 * LIMIT  # bytes of a list, which is read as a whole; lines have no end
_ORDERS = "orders"  # the name that a list gets, to make a document of it


@dataclass(frozen=True)
class Written:
    """An order as it was found, or what is wrong with it."""

    line: int
    order: CureOrder | None
    fault: str = ""


def read_orders(given: str) -> Iterator[Written]:
    """Yield the orders in the file `given`, or on standard input when it is `-`, as they come.

    Raises DocumentError when the file cannot be read at all; a fault in one order is yielded in its place.
    """
    if given == DASH:
        yield from _orders(sys.stdin.buffer, STANDARD_INPUT)
        return
    try:
        with Path(given).open("rb") as file:
            yield from _orders(file, given)
    except FileNotFoundError:
        _refuse(given, "there is no such file. Check the name and the folder.")
    except IsADirectoryError:
        _refuse(given, "this is a folder. Name one file in it.")
    except OSError as problem:
        _refuse(given, f"the file cannot be read: {problem.strerror or problem}.")


def _orders(lines: Iterable[bytes], name: str) -> Iterator[Written]:
    numbered = ((number, line) for number, line in enumerate(lines, 1) if line.strip(b"\xef\xbb\xbf \t\r\n"))
    number, first = next(numbered, (WHOLE_FILE, b""))
    if number == WHOLE_FILE:
        _refuse(name, "the file is empty. Write one order a line, as JSON.")
    begin = first.lstrip(b"\xef\xbb\xbf \t")[:1]
    rest = chain([(number, first)], numbered)
    if begin == b"{":
        yield from (_read_line(line, name, at) for at, line in rest)
    elif begin in (b"[", b"-", b"#"):
        yield from _read_list(b"\n" * (number - 1) + first + b"".join(lines), name, is_block=begin != b"[")
    else:
        _refuse(name, "this is no list of orders. Write one order a line as JSON, or a YAML list of orders.")


def _read_line(line: bytes, name: str, number: int) -> Written:
    try:
        return Written(number, CureOrder.model_validate(_plain_tree(line)))
    except (ValidationError, ValueError, RecursionError):
        pass
    try:
        document = parse_document(line.strip(), name)
        return Written(number, read_order(Document(name, document.tree, {(): number})))
    except DocumentError as error:
        return Written(number, None, str(DocumentError(name, number, error.column, error.message)))
    except OrderError as error:
        return Written(number, None, _in_one_line(error))


def _plain_tree(line: bytes) -> Tree:
    """Return the map in a `line` of JSON as the reader of documents would. Raises ValueError for anything else."""
    if len(line) > LIMIT:
        raise ValueError("too long")
    tree: Tree = json.loads(line, object_pairs_hook=_map, parse_float=str, parse_int=str, parse_constant=str)
    return tree


def _map(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = {key: _plain(value) for key, value in pairs if value is not None}
    if len({key for key, _ in pairs}) < len(pairs) or "" in found or "<<" in found:
        raise ValueError("a name that is no name, or stands twice")
    return found


def _plain(value: object) -> object:
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        raise ValueError("nothing in a list")
    return [_plain(item) for item in value] if isinstance(value, list) else value


def _read_list(text: bytes, name: str, *, is_block: bool) -> Iterator[Written]:
    head = f"{_ORDERS}:\n" if is_block else f"{_ORDERS}: "
    shift = int(is_block)
    try:
        document = parse_document(head.encode() + text.removeprefix(b"\xef\xbb\xbf"), name, limit=LONGEST_LIST)
    except DocumentError as error:
        raise DocumentError(name, max(1, error.line - shift), error.column, error.message) from None
    orders = document.tree[_ORDERS] if set(document.tree) == {_ORDERS} else ""
    if not isinstance(orders, list) or not orders:
        _refuse(name, "this is no list of orders. Begin each order with '- ', or write one order a line as JSON.")
    places: list[dict[Way, int]] = [{} for _ in orders]
    for way, line in document.lines.items():
        if len(way) > 1 and isinstance(way[1], int):
            places[way[1]][way[2:]] = line - shift
    for order, lines in zip(orders, places, strict=True):
        yield _read_item(order, name, lines)


def _read_item(order: Tree, name: str, lines: dict[Way, int]) -> Written:
    line = lines[()]
    if not isinstance(order, dict):
        return Written(line, None, f"{name}:{line}: this is no order. Write its fields as 'name: value'.")
    try:
        return Written(line, read_order(Document(name, order, lines)))
    except OrderError as error:
        return Written(line, None, _in_one_line(error))


def _in_one_line(error: OrderError) -> str:
    return " ".join(str(error).splitlines())


def _refuse(name: str, message: str) -> NoReturn:
    raise DocumentError(name, WHOLE_FILE, 1, message)
