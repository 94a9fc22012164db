"""A concrete case on a boundary that moved: one that a changed rule or table makes come out otherwise."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cached_property

import z3

from mendbook.audit.derived import relate
from mendbook.audit.finder import Finder
from mendbook.audit.relations import Relations
from mendbook.audit.witness import Witness
from mendbook.facts.derive import Derivation
from mendbook.proof.speech import meets_all
from mendbook.proof.symbols import any_of
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound
from mendbook.triage.fit import find_misfits
from mendbook.triage.shop import set_up

PATIENCE_MS = 8_000  # of one question: a case is a help here, and no proof hangs on it
WORDS = ("hold", "stop")


class FlipFinder:
    """Finds cases that one change alone makes come out otherwise: the old book with one rule or table of the new.

    What is written is the same in both; what follows is each book's own.
    """

    def __init__(self, then: Rulebook, now: Rulebook) -> None:
        self._then, self._now = then, now
        self._mixed: dict[str, Relations | None] = {}

    @cached_property
    def _finder(self) -> Finder:
        return Finder(set_up(self._then), PATIENCE_MS)

    def find(self, place: str, box: Iterable[Bound]) -> Witness | None:
        """Return a case in `box` to which the rule or table at `place` gives another verdict, hold or stop, if any."""
        if place not in self._mixed:
            self._mixed[place] = self._relate(place)
        mixed = self._mixed[place]
        bounds = tuple(box)
        if mixed is None or any(bound.fact not in mixed.row for bound in bounds):
            return None
        differs = _differs(self._finder.relations, mixed, len(self._then.verdicts))
        return next(iter(self._finder.find_pair(mixed, meets_all(bounds, mixed.row), differs)), None)

    def _relate(self, place: str) -> Relations | None:
        """Return the old book's case with what the new has at `place`; None where the two do not fit together."""
        rules = {rule.id: rule for rule in self._then.rules}
        tables = {table.id: table for table in self._then.tables}
        rules |= {rule.id: rule for rule in self._now.rules if rule.id == place}
        tables |= {table.id: table for table in self._now.tables if table.id == place}
        book = replace(self._then, rules=tuple(rules.values()), tables=tuple(tables.values()))
        known = all(name in book.vocabulary for rule in book.rules for name in rule.facts())
        if self._then.verdicts != self._now.verdicts or not known or find_misfits(book):
            return None
        return relate(book, Derivation(book), self._finder.relations)


def _differs(then: Relations, now: Relations, verdicts: int) -> z3.BoolRef:
    pairs = [(then.at_least(rank), now.at_least(rank)) for rank in range(1, verdicts)]
    pairs += [(then.says(word), now.says(word)) for word in WORDS]
    return any_of(one != other for one, other in pairs)
