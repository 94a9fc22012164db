"""Lower rules to one expression each: which line speaks about a row, if any."""

from collections.abc import Collection, Mapping, Sequence
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
        self._severity = [
            _saying(r, [rank.get(line.outcome.verdict or "", SILENT) for line in r.lines]) for r in self.rules
        ]
        self._holds = [
            _saying(r, [int(line.outcome.hold is not None) for line in r.lines], least=0) for r in self.rules
        ]
        self._stops = [
            _saying(r, [int(line.outcome.stop is not None) for line in r.lines], least=0) for r in self.rules
        ]

        self._asked = [
            [
                (b.fact, frozenset(b.values))
                for b in (*r.applies, *(() if r.is_chart else r.lines[0].bounds))
                if b.op is Op.IN
            ]
            for r in self.rules
        ]

    def speak(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return one column a rule, named by its id: the line that spoke about each row of `frame`, or SILENT."""
        return frame.select(self._lines)

    def fold(self, frame: pl.DataFrame, possible: Mapping[str, Collection[str]] | None = None) -> pl.DataFrame:
        """Return SEVERITY (rank of the most severe verdict, or SILENT), HOLDS and STOPS for each row of `frame`.

        `possible` tells which values a listed fact takes in the frame at all; a rule that asks for others is
        left out, which changes no answer and saves most of the work for a single case.
        """
        heard = self._heard(possible or {})
        severity = [e for n in heard if (e := self._severity[n]) is not None]
        holds = [e > 0 for n in heard if (e := self._holds[n]) is not None]
        stops = [e > 0 for n in heard if (e := self._stops[n]) is not None]
        silent, none = (
            pl.repeat(SILENT, frame.height, dtype=pl.Int16),
            pl.repeat(0, frame.height, dtype=pl.Int16),
        )
        return frame.select(
            (pl.max_horizontal(severity) if severity else silent).alias(SEVERITY),
            (pl.sum_horizontal(holds).cast(pl.Int16) if holds else none).alias(HOLDS),
            (pl.sum_horizontal(stops).cast(pl.Int16) if stops else none).alias(STOPS),
        )

    def _heard(self, possible: Mapping[str, Collection[str]]) -> list[int]:
        """Return the places of the rules that may speak."""
        return [
            place
            for place, asked in enumerate(self._asked)
            if all(fact not in possible or not values.isdisjoint(possible[fact]) for fact, values in asked)
        ]


def _saying(rule: Rule, says: Sequence[int], least: int = SILENT) -> pl.Expr | None:
    """Return the expression for `says`, None when no line says anything."""
    return lines(rule, says) if any(number > least for number in says) else None
