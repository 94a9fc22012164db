"""Read a record: list, show, verify, migrate."""

import json
from dataclasses import asdict

from mendbook.card.kept import listed, shown, told_verified
from mendbook.cli.keeping import opened
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.record import Decision, RecordError, read_head, verify
from mendbook.record.migrating import migrate_record


def print_lines(where: str, tag: str | None, kind: str | None, *, is_overruled: bool, as_json: bool) -> None:
    """Print what is kept, a line for each entry. Raises RefusalError."""
    with opened(where) as record:
        lines = list(record.lines(tag=tag, kind=kind))
        if is_overruled:
            decisions = (one for one in lines if one.kind == "decision")
            lines = [one for one in decisions if record.get(one.sequence).tree["docket"].get("overruled")]
    if as_json:
        write(json.dumps([asdict(one) for one in lines], indent=2, ensure_ascii=False))
        return
    show(lambda width: listed(lines, width))


def print_one(where: str, number: int, *, is_docket: bool, as_json: bool) -> None:
    """Print one entry, as it is kept or in words, or the docket in it. Raises RefusalError."""
    with opened(where) as record:
        link = record.get(number)
        if as_json:
            write(link.text)
            return
        entry = link.entry
        if is_docket:
            if not isinstance(entry, Decision):
                raise RefusalError(f"{record.name}: entry {number} is a {entry.kind}, which holds no docket.")
            write(json.dumps(entry.docket, indent=2, ensure_ascii=False))
            return
        line = record.line(number)
        about = list(record.lines(about=number))
    show(lambda width: shown(link, line, about, width))


def print_verified(where: str, head: str | None, *, as_json: bool) -> bool:
    """Print what the walk along the chain found; return whether it is whole. Raises RefusalError."""
    with refusing(ValueError):
        known = None if head is None else read_head(head)
    with opened(where) as record:
        found = verify(record, known)
        name = record.name
    if as_json:
        write(json.dumps(asdict(found), indent=2))
    else:
        show(lambda width: told_verified(name, found, known, width))
    return found.broken is None


def print_migrated(where: str) -> None:
    """Bring the record to the present form and say what was done. Raises RefusalError."""
    with refusing(RecordError):
        before, after = migrate_record(where)
    write(f"It has form {after} already." if before == after else f"Brought from form {before} to form {after}.")
