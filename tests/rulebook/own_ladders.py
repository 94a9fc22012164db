"""An own book of a ladder shop, invented, to be laid over the ladder rulebook."""

from datetime import date
from pathlib import Path

from mendbook.proof.permission import open_permitted
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.errors import RulebookError
from tests.rulebook.ladders import write_book

TODAY = date(2026, 11, 25)
OWN_COVER = """\
rulebook: our ladders
edition: third
date: 2026-11-20
owner: the joiner
"""
ANSWER = "approved by: the joiner, on: 2026-11-20, why: Our wood is dry."


def answered(kind: str, place: str) -> str:
    """Return an entry of the cover that allows a rule or table to be looser."""
    return f"looser:\n  - {{{kind}: {place}, {ANSWER}}}\n"


def open_own(
    folder: Path, files: dict[str, str], cover: str = OWN_COVER, *, beneath: dict[str, str] | None = None
) -> Rulebook:
    """Write the ladder book and the own `files`, and open the one laid over the other."""
    write_book(folder, **(beneath or {}))
    for place, text in {"rulebook.yaml": cover, **files}.items():
        (folder / "own" / place).parent.mkdir(parents=True, exist_ok=True)
        (folder / "own" / place).write_text(text, encoding="utf-8")
    return open_permitted(folder / "rules", folder / "knowledge", folder / "own", today=TODAY)


def refusal(
    folder: Path, files: dict[str, str], cover: str = OWN_COVER, *, beneath: dict[str, str] | None = None
) -> str:
    """Return why the own book is refused, with places from the folder on; "" when it is not."""
    try:
        open_own(folder, files, cover, beneath=beneath)
    except RulebookError as error:
        return str(error).replace(f"{folder}/", "")
    return ""
