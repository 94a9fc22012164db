"""All checks of a rulebook together: what is wrong with it, what is of no use in it, and how large it is."""

import json
import re
import textwrap
from collections.abc import Mapping
from dataclasses import dataclass

from mendbook.cli.refusals import WIDEST
from mendbook.facts.needs import NEEDED
from mendbook.facts.table_numbers import NUMBERS
from mendbook.proof.check import check_book
from mendbook.proof.seal import find_changes
from mendbook.proof.unused import find_unused
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.examples import check_examples
from mendbook.triage.fit import find_misfits

_PLACED = re.compile(r"(?P<file>.+?\.ya?ml):(?P<line>\d+): (?P<says>.+)", re.DOTALL)


@dataclass(frozen=True)
class Checked:
    """What the checks found. A fault must be mended; a note names what nobody uses, and may stand."""

    counts: Mapping[str, int]
    faults: tuple[str, ...]
    notes: tuple[str, ...]


def check_whole(book: Rulebook, seal: str = "") -> Checked:
    """Return what every check says of `book`, and what has changed since its `seal`, when it has one."""
    counts = {
        "rules": len(book.rules),
        "lines": sum(len(rule.lines) for rule in book.rules),
        "examples": sum(len(rule.examples) for rule in book.rules),
        "tables": len(book.tables),
        "sources": len(book.sources),
    }
    faults = (
        *check_examples(book),
        *check_book(book),
        *find_misfits(book),
        *(find_changes(book, seal) if seal else ()),
    )
    return Checked(
        counts, faults, tuple(find_unused(book, NUMBERS, {name for names in NEEDED.values() for name in names}))
    )


def as_text(checked: Checked) -> str:
    """Return the faults; or that all hold, with the notes."""
    if checked.faults:
        return "\n".join(checked.faults)
    size = ", ".join(f"{number} {what}" for what, number in checked.counts.items())
    notes = ("", "Of no use so far, which is no fault:", *map(_folded, checked.notes))
    return "\n".join((f"{size}: all hold", *(notes if checked.notes else ())))


def _folded(note: str) -> str:
    return textwrap.fill(note, WIDEST, initial_indent="- ", subsequent_indent="  ", break_long_words=False)


def as_data(checked: Checked) -> str:
    """Return counts, faults and notes as JSON, each fault and note with its file and line where it has one."""
    told = {
        "holds": not checked.faults,
        "counts": dict(checked.counts),
        "faults": [_placed(fault) for fault in checked.faults],
        "notes": [_placed(note) for note in checked.notes],
    }
    return json.dumps(told, indent=2, ensure_ascii=False)


def _placed(said: str) -> dict[str, str | int]:
    found = _PLACED.fullmatch(said)
    if found is None:
        return {"says": said}
    return {"file": found["file"], "line": int(found["line"]), "says": found["says"]}
