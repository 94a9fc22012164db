"""Which line of which rule decided, and how much room it left: found for all rows at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns.speak import SCORE, SILENT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.tree import Bound, Op, Rule
from mendbook.terms.vocabulary import Worse
from mendbook.triage.findings import order_of

DECIDED_BY, LINE, LIMIT, MARGIN, MARGIN_OF = "decided by", "line", "limit", "margin", "margin of"


@dataclass(frozen=True)
class Speaker:
    """A line of a rule that says a verdict."""

    rule: Rule
    line: int

    @property
    def bounds(self) -> Sequence[Bound]:
        """What it looks at; the end of a chart says no to what the line above allows."""
        own = self.rule.lines[self.line].bounds
        return own or (self.rule.lines[self.line - 1].bounds if self.line else ())


class Deciders:
    """Every line that says a verdict, in the order in which the one that decided is chosen."""

    def __init__(self, book: Rulebook, stages: Sequence[str]) -> None:
        self._book = book
        rules = book.rules_of(*stages)
        speakers = [
            Speaker(rule, n) for rule in rules for n, line in enumerate(rule.lines) if line.outcome.verdict is not None
        ]
        # The best of each verdict has the highest score.
        self.speakers = tuple(
            sorted(speakers, key=lambda s: order_of(s.rule, s.rule.lines[s.line].at, book), reverse=True)
        )
        self._place = {(s.rule.id, s.line): n for n, s in enumerate(self.speakers)}

    def score(self, rule: Rule, line: int) -> int:
        """Return the SCORE of a line: the rank of its verdict and, among lines of one verdict, its place; or SILENT."""
        verdict = rule.lines[line].outcome.verdict
        if verdict is None:
            return SILENT
        return self._book.rank(verdict) * len(self.speakers) + self._place[rule.id, line]

    def rank(self, score: pl.Expr) -> pl.Expr:
        """Return the rank of the verdict in `score`, SILENT where nothing was said."""
        return pl.when(score < 0).then(SILENT).otherwise(score // len(self.speakers))

    def tell(self, rows: pl.DataFrame) -> pl.DataFrame:
        """Return DECIDED_BY, LINE, LIMIT, MARGIN and MARGIN_OF for each of `rows`, which hold SCORE and every fact."""
        parts = []
        numbered = rows.with_row_index("place")
        for (score,), part in numbered.group_by(SCORE, maintain_order=True):
            if score is None or int(str(score)) < 0:
                parts.append(part.select("place", *_nothing()))
                continue
            speaker = self.speakers[int(str(score)) % len(self.speakers)]
            parts.append(part.select("place", *self._told(speaker)))
        if not parts:
            return rows.select(*_nothing())
        return pl.concat(parts).sort("place").drop("place")

    def _told(self, speaker: Speaker) -> list[pl.Expr]:
        numbers = [bound for bound in speaker.bounds if bound.op is not Op.IN]
        margins = [self._margin(bound) for bound in numbers]
        shares = [(m / pl.lit(max(abs(b.number), 1e-9))) for m, b in zip(margins, numbers, strict=True)]
        told = [
            pl.lit(speaker.rule.id).alias(DECIDED_BY),
            pl.lit(speaker.rule.lines[speaker.line].at, pl.Int32).alias(LINE),
            pl.lit("; ".join(spell_bounds([bound]) for bound in speaker.bounds)).alias(LIMIT),
        ]
        if not margins:
            return [*told, *_nothing()[3:]]
        # The bound with the least room, as a share of its own number.
        least, margin, name = shares[0], margins[0], pl.lit(numbers[0].fact)
        for share, other, bound in zip(shares[1:], margins[1:], numbers[1:], strict=True):
            margin = pl.when(share < least).then(other).otherwise(margin)
            name = pl.when(share < least).then(pl.lit(bound.fact)).otherwise(name)
            least = pl.min_horizontal(least, share)
        return [*told, margin.round(3).alias(MARGIN), name.alias(MARGIN_OF)]

    def _margin(self, bound: Bound) -> pl.Expr:
        value = pl.col(bound.fact)
        is_floor = self._book.vocabulary[bound.fact].worse is Worse.SMALLER
        return value - bound.number if is_floor else bound.number - value


def _nothing() -> list[pl.Expr]:
    return [
        pl.lit(None, pl.String).alias(DECIDED_BY),
        pl.lit(None, pl.Int32).alias(LINE),
        pl.lit(None, pl.String).alias(LIMIT),
        pl.lit(None, pl.Float64).alias(MARGIN),
        pl.lit(None, pl.String).alias(MARGIN_OF),
    ]
