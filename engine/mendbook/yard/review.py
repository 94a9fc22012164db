"""Review a yard, batch by batch: what was written in, what was decided out, and nothing lost between."""

from dataclasses import dataclass, replace
from datetime import date

import polars as pl

from mendbook.columns.speak import SCORE
from mendbook.facts.scenarios import INJURY, Frames
from mendbook.triage.shop import Shop
from mendbook.yard.batch import FAULT_SCHEMA, Batch, no_faults
from mendbook.yard.carried import Carried
from mendbook.yard.deciders import DECIDED_BY, LIMIT, LINE, Deciders
from mendbook.yard.deciding import HELD_BY, OUTCOME, STOPPED_BY, UP_TO_VERDICT, Decider, Decisions
from mendbook.yard.impossible import confirm, suspect_places, suspect_zones
from mendbook.yard.judging import YardEvaluator, YardJudged, YardPasses, judge_frames
from mendbook.yard.overrules import OVERRULED
from mendbook.yard.planning import PLANNED_BY, YardPlanner, with_plans
from mendbook.yard.questions import YardQuestions
from mendbook.yard.reading import NAME, TYRE, Read, YardReader, is_too_open, lay_out
from mendbook.yard.rooms import MARGIN, MARGIN_OF
from mendbook.yard.singly import judge_singly, mapped
from mendbook.yard.summary import Summary

TOO_OPEN = (
    "too little is known to judge: too many values of too many facts are still possible together. Fill in "
    "construction, casing, duty, or where the injuries lie."
)
ALONG = "row {} of this tyre cannot be judged, and a tyre is judged as a whole. Mend that row."
OF_TYRE = "tyre's "
DECIDED = {
    "verdict": pl.String, "mildest": pl.String, "worst": pl.String, DECIDED_BY: pl.String, LINE: pl.Int32,
    LIMIT: pl.String, MARGIN: pl.Float64, MARGIN_OF: pl.String,
}  # fmt: skip
DECISION_SCHEMA: dict[str, pl.DataType | type[pl.DataType]] = {
    "row": pl.Int64, TYRE: pl.Int32, "tag": pl.String, INJURY: pl.Int32, NAME: pl.String,
    OUTCOME: pl.String, **DECIDED, "zone": pl.String, "deciding length": pl.Float64, "deciding width": pl.Float64,
    **{f"{OF_TYRE}{name}": kind for name, kind in DECIDED.items()},
    HELD_BY: pl.List(pl.String), STOPPED_BY: pl.List(pl.String), **OVERRULED,
}  # fmt: skip


@dataclass(frozen=True)
class Reviewed:
    """What became of a batch. Every row of it stands in one of the two."""

    decisions: pl.DataFrame
    quarantined: pl.DataFrame  # row, tag, column, words
    repairable: pl.DataFrame  # as-read rows of the injuries that may be repaired, with every fact
    summary: Summary | None = None


class Reviewer:
    """Reviews the batches of one yard by one rulebook."""

    def __init__(self, shop: Shop, on: date, law: str | None = None, *, plan: bool = False, ask: bool = False) -> None:
        """Prepare it for tyres judged `on` a day under `law`, where they do not say theirs.

        plan : say how each repair is done and how long it cures, which takes longer than all the rest
        ask : say what to measure next on tyres that are not decided; it takes longer, too
        """
        book = shop.book
        self._shop, self._on, self._law = shop, on, law
        self._book = book
        self._planner = YardPlanner(shop) if plan else None
        self._reader = YardReader(book, on, law)
        self._passes = YardPasses(
            shop.derivation, book.verdicts, (), book.not_covered, carried=Carried(shop, PLANNED_BY)
        )
        deciders = Deciders(book, UP_TO_VERDICT)
        self._evaluator = YardEvaluator(book, deciders)
        self._decider = Decider(book, shop.derivation, deciders)
        self._questions = YardQuestions(book, self._reader, self._passes, self._evaluator) if ask else None

    def review(self, batch: Batch) -> Reviewed:
        """Return what the rules say of `batch`."""
        alone = mapped(batch)
        if alone.is_empty():
            return self._together(batch)
        rows, faults = judge_singly(batch, alone, self._shop, self._on, self._law, OF_TYRE)
        found = self._together(batch.only(alone, kept=False))
        own = batch.only(alone, kept=True)
        kept = found.decisions.schema
        singly = pl.DataFrame([{name: row.get(name) for name in kept} for row in rows], schema=kept, orient="row")
        return Reviewed(
            decisions=pl.concat([found.decisions, singly]).sort("row", INJURY, maintain_order=True),
            quarantined=pl.concat([found.quarantined, _quarantine(own, faults)]).sort("row", maintain_order=True),
            repairable=found.repairable,
        )

    def _together(self, batch: Batch) -> Reviewed:
        read = self._reader.read(batch.tyres, batch.injuries)
        faults = pl.concat([batch.faults, _in_rows(read.faults, batch)])
        faults = pl.concat([faults, self._too_open(read, batch)])
        sound = _without(read, faults)
        tyres, injuries = lay_out(sound, self._reader)
        yard = judge_frames(tyres, injuries, self._passes, self._evaluator, read.values)
        faults = pl.concat([faults, self._impossible(yard, batch, injuries)])
        decided = self._decider.decide(yard)
        decisions, repairable = _rows(batch, decided, faults), _drop(decided.repairable, faults)
        if self._planner is not None:
            wanted = _not_rejected(repairable, decided.tyres)
            decisions = with_plans(decisions, self._planner.plan(wanted, yard.judged, batch.tyres))
        if self._questions is not None:
            undecided = _drop(decided.tyres.filter(pl.col(OUTCOME) == "hold"), faults).get_column(TYRE)
            written, laid = Frames(batch.tyres, batch.injuries), Frames(tyres, injuries)
            looks = self._questions.ask(undecided, written, sound, laid, yard.judged)
            decisions = decisions.join(looks, on=TYRE, how="left", maintain_order="left")
        return Reviewed(decisions, _quarantine(batch, faults), repairable)

    def _too_open(self, read: Read, batch: Batch) -> pl.DataFrame:
        found = is_too_open(read.tyres, read.injuries).filter("is too open").select(TYRE)
        return _faults(
            batch.tyres.join(found, on=TYRE, how="semi").select(
                "row", TYRE, pl.lit("").alias("column"), pl.lit(TOO_OPEN).alias("words")
            )
        )

    def _impossible(self, yard: YardJudged, batch: Batch, laid: pl.DataFrame) -> pl.DataFrame:
        judged = yard.judged
        if judged.tyres.is_empty():
            return no_faults()
        places = suspect_places(batch.tyres, batch.injuries, judged.tyres, laid)
        found = list(confirm(places, batch.tyres, batch.injuries, judged.tyres, None, self._book))
        zones = suspect_zones(batch.injuries, judged).filter(~pl.col(TYRE).is_in([one.tyre for one in found]))
        found += confirm(zones, batch.tyres, batch.injuries, judged.tyres, judged, self._book)
        told = pl.DataFrame(
            [(one.tyre, one.injury, one.column, one.words) for one in found],
            schema={TYRE: pl.Int32, INJURY: pl.Int32, "column": pl.String, "words": pl.String}, orient="row",
        )  # fmt: skip
        return _in_rows(told, batch)


def _faults(rows: pl.DataFrame) -> pl.DataFrame:
    return rows.select(pl.col(name).cast(kind) for name, kind in FAULT_SCHEMA.items())


def _in_rows(found: pl.DataFrame, batch: Batch) -> pl.DataFrame:
    """Return the faults that were found in cells of tyres and of injuries, each with its row."""
    own = found.filter(pl.col(INJURY).is_null())
    of_tyre = own.join(batch.tyres.select(TYRE, "row"), on=TYRE, maintain_order="left")
    of_injury = found.join(batch.injuries.select(TYRE, INJURY, "row"), on=[TYRE, INJURY], maintain_order="left")
    return pl.concat([_faults(of_tyre), _faults(of_injury)])


def _drop(frame: pl.DataFrame, faults: pl.DataFrame) -> pl.DataFrame:
    return frame if frame.is_empty() else frame.join(faults.select(TYRE).drop_nulls(), on=TYRE, how="anti")


def _not_rejected(repairable: pl.DataFrame, tyres: pl.DataFrame) -> pl.DataFrame:
    rejected = tyres.filter(pl.col(OUTCOME) == "reject").select(TYRE)
    return _drop(repairable, rejected)


def _without(read: Read, faults: pl.DataFrame) -> Read:
    return replace(read, tyres=_drop(read.tyres, faults), injuries=_drop(read.injuries, faults))


def _quarantine(batch: Batch, faults: pl.DataFrame) -> pl.DataFrame:
    """Return a row for each fault, and one for each further row of a tyre that has one: it is judged as a whole."""
    tags = batch.tyres.select(TYRE, "tag")
    rows = pl.concat([batch.tyres.select("row", TYRE), batch.injuries.select("row", TYRE)]).unique()
    at = faults.drop_nulls(TYRE).group_by(TYRE).agg(pl.col("row").min().alias("at"))
    others = rows.join(at, on=TYRE, how="inner").join(faults.select("row"), on="row", how="anti")
    along = others.select(
        "row", TYRE, pl.lit("").alias("column"),
        pl.format(ALONG, "at").alias("words"),
    )  # fmt: skip
    return pl.concat([faults, _faults(along)]).join(tags, on=TYRE, how="left").sort("row", maintain_order=True).select(
        "row", "tag", "column", "words"
    )  # fmt: skip


def _rows(batch: Batch, decided: Decisions, faults: pl.DataFrame) -> pl.DataFrame:
    """Return one row for each injury, and for each tyre without one, in the order of the sheet."""
    tyres = _drop(batch.tyres.select(TYRE, "tag", "row"), faults)
    own = decided.tyres.drop(SCORE, strict=False)
    of_tyre = own.rename({name: f"{OF_TYRE}{name}" for name in own.columns if name not in (*_OF_BOTH, TYRE)})
    injuries = _drop(batch.injuries.select(TYRE, INJURY, NAME, "row"), faults)
    if not decided.injuries.is_empty():
        injuries = injuries.join(decided.injuries, on=[TYRE, INJURY], how="left")
    whole = tyres.join(injuries.select(TYRE), on=TYRE, how="anti")
    rows = pl.concat([injuries.join(tyres.select(TYRE, "tag"), on=TYRE, how="left"), whole], how="diagonal")
    rows = rows.join(of_tyre, on=TYRE, how="left").sort("row", INJURY, maintain_order=True)
    # A batch of stopped tyres alone has nothing to say of the rest, and yet the same columns.
    missing = [pl.lit(None, kind).alias(name) for name, kind in DECISION_SCHEMA.items() if name not in rows.columns]
    return rows.with_columns(missing).select(pl.col(name).cast(kind) for name, kind in DECISION_SCHEMA.items())


_OF_BOTH = (OUTCOME, HELD_BY, STOPPED_BY)
