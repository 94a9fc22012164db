"""Every limit of a rulebook with its source."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.source import KINDS
from mendbook.rulebook.tree import Citation


@dataclass(frozen=True)
class Cited:
    """One citation: what is said where, within which limits, and on what it rests.

    `place` is the rule or table and the line in its file; `is_first` marks the source that carries the line,
    the others stand beside it. `is_own` marks a rule or table that the shop's own book added or changed, `looser` says
    who answers for it where it is looser than the one beneath.
    """

    place: str
    line: int
    says: str
    limit: str
    kind: str
    source: str
    passage: str
    known: str
    is_first: bool
    is_own: bool = False
    looser: str = ""


def cite(book: Rulebook) -> tuple[Cited, ...]:
    """Return every citation of `book`: the lines of its rules in order, then its tables."""
    return (*_rules(book), *_tables(book))


def count_kinds(cited: tuple[Cited, ...]) -> dict[str, int]:
    """Return how many lines and tables rest on each kind of source, by the source that carries them."""
    found = Counter(one.kind for one in cited if one.is_first)
    return {kind: found[kind] for kind in KINDS}


def _rules(book: Rulebook) -> Iterator[Cited]:
    for rule in book.rules:
        for number, line in enumerate(rule.lines):
            is_last = rule.is_chart and number == len(rule.lines) - 1
            limit = "otherwise" if is_last else spell_bounds(line.bounds)
            says = line.outcome.verdict or ", ".join(line.outcome.words())
            for place, citation in enumerate(line.sources):
                yield _cited(book, citation, rule.id, line.at, says, limit, is_first=place == 0)


def _tables(book: Rulebook) -> Iterator[Cited]:
    for table in book.tables:
        said = f"{len(table.rows)} rows of {', '.join(table.gives)}"
        yield _cited(book, table.source, table.id, 1, said, "", is_first=True)


def _cited(
    book: Rulebook, citation: Citation, place: str, line: int, says: str, limit: str, *, is_first: bool
) -> Cited:  # fmt: skip
    source = book.sources[citation.source]
    own = book.own
    approval = own.approval(place) if own else None
    known = source.known_at(citation.place)
    return Cited(
        place, line, says, limit, source.kind, citation.source, citation.place, known, is_first,
        is_own=own is not None and place in own.places,
        looser=f"{approval.approved_by}, {approval.on}: {approval.why}" if approval else "",
    )  # fmt: skip
