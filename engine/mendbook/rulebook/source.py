"""What a rulebook rests on: a source, how far it was read, and what each of its clauses asks of any book."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mendbook.rulebook.tree import Bound

KINDS = ("law", "standard", "guidance", "practice", "house")
READ = "read"

_MARK = re.compile(r"\((read[^)]*|[^)]*from memory)\)$")


@dataclass(frozen=True)
class Clause:
    """What one place of a source asks, written from its text and not from the rules that cite it.

    Wherever all `bounds` hold, a book that heeds the clause says at least the verdict `at_least`, holds, or stops.
    A clause that no fact can express says in `not_expressed` why, and asks for nothing.
    """

    place: str
    says: str
    is_read: bool
    at: int = field(compare=False)
    bounds: tuple[Bound, ...] = ()
    at_least: str | None = None
    holds: bool = False
    stops: bool = False
    because: str = ""
    not_expressed: str = ""

    def is_met(self, verdict: str | None, verdicts: Sequence[str], *, is_held: bool, is_stopped: bool) -> bool:
        """Return whether an answer is as strict as this clause; `verdicts` run from mild to severe.

        A stop, or the most severe verdict, keeps back what a hold would keep back.
        """
        rank = -1 if verdict is None else verdicts.index(verdict)
        is_severe = self.at_least is None or rank >= verdicts.index(self.at_least)
        is_kept = not self.holds or is_held or is_stopped or rank == len(verdicts) - 1
        return is_severe and is_kept and (is_stopped or not self.stops)


@dataclass(frozen=True)
class Source:
    """One publication or basis: what it is, how far it was read, the places that may be cited, and its clauses."""

    id: str
    title: str
    publisher: str
    kind: str
    edition: str
    known: str
    places: Mapping[str, str] | None
    link: str = ""
    clauses: tuple[Clause, ...] = ()

    def known_at(self, place: str) -> str:
        """Return how far the text at `place` was read: a mark at its end, or else what holds for the whole source."""
        mark = _MARK.search((self.places or {}).get(place, ""))
        return mark[1] if mark else self.known
