"""What a rulebook means for cases: two books of one sense answer every case alike, to the letter."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from mendbook.proof.region import is_inhabited
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Op, Rule, simplify


def sense(book: Rulebook) -> dict[str, Any]:
    """Return all of `book` that an answer can hang on: not its examples, nor where in a file a line stands."""
    return {
        "cover": (book.edition, book.date, book.owner, book.verdicts, book.stages, book.methods),
        "not covered": frozenset(map(repr, book.not_covered)),
        "rules": {rule.id: _rule(rule, book) for rule in book.rules},
        "tables": {
            table.name: (table.gives, table.unit, frozenset(
                (_box((*table.applies, *row.bounds)), row.numbers)
                for row in table.rows
                if is_inhabited((*table.applies, *row.bounds), book.vocabulary)
            ))
            for table in book.tables
        },
        "facts": dict(book.vocabulary.facts),
        # Clauses measure a book; no answer hangs on them.
        "sources": {
            name: replace(source, clauses=()) for name, source in book.sources.items() if name in _cited(book)
        },
    }  # fmt: skip


def _rule(rule: Rule, book: Rulebook) -> Any:
    spoken = frozenset(
        (_box(bounds), line.outcome, line.because, line.sources, _box(line.bounds))
        for place, bounds in rule.exclusive_conditions()
        if is_inhabited(bounds, book.vocabulary)
        for line in (rule.lines[place],)
    )
    return rule.name, rule.stage, rule.subject, spoken


def _cited(book: Rulebook) -> set[str]:
    return {citation.source for rule in book.rules for line in rule.lines for citation in line.sources}


def _box(bounds: Iterable[Bound]) -> frozenset[tuple[str, Op, float, frozenset[str]]]:
    return frozenset((b.fact, b.op, b.number, frozenset(b.values)) for b in simplify(tuple(bounds)))
