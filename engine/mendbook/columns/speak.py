"""Lower rules to one expression each: which line speaks about a row, if any."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import and_

import polars as pl

from mendbook.rulebook.tree import Bound, Op, Rule

SEVERITY = "severity"
HOLDS = "holds"
STOPS = "stops"
SCORE = "score"  # of the line that says the most severe verdict, where lines are told apart
SILENT = -1

Score = Callable[[Rule, int], int]


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


def lines(rule: Rule, says: Sequence[int], kind: type[pl.DataType] = pl.Int16) -> pl.Expr:
    """Return for each row `says[line]` of the line that decides, SILENT where the rule is silent."""
    spoken: pl.Expr = pl.lit(SILENT, kind)
    for line, number in reversed(list(zip(rule.lines, says, strict=True))):
        spoken = pl.when(conjunction(line.bounds)).then(pl.lit(number, kind)).otherwise(spoken)
    if rule.applies:
        spoken = pl.when(conjunction(rule.applies)).then(spoken).otherwise(pl.lit(SILENT, kind))
    return spoken


@dataclass(frozen=True)
class Instead:
    """What the lines of one rule count as in place of their verdicts, in the rows where `where` holds."""

    rule: str
    says: tuple[int, ...]
    where: pl.Expr


@dataclass(frozen=True)
class _Fold:
    """What one rule says, as expressions; None where it says nothing of the kind."""

    severity: pl.Expr | None
    holds: pl.Expr | None
    stops: pl.Expr | None


class Columns:
    """Judges frames of facts against a set of rules. An expression is built when a rule is first heard, and kept."""

    def __init__(self, rules: Sequence[Rule], verdicts: Sequence[str], score: Score | None = None) -> None:
        """Prepare `rules`.

        score : a number for a line that says a verdict, in place of the rank of the verdict; the highest is kept
        """
        self.rules = tuple(rules)
        self._rank = {verdict: place for place, verdict in enumerate(verdicts)}
        self._score = score
        self._kind = pl.Int16 if score is None else pl.Int32
        self._folds: dict[int, _Fold] = {}
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
        return frame.select([lines(rule, range(len(rule.lines))).alias(rule.id) for rule in self.rules])

    def fold(
        self,
        frame: pl.DataFrame,
        possible: Mapping[str, Collection[str]] | None = None,
        instead: Sequence[Instead] = (),
    ) -> pl.DataFrame:
        """Return SEVERITY (rank of the most severe verdict, or SILENT), HOLDS and STOPS for each row of `frame`.

        `possible` tells which values a listed fact takes in the frame at all; a rule that asks for others is
        left out, which changes no answer and saves most of the work for a single case. `instead` tells where rules
        count otherwise than they say.
        """
        places = self._heard(possible or {})
        heard = [self._folded(place) for place in places]
        severity = [
            self._counted(place, fold.severity, instead)
            for place, fold in zip(places, heard, strict=True)
            if fold.severity is not None
        ]
        holds = [fold.holds > 0 for fold in heard if fold.holds is not None]
        stops = [fold.stops > 0 for fold in heard if fold.stops is not None]
        silent, none = pl.repeat(SILENT, frame.height, dtype=self._kind), pl.repeat(0, frame.height, dtype=pl.Int16)
        return frame.select(
            (pl.max_horizontal(severity) if severity else silent).alias(SEVERITY),
            (pl.sum_horizontal(holds).cast(pl.Int16) if holds else none).alias(HOLDS),
            (pl.sum_horizontal(stops).cast(pl.Int16) if stops else none).alias(STOPS),
        )

    def _folded(self, place: int) -> "_Fold":
        if place not in self._folds:
            rule = self.rules[place]
            outcomes = [line.outcome for line in rule.lines]
            said_by = self._score or (lambda rule, line: self._rank.get(rule.lines[line].outcome.verdict or "", SILENT))
            self._folds[place] = _Fold(
                _saying(rule, [said_by(rule, line) for line in range(len(rule.lines))], kind=self._kind),
                _saying(rule, [int(said.hold is not None) for said in outcomes], least=0),
                _saying(rule, [int(said.stop is not None) for said in outcomes], least=0),
            )
        return self._folds[place]

    def _counted(self, place: int, severity: pl.Expr, instead: Sequence[Instead]) -> pl.Expr:
        """Return what a rule counts as, where `instead` may tell otherwise than `severity`."""
        rule = self.rules[place]
        for one in instead:
            if one.rule == rule.id:
                severity = pl.when(one.where).then(lines(rule, one.says, self._kind)).otherwise(severity)
        return severity

    def _heard(self, possible: Mapping[str, Collection[str]]) -> list[int]:
        """Return the places of the rules that may speak."""
        return [
            place
            for place, asked in enumerate(self._asked)
            if all(fact not in possible or not values.isdisjoint(possible[fact]) for fact, values in asked)
        ]


def _saying(rule: Rule, says: Sequence[int], least: int = SILENT, kind: type[pl.DataType] = pl.Int16) -> pl.Expr | None:
    """Return the expression for `says`, None when no line says anything."""
    return lines(rule, says, kind) if any(number > least for number in says) else None
