"""One injury on one tyre as unknowns: what a case can say, what follows, and what the rules say of it.

The row stands for a case with one injury, no neighbour and no earlier repair on the map, taken as read.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import TypeAlias

import z3

from mendbook.proof.functions import ExactFunctions, Functions
from mendbook.proof.speech import Speech
from mendbook.proof.symbols import ALWAYS, NEVER, Finite, Number, Plain, Symbol, any_of, exact
from mendbook.proof.unknowns import no_better
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject, Worse
from mendbook.triage.stages import BEFORE_CLASS, PEOPLE, WITH_CLASS

Maker: TypeAlias = Callable[[str], tuple[Symbol, z3.BoolRef]]


@dataclass
class Relations:
    """The row, the conditions that hold of every case, and what the rules of each group of stages say of it.

    A `twin` is another case of which this one differs in the facts `freed` alone, and in those is no better.
    """

    book: Rulebook
    twin: "Relations | None" = None
    freed: Collection[str] = ()
    functions: Functions = field(default_factory=ExactFunctions)
    row: dict[str, Symbol] = field(default_factory=dict)
    written: dict[str, Symbol] = field(default_factory=dict)
    conditions: list[z3.BoolRef] = field(default_factory=list)
    speech: dict[tuple[tuple[str, ...], Subject], Speech] = field(default_factory=dict)
    is_in_one_zone: z3.BoolRef = NEVER

    def put(self, name: str, make: Maker) -> Symbol:
        """Add what a case says for `name`: an unknown of its own, or that of the twin."""
        if self.twin is not None and name in self.twin.written and name not in self.freed:
            symbol = self.twin.written[name]
        else:
            symbol, condition = make(name if self.twin is None else f"{name}'")
            self.conditions.append(condition)
            if self.twin is not None and name in self.twin.written:
                self.conditions.append(self._is_no_better(name, symbol))
        self.row[name] = self.written[name] = symbol
        return symbol

    def require(self, *conditions: z3.BoolRef) -> None:
        """Add conditions that hold of every case."""
        self.conditions.extend(conditions)

    def listen(self, stages: tuple[str, ...], subject: Subject) -> Speech:
        """Return what the rules of `stages` about `subject` say of the row as it is at the first asking."""
        key = (stages, subject)
        if key not in self.speech:
            rules = [rule for rule in self.book.rules_of(*stages) if rule.subject is subject]
            self.speech[key] = Speech(rules, self.row, self.book.verdicts)
        return self.speech[key]

    def at_least(self, rank: int) -> z3.BoolRef:
        """Return when a rule of any stage up to the verdict says the verdict of `rank`, or a more severe one."""
        return any_of(speech.at_least(rank) for speech in self._of_the_verdict())

    def says(self, word: str) -> z3.BoolRef:
        """Return when a rule of any stage up to the verdict says `word`."""
        return any_of(speech.says(word) for speech in self._of_the_verdict())

    def rules_out(self, method: str) -> z3.BoolRef:
        """Return when a rule of any stage rules out `method`."""
        return any_of(speech.rules_out(method) for speech in self.speech.values())

    def says_at_all(self, word: str) -> z3.BoolRef:
        """Return when a rule of any stage says `word`, how the repair is done among them."""
        return any_of(speech.says(word) for speech in self.speech.values())

    def _of_the_verdict(self) -> list[Speech]:
        stages = (PEOPLE, BEFORE_CLASS, WITH_CLASS)
        return [self.listen(some, subject) for some in stages for subject in Subject]

    def _is_no_better(self, name: str, symbol: Symbol) -> z3.BoolRef:
        """Return when `symbol` is no better than what the twin says; what is no fact has no direction."""
        fact = self.book.vocabulary.facts.get(name)
        one = self.twin.written[name] if self.twin else symbol
        if fact is None:
            return ALWAYS
        values: list[Plain] = list(fact.values or (one.cases if isinstance(one, Finite) else ()))
        if not fact.is_listed:
            values.sort(key=lambda value: float(value or 0.0), reverse=fact.worse is Worse.SMALLER)
        return no_better(fact.worse, values, one, symbol)

    def equals(self, name: str, value: Plain) -> z3.BoolRef:
        """Return when the fact `name` is `value`."""
        return equals(self.row[name], value)

    def is_written(self, name: str, value: Plain) -> z3.BoolRef:
        """Return when `value` is what the case says for `name`."""
        return equals(self.written[name], value)


def equals(symbol: Symbol, value: Plain) -> z3.BoolRef:
    """Return when `symbol` is `value`."""
    if isinstance(symbol, Finite):
        return symbol.cases.get(value, NEVER)
    assert isinstance(symbol, Number)
    assert value is not None
    return symbol.term == exact(float(value))
