"""A shop's own book: what it lays over the book beneath, and who answers for what is looser in it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from mendbook.rulebook.context import Path
from mendbook.rulebook.cover import COVER, FRAME, NOT_COVERED, Cover
from mendbook.rulebook.errors import refuse, refuse_unknown_keys
from mendbook.rulebook.files import Written
from mendbook.rulebook.tree import Rule
from mendbook.terms.document import Document, Tree
from mendbook.terms.spelling import suggest

VOCABULARY, SOURCES, TABLES = "vocabulary", "sources", "limits"
ENDING = ".yaml"
OWN = "own book"
OWN_NEEDED = ("rulebook", "edition", "date", "owner")
OWN_COVER_KEYS = (*OWN_NEEDED, "asks", *FRAME, "withdraw", "looser", NOT_COVERED)
_KINDS = ("rule", "table")
ANSWERS = ("approved by", "on", "why")
APPROVAL = "{rule or table: <its place>, approved by: <person or role>, on: <year-month-day>, why: <reason>}"


@dataclass(frozen=True)
class Approval:
    """Leave for one rule or table to say less than the book beneath: who answers for it, since when, and why."""

    place: str
    approved_by: str
    on: date
    why: str
    at: int


@dataclass(frozen=True)
class OwnBook:
    """What a shop lays over the book beneath.

    `places` are the rules and tables that are new or differ from those beneath, `withdrawn` the rules it takes out,
    each with the line of the cover that says so.
    """

    name: str
    edition: str
    date: str
    owner: str
    digest: str
    cover: Document
    places: frozenset[str]
    withdrawn: Mapping[str, int]
    approvals: tuple[Approval, ...]
    replaced: tuple[Rule, ...] = ()  # the rules beneath in whose place own ones stand

    def approval(self, place: str) -> Approval | None:
        """Return who answers for the rule or table at `place`, None when nobody must."""
        return next((one for one in self.approvals if one.place == place), None)


def lay_over(
    files: Mapping[str, Written], digest: str, cover: Cover, beneath: Mapping[str, Written]
) -> tuple[OwnBook, dict[str, Written]]:
    """Return the own book in `files`, and the files of rules and tables when it lies over those `beneath`.

    A file at the same place replaces the one beneath, any other adds; one that is only missing changes nothing.
    Raises RulebookError with file, line and what to write instead.
    """
    page = files[COVER].parse()
    _check_cover(page, cover)
    laid = {place: file for place, file in files.items() if place != COVER and _top(place) not in (VOCABULARY, SOURCES)}
    withdrawn = _withdrawn(page, beneath, laid)
    changed = {
        place.removesuffix(ENDING)
        for place, file in laid.items()
        if place not in beneath or not file.says_the_same(beneath[place])
    }
    kept = {place: file for place, file in beneath.items() if place.removesuffix(ENDING) not in withdrawn}
    book = OwnBook(
        name=str(page.tree["rulebook"]),
        edition=str(page.tree["edition"]),
        date=str(page.tree["date"]),
        owner=str(page.tree["owner"]),
        digest=digest,
        cover=page,
        places=frozenset(changed),
        withdrawn=withdrawn,
        approvals=_approvals(page),
    )
    merged = kept | laid
    return book, {place: merged[place] for place in sorted(merged)}


def _top(place: str) -> str:
    return place.split("/")[0]


def _check_cover(page: Document, cover: Cover) -> None:
    refuse_unknown_keys(page, (), page.tree, OWN_COVER_KEYS, "a cover page")
    for key in OWN_NEEDED:
        if not isinstance(page.tree.get(key), str) or not page.tree[key]:
            raise refuse(page, (key,), f"the cover page does not say '{key}'", f"Add the line '{key}: ...'.")
    _date(page, ("date",), page.tree["date"])
    for key in FRAME:
        if key in page.tree and page.tree[key] != cover.document.tree[key]:
            raise refuse(
                page, (key,), f"'{key}' differs from the shipped book, over which this one is laid",
                f"Leave '{key}' out, or copy it unchanged; own rules go into the folders that are named there.",
            )  # fmt: skip


def _withdrawn(page: Document, beneath: Mapping[str, Written], laid: Mapping[str, Written]) -> dict[str, int]:
    entry = page.tree.get("withdraw", [])
    if not isinstance(entry, list):
        raise refuse(page, ("withdraw",), "withdraw is a list of rules", "Write '[folder/rule, folder/other_rule]'.")
    found: dict[str, int] = {}
    for number, said in enumerate(entry):
        path: Path = ("withdraw", number)
        place = str(said).removesuffix(ENDING)
        rules = [known.removesuffix(ENDING) for known in beneath if _top(known) != TABLES]
        if _top(place) == TABLES:
            raise refuse(
                page, path, f"'{place}' is a table, and a table cannot be withdrawn: its numbers are needed",
                f"Lay a table of your own over it, in {place}{ENDING}.",
            )  # fmt: skip
        if place not in rules:
            near = suggest(place, rules)
            hint = f"Did you mean '{near}'?" if near else "Write its folder and file, such as 'folder/rule'."
            raise refuse(page, path, f"the shipped book has no rule '{place}'", hint)
        if f"{place}{ENDING}" in laid:
            raise refuse(
                page, path, f"'{place}' is withdrawn, and yet {place}{ENDING} stands in this folder",
                "Delete the file, or this entry.",
            )  # fmt: skip
        if place in found:
            raise refuse(page, path, f"'{place}' is withdrawn twice", "Keep one of the two.")
        found[place] = page.line(path)
    return found


def _approvals(page: Document) -> tuple[Approval, ...]:
    entry = page.tree.get("looser", [])
    if not isinstance(entry, list):
        raise refuse(page, ("looser",), "looser is a list, each entry with a dash", f"Write '- {APPROVAL}'.")
    approvals: dict[str, Approval] = {}
    for number, row in enumerate(entry):
        path = ("looser", number)
        approval = _approval(page, path, row)
        if approval.place in approvals:
            line = approvals[approval.place].at
            raise refuse(page, path, f"'{approval.place}' stands on line {line} already", "Keep one of the two.")
        approvals[approval.place] = approval
    return tuple(approvals.values())


def _approval(page: Document, path: Path, row: Tree) -> Approval:
    kinds = [kind for kind in _KINDS if isinstance(row, dict) and kind in row]
    if not isinstance(row, dict) or len(kinds) != 1:
        raise refuse(page, path, "this does not say which rule or which table is looser", f"Write '{APPROVAL}'.")
    known = (*kinds, *ANSWERS)
    refuse_unknown_keys(page, path, row, known, "an entry", f"Write '{APPROVAL}'.")
    for key in known:
        if not isinstance(row.get(key), str) or not str(row[key]).strip():
            raise refuse(page, (*path, key), f"this entry does not say '{key}'", f"Write '{APPROVAL}'.")
    return Approval(
        place=str(row[kinds[0]]).removesuffix(ENDING),
        approved_by=str(row["approved by"]),
        on=_date(page, (*path, "on"), row["on"]),
        why=str(row["why"]),
        at=page.line(path),
    )


def _date(page: Document, path: Path, said: Tree) -> date:
    try:
        return date.fromisoformat(str(said))
    except ValueError:
        raise refuse(page, path, f"'{said}' is no date", "Write year-month-day, such as 2026-11-25.") from None
