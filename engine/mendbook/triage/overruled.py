"""What an overrule does to a verdict: the reject stays among the findings, and counts as the most a repair can be."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns import Instead
from mendbook.facts.scenarios import INJURY
from mendbook.rulebook.tree import Rule


@dataclass(frozen=True)
class Overruled:
    """The lines of one rule whose reject does not count.

    `injuries` are the numbers of those about which it does not; None means the tyre, or every injury.
    """

    rule: Rule
    lines: frozenset[int]
    injuries: frozenset[int] | None = None

    def is_met(self, line: int, injury: int | None) -> bool:
        """Return whether `line` of the rule, said about `injury` (None for the tyre), is overruled."""
        return line in self.lines and (self.injuries is None or injury in self.injuries)

    def instead(self, verdicts: Sequence[str]) -> Instead:
        """Return what the lines count as, for columns; `verdicts` run from mild to severe."""
        says = [
            most_of_repair(verdicts) if place in self.lines else _rank(line.outcome.verdict, verdicts)
            for place, line in enumerate(self.rule.lines)
        ]
        about = pl.lit(value=True) if self.injuries is None else pl.col(INJURY).is_in(sorted(self.injuries))
        return Instead(self.rule.id, tuple(says), about)


def most_of_repair(verdicts: Sequence[str]) -> int:
    """Return the rank of the most severe verdict under which a tyre is still repaired."""
    return len(verdicts) - 2


def _rank(verdict: str | None, verdicts: Sequence[str]) -> int:
    return -1 if verdict is None else verdicts.index(verdict)
