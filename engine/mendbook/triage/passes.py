"""The passes of an inference: stage after stage over the frames, the fold between them."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns.speak import HOLDS, SCORE, SEVERITY, STOPS, conjunction
from mendbook.facts.derive import Derivation
from mendbook.facts.readings import GOOD
from mendbook.facts.runs import Runs, fold_choices
from mendbook.facts.scenarios import (
    END,
    INJURY,
    INJURY_CHOICE,
    ROW,
    THREE_READINGS,
    USE,
    VARIANT,
    Frames,
    TooManyChoices,
)
from mendbook.facts.spacing import CLASS, TYRE_CLASS
from mendbook.facts.steps import add_by_number
from mendbook.rulebook.tree import Rule
from mendbook.terms.case import Repair
from mendbook.terms.vocabulary import Subject
from mendbook.triage.evaluators import Asked, Evaluator
from mendbook.triage.stages import BEFORE_CLASS, PEOPLE, WITH_CLASS

MOST_ROWS = 100_000  # of injuries, before zones; each takes some two kilobytes
_SAID = (SEVERITY, HOLDS, STOPS, SCORE)
INJURY_KEYS = (ROW, INJURY, INJURY_CHOICE)
CLASS_RANK = "class rank"


@dataclass(frozen=True)
class Judged:
    """The frames after all passes: each row with its SEVERITY (rank on the scale), HOLDS and STOPS.

    `tyres` holds one row for each variant, choice and use, the tyre's own rules only; `injuries` one for each
    zone touched as well. `verdicts` holds one row for each variant and use: severity over everything,
    folded over what is still possible (the mildest at the good reading, else the most severe).
    """

    tyres: pl.DataFrame
    injuries: pl.DataFrame
    verdicts: pl.DataFrame
    is_stopped: bool = False


@dataclass(frozen=True)
class Passes:
    """Runs the stages up to the verdict. A stop counts in the `uses` that are asked for, in any when none is named."""

    derivation: Derivation
    verdicts: Sequence[str]
    repairs: Sequence[Repair]
    not_covered: Sequence[Rule] = ()
    uses: Sequence[str] = ()

    def run(self, frames: Frames, evaluator: Evaluator, asked: Asked) -> Judged:
        """Return the judged frames. What every rule said about the three readings goes into `asked`.

        When a people-first rule says stop, the passes end there.
        """
        tyres = self.people(frames.tyres, evaluator, asked)
        if is_stopped(tyres, self.uses):
            return Judged(tyres, pl.DataFrame(), pl.DataFrame(), is_stopped=True)
        self._refuse_too_many(frames)
        return self.decide(Frames(tyres, frames.injuries), evaluator, asked)

    def people(self, tyres: pl.DataFrame, evaluator: Evaluator, asked: Asked) -> pl.DataFrame:
        """Return the derived tyre rows with what the people-first rules say of them."""
        tyres = self.derivation.tyres(tyres)
        return tyres.with_columns(evaluator.fold(PEOPLE, Subject.TYRE, tyres, asked))

    def decide(self, frames: Frames, evaluator: Evaluator, asked: Asked) -> Judged:
        """Return the judged frames of tyres that people may go near; `frames.tyres` come from `people`."""
        tyres = _add_fold(frames.tyres, evaluator.fold(BEFORE_CLASS, Subject.TYRE, frames.tyres, asked))
        rows = self.injuries(Frames(tyres.drop(*_SAID, strict=False), frames.injuries))
        if not rows.is_empty():
            rows = rows.with_columns(evaluator.fold(BEFORE_CLASS, Subject.INJURY, rows, asked))
        rows, tyres = self._classed(rows, tyres)
        paired = self.pairs(Frames(tyres, rows))
        tyres = _add_fold(paired.tyres, evaluator.fold(WITH_CLASS, Subject.TYRE, paired.tyres, asked))
        rows = paired.injuries
        if not rows.is_empty():
            rows = _add_fold(rows, evaluator.fold(WITH_CLASS, Subject.INJURY, rows, asked))
        return Judged(tyres, rows, self._verdicts(tyres, rows))

    def injuries(self, frames: Frames) -> pl.DataFrame:
        """Return the injury rows with every fact that needs no repair class."""
        return self.derivation.injuries(frames.injuries, frames.tyres)

    def pairs(self, frames: Frames) -> Frames:
        """Return the frames with number and spacing."""
        return self.derivation.pairs(frames, self.repairs)

    def _refuse_too_many(self, frames: Frames) -> None:
        """Raise TooManyChoices when the combinations still possible would not fit into memory."""
        variants = max(1, frames.tyres.get_column(VARIANT).n_unique())
        if frames.injuries.height * frames.tyres.height // variants > MOST_ROWS:
            raise TooManyChoices(
                "too little is known to judge: too many values of too many facts are still possible together. "
                "Fill in construction, casing, duty, or where the injuries lie, and ask again."
            )

    def _classed(self, rows: pl.DataFrame, tyres: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
        """Give every injury row the class of its injury, and every tyre row the class of its worst injury."""
        names = list(self.verdicts)
        if rows.is_empty():
            return rows, tyres.with_columns(pl.lit(names[0]).alias(TYRE_CLASS))
        # An injury about which no rule says a verdict is not covered: unknown counts as worst. One that the owner
        # leaves to somebody else may come out as anything, so only its good end is what the rules say.
        said, is_left = pl.col(SEVERITY), pl.col("is left")
        rank = (
            pl.when(is_left & (pl.col(END) == GOOD))
            .then(pl.max_horizontal(said, 0))
            .when(is_left | (said < 0))
            .then(len(names) - 1)
            .otherwise(said)
        )
        ways = Runs(rows, INJURY_KEYS)
        by_zone = rows.select(*INJURY_KEYS, END, SEVERITY, self._is_left(rows))
        by_way = ways.fold(by_zone, most=[SEVERITY, "is left"]).with_columns(rank.cast(pl.Int16).alias(CLASS_RANK))
        by_injury = fold_choices(by_way, (ROW, INJURY), bigger=[CLASS_RANK])
        by_tyre = Runs(by_injury, (ROW,)).fold(by_injury.select(ROW, CLASS_RANK), most=[CLASS_RANK])
        classed = by_way.select(CLASS_RANK, _named(names).alias(CLASS))
        return (
            rows.hstack(ways.spread(classed).get_columns()),
            add_by_number(tyres, by_tyre.select(ROW, _named(names).alias(TYRE_CLASS)), ROW).with_columns(
                pl.col(TYRE_CLASS).fill_null(names[0])
            ),
        )

    def _is_left(self, rows: pl.DataFrame) -> pl.Expr:
        """Return where the owner leaves an injury, in a zone it touches, to somebody else."""
        early = [conjunction(rule.lines[0].bounds) for rule in self.not_covered if rule.facts() <= {*rows.columns}]
        is_left = pl.any_horizontal(early).fill_null(value=False) if early else pl.lit(value=False)
        return is_left.alias("is left")

    def _verdicts(self, tyres: pl.DataFrame, rows: pl.DataFrame) -> pl.DataFrame:
        said = (SEVERITY, HOLDS, STOPS)
        by_tyre = tyres.select(ROW, VARIANT, USE, END, *said)
        if not rows.is_empty():
            severity = pl.max_horizontal(SEVERITY, CLASS_RANK).alias(SEVERITY)
            by_zone = rows.select(*INJURY_KEYS, END, severity, pl.col(HOLDS, STOPS).cast(pl.Int64))
            by_way = Runs(by_zone, INJURY_KEYS).fold(by_zone, most=[SEVERITY], total=[HOLDS, STOPS])
            by_injury = fold_choices(by_way, (ROW, INJURY), bigger=said).select(ROW, *said)
            of_injuries = Runs(by_injury, (ROW,)).fold(by_injury, most=[SEVERITY], total=[HOLDS, STOPS])
            both = add_by_number(by_tyre.drop(said), of_injuries, ROW)
            by_tyre = both.with_columns(
                pl.max_horizontal(pl.col(SEVERITY), by_tyre.get_column(SEVERITY)),
                *(pl.col(name).fill_null(0) + by_tyre.get_column(name) for name in (HOLDS, STOPS)),
            )
        return by_tyre.group_by([VARIANT, USE, END], maintain_order=True).agg(_over_choices(*said))


def _over_choices(*names: str) -> list[pl.Expr]:
    good = pl.col(END).first() == GOOD
    return [pl.when(good).then(pl.col(name).min()).otherwise(pl.col(name).max()).alias(name) for name in names]


def is_stopped(tyres: pl.DataFrame, uses: Sequence[str] = ()) -> bool:
    """Return whether a stop stands at a reading that counts: as read or at the bad end, never the good one.

    uses : those asked for; any when none is named
    """
    asked = tyres.get_column(USE).is_in(list(uses or tyres.get_column(USE).unique()))
    counts = asked & (tyres.get_column(VARIANT) < len(THREE_READINGS)) & (tyres.get_column(END) != GOOD)
    return bool(((tyres.get_column(STOPS) > 0) & counts).any())


def _add_fold(frame: pl.DataFrame, fold: pl.DataFrame) -> pl.DataFrame:
    most = [name for name in fold.columns if name not in (HOLDS, STOPS)]
    return frame.with_columns(
        *(pl.max_horizontal(pl.col(name), fold.get_column(name)).alias(name) for name in most),
        (pl.col(HOLDS) + fold.get_column(HOLDS)).alias(HOLDS),
        (pl.col(STOPS) + fold.get_column(STOPS)).alias(STOPS),
    )


def _named(names: Sequence[str]) -> pl.Expr:
    return pl.col(CLASS_RANK).replace_strict(list(range(len(names))), list(names), return_dtype=pl.Enum(names))
