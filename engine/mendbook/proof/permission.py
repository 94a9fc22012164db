"""May an own book say what it says? Stricter is free, looser needs somebody to answer for it, law and stops stay."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from importlib.resources.abc import Traversable

from mendbook.proof.cells import find_overlapping_tables
from mendbook.proof.loosenings import Loosening, find_loosenings
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.layer import APPROVAL, TABLES, Approval, OwnBook
from mendbook.rulebook.limits import LimitTable
from mendbook.terms.spelling import suggest

SHOWN = 3  # looser regions of one rule or table that a message spells out


def open_permitted(
    rules: Traversable, knowledge: Traversable, own: Traversable | None = None, *, today: date | None = None
) -> Rulebook:
    """Read a rulebook, with the shop's own book in the folder `own` laid over it where it may say what it says.

    Raises RulebookError with every place where it may not, with file, line and what to write.
    """
    book = open_book(rules, knowledge, own)
    if own is not None:
        beneath = open_book(rules, knowledge)
        check_tables(beneath, book)
        if faults := list(find_unpermitted(beneath, book, today or date.today())):
            raise RulebookError("\n".join(faults))
    return book


def check_tables(beneath: Rulebook, book: Rulebook) -> None:
    """Refuse tables of an own book that the machine could not look up, or would find two numbers in."""
    own = {table.id: table for table in book.tables}
    faults = [fault for table in beneath.tables for fault in _misshapen(table, own[table.id])]
    if faults := faults or list(find_overlapping_tables(book)):
        raise RulebookError("\n".join(faults))


def find_unpermitted(beneath: Rulebook, book: Rulebook, today: date) -> Iterator[str]:
    """Yield one fault for each rule or table that is looser than `beneath` though nobody may, or does, allow it.

    An entry that allows what is not looser is a fault too: it would let a later change pass unseen.
    """
    if book.own is None:
        return
    own = book.own
    found: defaultdict[str, list[Loosening]] = defaultdict(list)
    for one in find_loosenings(beneath, book):
        found[one.place].append(one)
    for place, losses in found.items():
        bound = [one for one in losses if one.bound]
        for one in bound[:SHOWN]:
            yield f"{one.where}: {one.what}\n  {one.bound}"
        if not bound and own.approval(place) is None:
            yield _unanswered(place, losses, own)
    for approval in own.approvals:
        yield from _approval_faults(approval, own, book, today, is_needed=approval.place in found)


def _unanswered(place: str, losses: list[Loosening], own: OwnBook) -> str:
    shown = "; ".join(one.what for one in losses[:SHOWN])
    more = f"; and {len(losses) - SHOWN} more" if len(losses) > SHOWN else ""
    return (
        f"{losses[0].where}: {shown}{more}\n  Tighten it again, or let somebody answer for '{place}' on the cover "
        f"{own.cover.name}, under 'looser': - {APPROVAL}"
    )


def _approval_faults(
    approval: Approval, own: OwnBook, book: Rulebook, today: date, *, is_needed: bool
) -> Iterator[str]:
    where = f"{own.cover.name}:{approval.at}"
    if approval.on > today:
        yield f"{where}: {approval.on} is still to come\n  Write the day on which '{approval.place}' was approved."
    if is_needed:
        return
    known = [*(rule.id for rule in book.rules), *(table.id for table in book.tables), *own.withdrawn]
    if approval.place in known:
        yield (
            f"{where}: '{approval.place}' is nowhere looser than in the shipped book\n"
            "  Delete the entry: left standing it would let a later change pass unseen."
        )
        return
    near = suggest(approval.place, known)
    hint = f"Did you mean '{near}'?" if near else f"Write its folder and file, such as '{TABLES}/its_file'."
    yield f"{where}: there is no rule or table '{approval.place}'\n  {hint}"


def _misshapen(table: LimitTable, own: LimitTable) -> Iterator[str]:
    """Yield what keeps `own` from standing in for `table`."""
    where = f"{own.file}:1: the table '{own.id}'"
    if own.gives != table.gives:
        yield f"{where} does not give what the shipped one gives\n  Write 'gives: [{', '.join(table.gives)}]'."
    if own.unit != table.unit:
        hint = f"Write 'unit: {table.unit}'" if table.unit else "Leave 'unit' out"
        yield f"{where} is not in the unit of the shipped one\n  {hint}, and its numbers in that."
    strange = sorted(set(own.facts()) - set(table.facts()))
    if strange:
        looks = (
            f"looks at {', '.join(table.facts())} only" if table.facts() else "looks at nothing: it has one row 'all'"
        )
        yield f"{where} looks at '{strange[0]}'\n  The shipped one {looks}. Write a rule of your own for the rest."
    if own.stricter and own.stricter != table.stricter:
        yield f"{where} changes 'stricter when'\n  Copy it from the shipped table, or leave it out."
