"""The end of the report: what was assumed, and which program and rulebook judged."""

from collections.abc import Iterator

from rich.console import RenderableType

from mendbook.card.layout import hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain
from mendbook.card.wording import approval_words
from mendbook.terms.docket import Docket, OwnBookNote

FEW = 3  # facts; a value that fewer share does not get a line of its own
DIGITS = 12  # of the rulebook's digest; the docket holds all


def assumed(docket: Docket) -> RenderableType | None:
    """Return what the case leaves out and how it was read, None when it leaves out nothing."""
    if not docket.assumed:
        return None
    facts: dict[str, list[str]] = {}
    for fact, value in docket.assumed.items():
        facts.setdefault(plain(value), []).append(plain(fact))
    rows = [f"{value}: {', '.join(names)}" for value, names in facts.items() if len(names) >= FEW]
    single = [f"{name} {value}" for value, names in facts.items() if len(names) < FEW for name in names]
    if single:
        rows.append(", ".join(single))
    return stack(heading("Assumed, since the case does not say"), hanging([("-", line(f"{row}.")) for row in rows]))


def imprint(docket: Docket, width: int) -> RenderableType:
    """Return which program and rulebook judged, and when."""
    book = docket.rulebook
    rows = [
        ("Judged", f"{plain(docket.judged)} by mendbook {plain(docket.mendbook)}, {plain(docket.evaluator)}"),
        ("Rulebook", f"{plain(book.edition)}, {plain(book.date)}, {plain(book.digest)[:DIGITS]}"),
        ("Owner", plain(book.owner)),
        *_own(book.own),
        ("Road law", plain(docket.law)),
    ]
    return stack(heading("Record"), labelled(rows, width))


def _own(book: OwnBookNote | None) -> Iterator[tuple[str, str]]:
    """Yield what the shop's own book is, its owner, and all that is looser in it with who answers for it."""
    if book is None:
        return
    yield "Own book", f"{plain(book.name)}, {plain(book.edition)}, {plain(book.date)}, {plain(book.digest)[:DIGITS]}"
    yield "Its owner", plain(book.owner)
    yield from (("Looser", f"{plain(one.place)}: {approval_words(one)}") for one in book.looser)
