"""Every possible case gets a verdict: shown of the rules, over all facts within their ranges."""

from collections.abc import Mapping, Sequence

import z3

from mendbook.proof.speech import Speech, meets_all
from mendbook.proof.symbols import Symbol, opposite
from mendbook.proof.unknowns import unknown
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule


class FreeCase:
    """One case of facts that are free within their ranges, and the rules that speak of it."""

    def __init__(self, book: Rulebook, rules: Sequence[Rule]) -> None:
        self._solver = z3.Solver()
        self.row: dict[str, Symbol] = {}
        for fact in book.vocabulary:
            self.row[fact.name], within = unknown(fact)
            self._solver.add(within)
        self.speech = Speech(rules, self.row, book.verdicts)

    def is_possible(self, *conditions: z3.BoolRef) -> bool:
        """Return whether the facts can be so; what the solver cannot settle counts as possible."""
        self._solver.push()
        self._solver.add(*conditions)
        answer = self._solver.check()
        self._solver.pop()
        return bool(answer != z3.unsat)


def is_covered(book: Rulebook, rules: Sequence[Rule]) -> bool:
    """Return whether `rules` say some verdict whatever the facts, but for what the cover page leaves to others."""
    case = FreeCase(book, rules)
    return not case.is_possible(*uncovered(book, case.row, case.speech))


def uncovered(book: Rulebook, row: Mapping[str, Symbol], speech: Speech) -> tuple[z3.BoolRef, ...]:
    """Return the conditions that no rule says a verdict, and the case is not one left to others."""
    left = (rule.lines[0].bounds for rule in book.not_covered)
    return (opposite(speech.at_least(0)), *(opposite(meets_all(box, row)) for box in left))
