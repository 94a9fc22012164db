"""Rules as formulas: when each line of a rule speaks."""

from collections.abc import Mapping, Sequence

import z3

from mendbook.proof.symbols import Finite, Symbol, Truth, all_of, any_of, exact, opposite
from mendbook.rulebook.tree import Bound, Op, Rule

Row = Mapping[str, Symbol]


def meets(bound: Bound, row: Row) -> z3.BoolRef:
    """Return when `bound` holds for the facts of `row`."""
    symbol = row[bound.fact]
    if isinstance(symbol, Finite):
        return symbol.where(lambda value: value is not None and bound.holds(value))
    if isinstance(symbol, Truth):
        raise TypeError(f"'{bound.fact}' is a condition, not a fact")
    limit, value = exact(bound.number), symbol.term
    match bound.op:
        case Op.UP_TO:
            holds = value <= limit
        case Op.BELOW:
            holds = value < limit
        case Op.AT_LEAST:
            holds = value >= limit
        case _:
            holds = value > limit
    return all_of((holds, opposite(symbol.null)))


def meets_all(bounds: Sequence[Bound], row: Row) -> z3.BoolRef:
    """Return when all `bounds` hold for `row`."""
    return all_of(meets(bound, row) for bound in bounds)


def speaks(rule: Rule, row: Row) -> tuple[z3.BoolRef, ...]:
    """Return for each line of `rule` when it is the one that decides."""
    left = meets_all(rule.applies, row)
    found = []
    for line in rule.lines:
        fits = meets_all(line.bounds, row)
        found.append(all_of((left, fits)))
        left = all_of((left, opposite(fits)))
    return tuple(found)


class Speech:
    """What all rules of a book say about one row: the most severe verdict, holds, stops, what is ruled out."""

    def __init__(self, rules: Sequence[Rule], row: Row, verdicts: Sequence[str]) -> None:
        self.lines = {rule.id: speaks(rule, row) for rule in rules}
        self.rules = tuple(rules)
        self._verdicts = tuple(verdicts)

    def at_least(self, rank: int) -> z3.BoolRef:
        """Return when some rule says the verdict of `rank`, or a more severe one."""
        severe = frozenset(self._verdicts[rank:])
        return any_of(
            guard
            for rule in self.rules
            for line, guard in zip(rule.lines, self.lines[rule.id], strict=True)
            if line.outcome.verdict in severe
        )

    def says(self, word: str) -> z3.BoolRef:
        """Return when some rule says `word`: hold, stop, rule out, cap, do or caution."""
        return any_of(
            guard
            for rule in self.rules
            for line, guard in zip(rule.lines, self.lines[rule.id], strict=True)
            if word in line.outcome.words()
        )

    def rules_out(self, method: str) -> z3.BoolRef:
        """Return when some rule rules out `method`."""
        return any_of(
            guard
            for rule in self.rules
            for line, guard in zip(rule.lines, self.lines[rule.id], strict=True)
            if method in line.outcome.rule_out
        )
