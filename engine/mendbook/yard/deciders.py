"""Which line of which rule decided, and how much room it left: found for all rows at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

import polars as pl

from mendbook.columns.speak import SCORE, SILENT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.tree import Bound, Rule
from mendbook.triage.findings import order_of
from mendbook.yard.rooms import NO_ROOM, Rooms

DECIDED_BY, LINE, LIMIT = "decided by", "line", "limit"


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
        self._rooms = Rooms([one.bounds for one in self.speakers], book.vocabulary)
        self._looked_at = {SCORE, *self._rooms.facts}
        self._words = self._word_table()

    def score(self, rule: Rule, line: int) -> int:
        """Return the SCORE of a line: the rank of its verdict and, among lines of one verdict, its place; or SILENT."""
        verdict = rule.lines[line].outcome.verdict
        if verdict is None:
            return SILENT
        return self._book.rank(verdict) * len(self.speakers) + self._place[rule.id, line]

    def rank(self, score: pl.Expr) -> pl.Expr:
        """Return the rank of the verdict in `score`, SILENT where nothing was said."""
        return pl.when(score < 0).then(SILENT).otherwise(score // len(self.speakers))

    def tell(self, frames: Sequence[pl.DataFrame]) -> list[pl.DataFrame]:
        """Return DECIDED_BY, LINE, LIMIT, MARGIN and MARGIN_OF for each row of each of `frames`.

        frames : hold SCORE and every fact
        """
        looked_at = [frame.select(n for n in frame.columns if n in self._looked_at) for frame in frames if len(frame)]
        if not looked_at:
            return [self._words.clear().with_columns(NO_ROOM)] * len(frames)
        told = self._tell(pl.concat(looked_at, how="diagonal"))
        starts = [0, *accumulate(frame.height for frame in frames)]
        return [told.slice(start, frame.height) for start, frame in zip(starts, frames, strict=False)]

    def _tell(self, rows: pl.DataFrame) -> pl.DataFrame:
        said = pl.col(SCORE).fill_null(SILENT) >= 0
        number = pl.when(said).then(pl.col(SCORE) % len(self.speakers)).cast(pl.UInt32)
        speaker = rows.select(number).to_series()
        return self._words[speaker].hstack(self._rooms.tell(rows, speaker).get_columns())

    def _word_table(self) -> pl.DataFrame:
        rows = [
            (one.rule.id, one.rule.lines[one.line].at, "; ".join(spell_bounds([bound]) for bound in one.bounds))
            for one in self.speakers
        ]
        return pl.DataFrame(rows, {DECIDED_BY: pl.String, LINE: pl.Int32, LIMIT: pl.String}, orient="row")
