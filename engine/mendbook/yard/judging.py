"""A yard judged: the passes of a single case over all tyres at once, by the columns."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns import Columns
from mendbook.columns.speak import SCORE, SEVERITY, STOPS
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END, USE, Frames
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject
from mendbook.triage.evaluators import Asked
from mendbook.triage.passes import Judged, Passes
from mendbook.yard.carried import Carried
from mendbook.yard.deciders import Deciders
from mendbook.yard.reading import TYRE


class YardEvaluator:
    """The rule tree as columns, for frames that nobody reads row by row."""

    name = "columns"

    def __init__(self, book: Rulebook, deciders: Deciders) -> None:
        self._book, self._deciders = book, deciders
        self._columns: dict[tuple[tuple[str, ...], Subject], Columns] = {}

    def fold(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> pl.DataFrame:
        """Return SCORE, and by it SEVERITY, with HOLDS and STOPS for each row of `frame`."""
        fold = self.columns(tuple(stages), subject).fold(frame, asked.possible)
        return fold.rename({SEVERITY: SCORE}).with_columns(self._deciders.rank(pl.col(SCORE)).alias(SEVERITY))

    def listen(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> None:
        """Hear nothing: nobody reads a yard line by line."""

    def columns(self, stages: tuple[str, ...], subject: Subject) -> Columns:
        """Return the rules of `stages` about `subject`, lowered once."""
        key = (stages, subject)
        if key not in self._columns:
            rules = [rule for rule in self._book.rules_of(*stages) if rule.subject is subject]
            self._columns[key] = Columns(rules, self._book.verdicts, self._deciders.score)
        return self._columns[key]


@dataclass(frozen=True, kw_only=True)
class YardPasses(Passes):
    """The passes as many tyres ask for them: spacing, and no more facts in the rows of injuries than are `carried`."""

    carried: Carried

    def injuries(self, frames: Frames) -> pl.DataFrame:
        """Return the injury rows with every fact that is carried and needs no repair class."""
        narrow = Frames(self.carried.before(frames.tyres), self.carried.before(frames.injuries))
        return self.carried.after(super().injuries(narrow))

    def pairs(self, frames: Frames) -> Frames:
        """Return the frames with number and spacing."""
        return self.derivation.pairs(frames, self.repairs, self.carried.facts)


@dataclass(frozen=True)
class YardJudged:
    """What the passes say: tyres at which people must not work, and all others."""

    stopped: pl.DataFrame  # tyre rows of those that are stopped
    judged: Judged  # of those that are not


def judge_frames(
    tyres: pl.DataFrame, injuries: pl.DataFrame, passes: Passes, evaluator: YardEvaluator,
    values: Mapping[str, frozenset[str]],
) -> YardJudged:  # fmt: skip
    """Return what the rules say of the laid-out frames; `values` are those that given listed facts take in them."""
    asked = Asked(values)
    people = passes.people(tyres, evaluator, asked)
    counts = (pl.col(STOPS) > 0) & (pl.col(END) != GOOD)
    stopped = people.filter(counts).get_column(TYRE).unique().implode()
    is_stopped = pl.col(TYRE).is_in(stopped)
    going = Frames(people.filter(~is_stopped), injuries.filter(~is_stopped))
    return YardJudged(people.filter(is_stopped), passes.decide(going, evaluator, asked))


def possible(tyres: pl.DataFrame, injuries: pl.DataFrame) -> Mapping[str, frozenset[str]]:
    """Return the values that given listed facts take in the frames at all."""
    found: dict[str, frozenset[str]] = {}
    for frame in (tyres, injuries):
        for name, kind in frame.schema.items():
            if isinstance(kind, pl.String | pl.Enum) and name not in (USE, "zone"):
                found[name] = frozenset(frame.get_column(name).drop_nulls().unique())
    return found
