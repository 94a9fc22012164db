"""Lower rules to one expression each: which line speaks about a row, if any."""

from collections.abc import Sequence
from functools import reduce
from operator import and_

import polars as pl

from mendbook.rulebook.tree import Bound, Op, Rule

SEVERITY = "severity"
HOLDS = "holds"
STOPS = "stops"
SILENT = -1


def condition(bound: Bound) -> pl.Expr:
    """Return the expression that holds where `bound` holds."""
    fact = pl.col(bound.fact)
    match bound.op:
        case Op.IN:
            return fact == bound.values[0] if len(bound.values) == 1 else fact.is_in(list(bound.values))
        case Op.UP_TO:
            return fact <= bound.number
        case Op.BELOW:
            return fact < bound.number
        case Op.AT_LEAST:
            return fact >= bound.number
        case _:
            return fact > bound.number


def conjunction(bounds: Sequence[Bound]) -> pl.Expr:
    """Return the expression that holds where all `bounds` hold."""
    return reduce(and_, map(condition, bounds)) if bounds else pl.lit(value=True)


def lines(rule: Rule, says: Sequence[int]) -> pl.Expr:
    """Return for each row `says[line]` of the line that decides, SILENT where the rule is silent."""
    spoken: pl.Expr = pl.lit(SILENT, pl.Int16)
    for line, number in reversed(list(zip(rule.lines, says, strict=True))):
        spoken = pl.when(conjunction(line.bounds)).then(pl.lit(number, pl.Int16)).otherwise(spoken)
    if rule.applies:
        spoken = pl.when(conjunction(rule.applies)).then(spoken).otherwise(pl.lit(SILENT, pl.Int16))
    return spoken


class Columns:
    """Judges frames of facts against a set of rules. The expressions are built once."""

    def __init__(self, rules: Sequence[Rule], verdicts: Sequence[str]) -> None:
        self.rules = tuple(rules)
        rank = {verdict: place for place, verdict in enumerate(verdicts)}
        self._lines = [lines(rule, range(len(rule.lines))).alias(rule.id) for rule in self.rules]
        severity = [
            lines(rule, [rank.get(line.outcome.verdict or "", SILENT) for line in rule.lines])
            for rule in self.rules
            if any(line.outcome.verdict for line in rule.lines)
        ]
        self._fold = [
            (pl.max_horizontal(severity) if severity else pl.lit(SILENT, pl.Int16)).alias(SEVERITY),
            self._count("hold").alias(HOLDS),
            self._count("stop").alias(STOPS),
        ]

    def speak(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return one column a rule, named by its id: the line that spoke about each row of `frame`, or SILENT."""
        return frame.select(self._lines)

    def fold(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return SEVERITY (rank of the most severe verdict, or SILENT), HOLDS and STOPS for each row of `frame`."""
        return frame.select(self._fold)

    def _count(self, word: str) -> pl.Expr:
        speaking = [
            lines(rule, [int(word in line.outcome.words()) for line in rule.lines]) > 0
            for rule in self.rules
            if any(word in line.outcome.words() for line in rule.lines)
        ]
        return pl.sum_horizontal(speaking).cast(pl.Int16) if speaking else pl.lit(0, pl.Int16)
