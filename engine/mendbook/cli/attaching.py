"""Keep a photo, a paper or the log of a cure with a decision of a record."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import orjson
from pydantic import ValidationError

from mendbook.cli.documents import open_document
from mendbook.cli.keeping import opened
from mendbook.cli.orders import OrderError, read_order
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import write
from mendbook.record import Decision, Head, Record
from mendbook.record.entry import read_entry
from mendbook.record.files import describe_file
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.document import DocumentError


def keep_files(where: str, number: int, files: Sequence[Path], said: dict[str, Any]) -> None:
    """Keep `files` with the decision `number`, each as an entry. Raises RefusalError."""
    read = [(file, _bytes(file)) for file in files]
    with opened(where) as record:
        for file, content in read:
            note = describe_file(str(file), content)
            entry = read_entry({"kind": "attachment", "about": number, "file": note, **said})
            _tell(record, record.add(entry, content), file)


def keep_log(
    where: str, number: int, log: Path, order: str | None, columns: Sequence[str], said: dict[str, Any]
) -> None:
    """Keep the log of the cure by the decision `number`, with what is read from it. Raises RefusalError."""
    from mendbook.cli.following import read_whole_log

    content = _bytes(log)
    with opened(where) as record:
        given = None if order is None else _given_order(order)
        followed = given or _order_of(record, number, said["injury"])
        state = read_whole_log(followed, content, str(log), columns)
        tree = {
            "kind": "cure log",
            "about": number,
            "file": describe_file(str(log), content),
            "order": None if given is None else orjson.loads(given.model_dump_json(by_alias=True)),
            "state": orjson.loads(state.model_dump_json(by_alias=True)),
        }
        _tell(record, record.add(read_entry(tree | said), content), log)


def write_file(where: str, number: int, target: Path) -> None:
    """Write the file of the entry `number` to `target`. Raises RefusalError."""
    with opened(where) as record:
        entry = record.get(number).entry
        if entry.kind not in ("attachment", "cure log"):
            raise RefusalError(f"{record.name}: entry {number} is a {entry.kind}, which holds no file.")
        content = record.content(entry.file)
    try:
        with target.open("xb") as file:
            file.write(content)
    except FileExistsError:
        raise RefusalError(f"{target}: this file is there already. Name another.") from None
    except OSError as error:
        raise RefusalError(f"{target}: it cannot be written: {error.strerror}. Name another.") from None
    write(f"Written: {target}")


def _given_order(order: str) -> CureOrder:
    with refusing(DocumentError, OrderError):
        return read_order(open_document(order))


def _order_of(record: Record, number: int, injury: str) -> CureOrder:
    """Return the cure order in the docket of the decision `number`. Raises RefusalError and RecordError."""
    entry = record.get(number).entry
    if not isinstance(entry, Decision):
        raise RefusalError(f"{record.name}: entry {number} is a {entry.kind}. Name the decision that was cured by.")
    plan = entry.docket.get("plan") or {}
    repairs = [one for one in plan.get("repairs", ()) if one.get("injury") == injury]
    tree = (repairs[0] if repairs else {}).get("cure_order") if injury else entry.docket.get("cure_order")
    if not tree:
        what = f" for '{injury}'" if injury else ""
        raise RefusalError(f"{record.name}: the docket of entry {number} has no cure order{what}. Add --order FILE.")
    try:
        return CureOrder.model_validate(tree)
    except ValidationError:
        raise RefusalError(
            f"{record.name}: the cure order of entry {number} is of another program. Name it anew: --order FILE."
        ) from None


def _bytes(file: Path) -> bytes:
    if file.is_dir():
        raise RefusalError(f"{file}: this is a folder. Name the files in it.")
    with refusing(OSError):
        try:
            return file.read_bytes()
        except FileNotFoundError:
            raise RefusalError(f"{file}: there is no such file. Check the name and the folder.") from None


def _tell(record: Record, head: Head, file: Path) -> None:
    write(f"Kept {file} as entry {head.sequence} of {record.name}: {head.hash}")
