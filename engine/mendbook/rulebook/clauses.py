"""Read the clauses of a source: in which facts each of them speaks, and what it asks at least."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from mendbook.rulebook.context import Context, Path
from mendbook.rulebook.errors import refuse, refuse_unknown_keys
from mendbook.rulebook.files import Written
from mendbook.rulebook.sayings import read_verdict, text
from mendbook.rulebook.source import READ, Clause, Source
from mendbook.terms.document import Document
from mendbook.terms.spelling import suggest

CLAUSES = "clauses"
MARK = b"clauses:"
YES = "yes"
SILENT = "not expressed"
ASKING = ("at least", "hold", "stop")
CLAUSE_NEEDED = ("place", "says", "read")
CLAUSE_KEYS = (*CLAUSE_NEEDED, "when", *ASKING, "because", SILENT)


def add_clauses(files: Iterable[Written], sources: Mapping[str, Source], context: Context) -> dict[str, Source]:
    """Return `sources`, those of `files` with their clauses. Raises RulebookError with file and line."""
    found = dict(sources)
    for file in files:
        # Few sources have clauses: the others are not parsed a second time.
        if MARK in file.data:
            document = file.parse()
            source = sources[str(document.tree["source"])]
            found[source.id] = replace(source, clauses=_clauses(document, source, context))
    return found


def _clauses(document: Document, source: Source, context: Context) -> tuple[Clause, ...]:
    entry = document.tree.get(CLAUSES, [])
    if not isinstance(entry, list):
        raise refuse(document, (CLAUSES,), "clauses is a list, each clause with a dash")
    return tuple(_clause(document, (CLAUSES, number), row, source, context) for number, row in enumerate(entry))


def _clause(document: Document, path: Path, row: object, source: Source, context: Context) -> Clause:
    if not isinstance(row, dict):
        raise refuse(document, path, "a clause is a map: place, says, read, and what it asks")
    refuse_unknown_keys(document, path, row, CLAUSE_KEYS, "a clause")
    for key in CLAUSE_NEEDED:
        if not row.get(key):
            raise refuse(document, path, f"the clause does not say '{key}'", f"Add the line '{key}: ...'.")
    place = str(row["place"])
    if source.places is None or place not in source.places:
        near = suggest(place, source.places or ())
        hint = f"Did you mean '{near}'?" if near else "Add it to the places of this source."
        raise refuse(document, (*path, "place"), f"'{source.id}' has no place '{place}'", hint)
    is_read = _is_yes(document, path, "read", row["read"])
    known = source.known_at(place)
    if is_read != known.startswith(READ):
        raise refuse(
            document, (*path, "read"), f"the place '{place}' is known as '{known}'",
            "Let clause and place say the same: was the text read, or not?",
        )  # fmt: skip
    _check_asking(document, path, row)
    return Clause(
        place=place, says=text(row["says"]) or "", is_read=is_read, at=document.line(path),
        bounds=context.bounds(document, (*path, "when"), row.get("when")),
        at_least=read_verdict(document, path, {"verdict": row.get("at least")}, context),
        holds=_is_yes(document, path, "hold", row.get("hold", "no")),
        stops=_is_yes(document, path, "stop", row.get("stop", "no")),
        because=text(row.get("because")) or "", not_expressed=text(row.get(SILENT)) or "",
    )  # fmt: skip


def _check_asking(document: Document, path: Path, row: dict[str, object]) -> None:
    """Refuse a clause that both asks and says that it cannot, or that does neither."""
    asks = [key for key in ("when", *ASKING) if row.get(key)]
    if row.get(SILENT) and asks:
        raise refuse(document, (*path, SILENT), f"a clause that is '{SILENT}' has no '{asks[0]}'")
    if not row.get(SILENT) and ("when" not in asks or len(asks) < 2):
        raise refuse(
            document, path, "this clause asks for nothing",
            f"Write 'when:' and 'at least: <verdict>', 'hold: yes' or 'stop: yes'; or '{SILENT}: why'.",
        )  # fmt: skip


def _is_yes(document: Document, path: Path, key: str, written: object) -> bool:
    if written not in (YES, "no"):
        raise refuse(document, (*path, key), f"'{key}' is 'yes' or 'no', not '{written}'")
    return written == YES
