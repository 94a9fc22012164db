"""Whose a rule is, and what of that which stands behind it the shop's own book made looser."""

from mendbook.facts.feeding import FED_BY
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.layer import Approval
from mendbook.rulebook.sentences import placeholders
from mendbook.rulebook.tree import Rule
from mendbook.terms.docket import Approved, BookNote, OwnBookNote


def book_note(book: Rulebook) -> BookNote:
    """Return which rulebook judges, with the own book that is laid over it."""
    own = book.own
    note = own and OwnBookNote(
        name=own.name, edition=own.edition, date=own.date, owner=own.owner, digest=own.digest,
        looser=tuple(map(_approved, own.approvals)),
    )  # fmt: skip
    return BookNote(edition=book.edition, date=book.date, owner=book.owner, digest=book.digest, own=note)


def is_own(rule: Rule, book: Rulebook) -> bool:
    """Return whether the own book added or changed `rule`, or its cover page makes it."""
    return book.own is not None and (rule.id in book.own.places or rule.file == book.own.cover.name)


def approvals_behind(rule: Rule, book: Rulebook) -> tuple[Approved, ...]:
    """Return who answers for `rule`, where it is looser, and for each looser table that feeds a fact it looks at."""
    if book.own is None or not book.own.approvals:
        return ()
    seen = rule.facts() | {name for line in rule.lines for name in placeholders(line.because)}
    numbers = {number for fact in seen for number in FED_BY.get(fact, ())}
    tables = {table.id for table in book.tables if numbers & set(table.gives)}
    return tuple(_approved(one) for one in book.own.approvals if one.place == rule.id or one.place in tables)


def _approved(one: Approval) -> Approved:
    return Approved(place=one.place, approved_by=one.approved_by, on=one.on.isoformat(), why=one.why)
