"""From judged frames to decisions: one row for each injury, and for each tyre that has none."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns.speak import HOLDS, SCORE, SEVERITY
from mendbook.facts.derive import Derivation
from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.runs import Runs
from mendbook.facts.scenarios import END, INJURY, INJURY_CHOICE, ROW, VARIANT
from mendbook.facts.spacing import CLASS, TYRE_CLASS
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject
from mendbook.triage.injuries import FINAL
from mendbook.triage.passes import CLASS_RANK
from mendbook.triage.stages import BEFORE_CLASS, METHOD, PEOPLE, WITH_CLASS
from mendbook.yard.cell_table import ENDS
from mendbook.yard.deciders import Deciders
from mendbook.yard.judging import YardJudged
from mendbook.yard.reading import TYRE
from mendbook.yard.voices import Voices

VERDICT, MILDEST, WORST, OUTCOME = "verdict", "mildest", "worst", "outcome"
HELD_BY, STOPPED_BY = "held by", "stopped by"
UP_TO_VERDICT = (*PEOPLE, *BEFORE_CLASS, *WITH_CLASS)
_LATER = (METHOD, Subject.INJURY)
_HOLDING = ((UP_TO_VERDICT, Subject.TYRE), (UP_TO_VERDICT, Subject.INJURY), _LATER)
_STOPPING = (PEOPLE, Subject.TYRE)


@dataclass(frozen=True)
class Decisions:
    """What was decided. Ranks are written as verdicts."""

    tyres: pl.DataFrame  # TYRE, VERDICT, MILDEST, WORST, OUTCOME, HELD_BY, STOPPED_BY, and which line decided
    injuries: pl.DataFrame  # TYRE, INJURY, zone, VERDICT, MILDEST, WORST, and which line decided
    repairable: pl.DataFrame  # as-read rows of the injuries that may be repaired, with every fact of the method stage


class Decider:
    """Makes decisions of one rulebook's judgements."""

    def __init__(self, book: Rulebook, derivation: Derivation, deciders: Deciders) -> None:
        self._book, self._derivation, self._deciders = book, derivation, deciders
        self._holding = Voices(book, _HOLDING, "hold")
        self._stopping = Voices(book, [_STOPPING], "stop")

    def decide(self, yard: YardJudged) -> Decisions:
        """Return the decisions on `yard`."""
        stopped = self._stopped(yard.stopped)
        judged = yard.judged
        if judged.tyres.is_empty():
            return Decisions(stopped, pl.DataFrame(), pl.DataFrame())
        tyres = judged.tyres
        rows = judged.injuries
        ranks = _tyre_ranks(judged.verdicts)
        bests = [_best(frame) for frame in (tyres, rows) if not frame.is_empty()]
        finals = _final(rows)
        told = self._deciders.tell([*bests, finals])
        top = _top(bests, told)
        repairable = self._repairable(_without_rejects(finals, ranks, len(self._book.verdicts) - 1))
        held = self._held(tyres, rows, repairable)
        decided = (
            ranks.join(top, on=TYRE, how="left")
            .join(held, on=TYRE, how="left")
            .with_columns(self._outcome(), *self._named(), pl.lit(None, pl.List(pl.String)).alias(STOPPED_BY))
            .drop("rank", "mild", "bad")
        )
        return Decisions(
            tyres=pl.concat([decided, stopped], how="diagonal"),
            injuries=self._injuries(finals, told[-1], rows),
            repairable=repairable,
        )

    def _stopped(self, rows: pl.DataFrame) -> pl.DataFrame:
        by = self._stopping.name([self._stopping.hear(_STOPPING, rows, pl.col(END) != GOOD)], STOPPED_BY)
        return by.with_columns(pl.lit("stop").alias(OUTCOME))

    def _injuries(self, finals: pl.DataFrame, told: pl.DataFrame, rows: pl.DataFrame) -> pl.DataFrame:
        if rows.is_empty():
            return pl.DataFrame()
        keys = [TYRE, INJURY]
        ranked = rows.select(*keys, ROW, INJURY_CHOICE, END, _final_rank().alias("mild"))
        by_way = Runs(ranked, (ROW, INJURY, INJURY_CHOICE)).fold(ranked, most=["mild"])
        good = by_way.filter(pl.col(END) == GOOD).group_by(keys).agg(pl.col("mild").min())
        bad = by_way.filter(pl.col(END) == BAD).group_by(keys).agg(pl.col("mild").max().alias("bad"))
        mine = pl.concat(
            [
                finals.select(*keys, "zone", "deciding length", "deciding width", pl.col(FINAL).alias("rank"), SCORE),
                told,
            ],
            how="horizontal",
        )
        joined = mine.join(good, on=keys, how="left").join(bad, on=keys, how="left")
        # A verdict that only silence brought about was said by no line.
        is_told = self._deciders.rank(pl.col(SCORE)) == pl.col("rank")
        told_names = told.columns
        return joined.with_columns(
            *self._named(), *(pl.when(is_told).then(pl.col(name)).alias(name) for name in told_names)
        ).drop("rank", "mild", "bad", SCORE)

    def _repairable(self, finals: pl.DataFrame) -> pl.DataFrame:
        if finals.is_empty():
            return finals
        worst = len(self._book.verdicts) - 1
        rows = finals.filter((pl.col(FINAL) > 0) & (pl.col(FINAL) < worst))
        if rows.is_empty():
            return rows
        most = pl.col(FINAL).max().over(TYRE)
        return self._derivation.method(
            rows.with_columns(self._verdict(pl.col(FINAL)).alias(CLASS), self._verdict(most).alias(TYRE_CLASS))
        )

    def _held(self, tyres: pl.DataFrame, rows: pl.DataFrame, repairable: pl.DataFrame) -> pl.DataFrame:
        heard = []
        for frame, part in zip((tyres, rows, repairable), _HOLDING, strict=True):
            if not frame.is_empty():
                counts = pl.col(END) != GOOD
                if part is not _LATER:
                    counts &= pl.col(HOLDS) > 0
                heard.append(self._holding.hear(part, frame, counts))
        return self._holding.name(heard, HELD_BY)

    def _outcome(self) -> pl.Expr:
        worst = len(self._book.verdicts) - 1
        is_held = pl.col(HELD_BY).list.len().fill_null(0) > 0
        return (
            pl.when(pl.col("mild") == worst)
            .then(pl.lit("reject"))
            .when(is_held | (pl.col("mild") != pl.col("bad")))
            .then(pl.lit("hold"))
            .when(pl.col("rank") == 0)
            .then(pl.lit("serve"))
            .otherwise(pl.lit("repair"))
            .alias(OUTCOME)
        )

    def _named(self) -> list[pl.Expr]:
        ranks = (("rank", VERDICT), ("mild", MILDEST), ("bad", WORST))
        return [self._verdict(pl.col(rank)).alias(name) for rank, name in ranks]

    def _verdict(self, rank: pl.Expr) -> pl.Expr:
        names = list(self._book.verdicts)
        return rank.clip(0).replace_strict(list(range(len(names))), names, return_dtype=pl.String)


def _best(frame: pl.DataFrame) -> pl.DataFrame:
    """Return for each tyre the first of its rows, as read, that has its highest score."""
    read = frame.select(TYRE, END, SCORE).with_row_index("place").filter(pl.col(END) == READ)
    best = read.filter(pl.col(SCORE) == pl.col(SCORE).max().over(TYRE)).unique(TYRE, keep="first", maintain_order=True)
    return frame[best.get_column("place")]


def _top(bests: Sequence[pl.DataFrame], told: Sequence[pl.DataFrame]) -> pl.DataFrame:
    """Return for each tyre the line that decided, and the room it left; `told` begins with what is told of `bests`."""
    lines = [best.select(TYRE, SCORE).hstack(line) for best, line in zip(bests, told, strict=False)]
    return pl.concat(lines).sort(SCORE, descending=True, maintain_order=True).unique(TYRE, keep="first")


def _tyre_ranks(verdicts: pl.DataFrame) -> pl.DataFrame:
    """Return rank as read, the mildest and the worst of each tyre."""
    rank, end = pl.col(SEVERITY).clip(0), pl.col(END)
    return (
        verdicts.with_columns((pl.col(VARIANT) // ENDS).alias(TYRE))
        .group_by(TYRE)
        .agg(
            rank.filter(end == READ).max().alias("rank"),
            rank.filter(end == GOOD).min().alias("mild"),
            rank.filter(end == BAD).max().alias("bad"),
        )
    )


def _without_rejects(finals: pl.DataFrame, ranks: pl.DataFrame, worst: int) -> pl.DataFrame:
    """Return the injuries of tyres that may still be repaired: no method is asked for where even the mildest is not."""
    if finals.is_empty():
        return finals
    return finals.join(ranks.filter(pl.col("mild") < worst).select(TYRE), on=TYRE, how="semi", maintain_order="left")


def _final(rows: pl.DataFrame) -> pl.DataFrame:
    """Return the row of each injury, as read, that decides it: the most severe, then the tightest box."""
    if rows.is_empty():
        return rows
    read = rows.filter(pl.col(END) == READ).with_columns(_final_rank().alias(FINAL))
    order = [pl.col(FINAL), pl.col(SEVERITY), pl.col("share of area limit")]
    first = (
        read.select(TYRE, INJURY, *order)
        .with_row_index("place")
        .sort(
            TYRE,
            INJURY,
            FINAL,
            SEVERITY,
            "share of area limit",
            descending=[False] * 2 + [True] * 3,
            maintain_order=True,
        )
        .unique([TYRE, INJURY], keep="first", maintain_order=True)
    )
    return read[first.get_column("place")]


def _final_rank() -> pl.Expr:
    return pl.max_horizontal(SEVERITY, CLASS_RANK)
