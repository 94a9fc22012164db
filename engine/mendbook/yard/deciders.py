"""Which line of which rule decided, and how much room it left: found for all rows at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

import polars as pl

from mendbook.columns.speak import SCORE, SILENT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.tree import Bound, Op, Rule
from mendbook.terms.vocabulary import Worse
from mendbook.triage.findings import order_of

DECIDED_BY, LINE, LIMIT, MARGIN, MARGIN_OF = "decided by", "line", "limit", "margin", "margin of"
_SPEAKER, _PLACE = "speaker", "place"


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
        self._looked_at = {SCORE, *(bound.fact for one in self.speakers for bound in _numbers(one))}
        self._rooms = [self._room(one) for one in self.speakers]
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
            return [self._words.clear().with_columns(_NO_ROOM)] * len(frames)
        told = self._tell(pl.concat(looked_at, how="diagonal"))
        starts = [0, *accumulate(frame.height for frame in frames)]
        return [told.slice(start, frame.height) for start, frame in zip(starts, frames, strict=False)]

    def _tell(self, rows: pl.DataFrame) -> pl.DataFrame:
        said = pl.col(SCORE).fill_null(SILENT) >= 0
        speaker = pl.when(said).then(pl.col(SCORE) % len(self.speakers)).cast(pl.UInt32)
        # Rows of one line stand together, so that the room of each is told in one go.
        told = rows.with_columns(speaker.alias(_SPEAKER)).with_row_index(_PLACE).sort(_SPEAKER, nulls_last=True)
        first, rooms = 0, []
        for length, number in told.get_column(_SPEAKER).rle().struct.unnest().iter_rows():
            room = _NO_ROOM if number is None else self._rooms[number]
            rooms.append(told.slice(first, length).select(_PLACE, *room))
            first += length
        words = self._words[told.get_column(_SPEAKER)]
        return words.hstack(pl.concat(rooms)).sort(_PLACE).drop(_PLACE)

    def _word_table(self) -> pl.DataFrame:
        rows = [
            (one.rule.id, one.rule.lines[one.line].at, "; ".join(spell_bounds([bound]) for bound in one.bounds))
            for one in self.speakers
        ]
        return pl.DataFrame(rows, {DECIDED_BY: pl.String, LINE: pl.Int32, LIMIT: pl.String}, orient="row")

    def _room(self, speaker: Speaker) -> Sequence[pl.Expr]:
        """Return MARGIN and MARGIN_OF: of the bound with the least room, as a share of its own number."""
        numbers = _numbers(speaker)
        if not numbers:
            return _NO_ROOM
        margins = [self._margin(bound) for bound in numbers]
        shares = [(m / pl.lit(max(abs(b.number), 1e-9))) for m, b in zip(margins, numbers, strict=True)]
        least, margin, name = shares[0], margins[0], pl.lit(numbers[0].fact)
        for share, other, bound in zip(shares[1:], margins[1:], numbers[1:], strict=True):
            margin = pl.when(share < least).then(other).otherwise(margin)
            name = pl.when(share < least).then(pl.lit(bound.fact)).otherwise(name)
            least = pl.min_horizontal(least, share)
        return [margin.round(3).alias(MARGIN), name.alias(MARGIN_OF)]

    def _margin(self, bound: Bound) -> pl.Expr:
        value = pl.col(bound.fact)
        is_floor = self._book.vocabulary[bound.fact].worse is Worse.SMALLER
        return value - bound.number if is_floor else bound.number - value


def _numbers(speaker: Speaker) -> list[Bound]:
    return [bound for bound in speaker.bounds if bound.op is not Op.IN]


_NO_ROOM = (pl.lit(None, pl.Float64).alias(MARGIN), pl.lit(None, pl.String).alias(MARGIN_OF))
