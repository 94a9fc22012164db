"""What to measure next on the tyres of a yard that are not decided: the looks that could change the answer.

The questions of a single case (`mendbook.triage.outlook`) are asked of many tyres in the same frames: further rows of
those tyres alone, each a reading in which one fact comes out one way.
"""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.columns.speak import HOLDS, SEVERITY
from mendbook.facts.scenarios import END, INJURY, VARIANT, Frames
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject
from mendbook.triage.evaluators import Asked
from mendbook.triage.findings import TYRE as OF_TYRE
from mendbook.triage.outlook import MOST_TRIED
from mendbook.triage.passes import Judged, Passes
from mendbook.yard.cell_table import ENDS
from mendbook.yard.judging import YardEvaluator, possible
from mendbook.yard.looks import ABOUT, NUMBER, OTHERS, PLACE, TO_DO, WAY, WORD, Looks
from mendbook.yard.reading import NAME, OPEN, TYRE, Read, YardReader, with_sized

NEXT = "measure next"
BETWEEN = ": "  # whose fact it is, and which
MOST = 3  # looks that are told
ROWS = 30_000  # of injuries that are judged at once, before zones
QUESTION, OWNER = "asked question", "asked owner"
LOOK = (TYRE, INJURY, PLACE)


def count_missing(measure_next: pl.Series) -> pl.DataFrame:
    """Return how many tyres wait for each fact: `fact` and `tyres`, the most first.

    measure_next : of one row a tyre, as `Questions.ask` gives it
    """
    looks = pl.DataFrame({"looks": measure_next}).with_row_index(TYRE).explode("looks").drop_nulls()
    facts = looks.select(TYRE, pl.col("looks").str.split(BETWEEN).list.last().alias("fact")).unique()
    return facts.group_by("fact").agg(pl.len().alias("tyres")).sort(["tyres", "fact"], descending=[True, False])


class YardQuestions:
    """Asks what another look could change, by one rulebook."""

    def __init__(self, book: Rulebook, reader: YardReader, passes: Passes, evaluator: YardEvaluator) -> None:
        self._looks = Looks(book, reader)
        self._reader, self._passes, self._evaluator = reader, passes, evaluator

    def ask(self, undecided: pl.Series, written: Frames, read: Read, laid: Frames, judged: Judged) -> pl.DataFrame:
        """Return TYRE and NEXT: up to MOST looks that could change the answer, the most decisive first.

        undecided : TYRE of those whose bracket is open, or that are held by a rule
        written, read, laid, judged : the batch as text, read, laid out at its three ends, and judged
        A tyre of which too much is unknown is told what is open, whether it is decided or not.
        """
        open_facts = self._too_open(read, judged.tyres.select(TYRE))
        asked = undecided.filter(~undecided.is_in(open_facts.get_column(TYRE).implode()))
        of_injuries = with_sized(written.injuries, read.tyres)
        parts = [
            self._looks.open(frame.filter(pl.col(TYRE).is_in(asked.implode())), subject)
            for subject, frame in ((Subject.TYRE, written.tyres), (Subject.INJURY, of_injuries))
        ]
        ways = pl.concat([part.select(*LOOK, ABOUT, TO_DO, WAY, OTHERS, NUMBER, WORD) for part in parts])
        base = _fold(judged.verdicts).with_columns(
            (pl.col(VARIANT) // ENDS).alias(TYRE), (pl.col(VARIANT) % ENDS).cast(pl.Int8).alias(OTHERS)
        )
        weighed = [self._weigh(chunk, laid, base) for chunk in _chunks(ways, laid)]
        return pl.concat([open_facts, *weighed])

    def _weigh(self, ways: pl.DataFrame, laid: Frames, base: pl.DataFrame) -> pl.DataFrame:
        numbered = ways.with_row_index(QUESTION).with_columns(pl.col(QUESTION).cast(pl.Int32))
        answered = numbered.join(self._answers(numbered, laid), left_on=QUESTION, right_on=VARIANT, how="left").join(
            base.drop(VARIANT), on=[TYRE, OTHERS], how="left", suffix=" before"
        )
        moved, held = ((pl.col(name) - pl.col(f"{name} before")).abs().max() for name in (SEVERITY, HOLDS))
        looks = (
            answered.group_by(*LOOK, ABOUT)
            .agg(moved.alias("moved"), held.alias("held"), pl.col(TO_DO).first())
            .filter((pl.col("moved") > 0) | (pl.col("held") > 0))
            .sort(  # as a single case weighs them: a look that is to do is costly, so it comes after what moves as much
                TYRE, "moved", TO_DO, "held", pl.col(INJURY).fill_null(-1), PLACE,
                descending=[False, True, False, True, False, False],
            )
        )  # fmt: skip
        return looks.group_by(TYRE, maintain_order=True).agg(self._named().head(MOST).alias(NEXT))

    def _answers(self, ways: pl.DataFrame, laid: Frames) -> pl.DataFrame:
        """Return severity and holds of each question (VARIANT)."""
        tyres, injuries = self._asked(ways, laid.tyres, Subject.TYRE), self._asked(ways, laid.injuries, Subject.INJURY)
        asked = Asked(possible(tyres, injuries))
        people = self._passes.people(tyres, self._evaluator, asked)
        return _fold(self._passes.decide(Frames(people, injuries), self._evaluator, asked).verdicts)

    def _asked(self, ways: pl.DataFrame, laid: pl.DataFrame, subject: Subject) -> pl.DataFrame:
        """Return the rows of `laid` for each question, with what it overrides; each question is a tyre of its own."""
        if laid.is_empty():
            return laid
        owner = pl.col(INJURY).alias(OWNER)
        own = ways.select(QUESTION, TYRE, pl.col(OTHERS).alias(END), PLACE, NUMBER, WORD, owner)
        rows = own.join(laid.drop(VARIANT), on=[TYRE, END], how="inner", maintain_order="left")
        is_own = pl.col(OWNER).is_null() if subject is Subject.TYRE else pl.col(OWNER) == pl.col(INJURY)
        changed = [
            pl.when(is_own & (pl.col(PLACE) == place)).then(NUMBER if kind == pl.Float64 else WORD).otherwise(name)
            .cast(kind).alias(name)
            for place, fact in enumerate(self._looks.facts[subject])
            for name in self._looks.overrides.get(fact, ())
            if (kind := rows.schema[name])
        ]  # fmt: skip
        numbered = [pl.col(QUESTION).alias(VARIANT), pl.col(QUESTION).alias(TYRE)]
        return rows.with_columns(*changed, *numbered).drop(QUESTION, PLACE, NUMBER, WORD, OWNER)

    def _named(self) -> pl.Expr:
        of_tyre, of_injury = (self._looks.facts[subject] for subject in (Subject.TYRE, Subject.INJURY))
        fact = pl.when(pl.col(INJURY).is_null()).then(_name(of_tyre)).otherwise(_name(of_injury))
        return pl.concat_str(ABOUT, pl.lit(BETWEEN), fact)

    def _too_open(self, read: Read, judged: pl.DataFrame) -> pl.DataFrame:
        """Return TYRE and NEXT for tyres whose open facts may combine in too many ways: what is open, in its order."""
        log = pl.col(OPEN).cast(pl.Float64).log()
        logs = pl.concat([read.tyres.select(TYRE, log), read.injuries.select(TYRE, log)])
        ways = logs.group_by(TYRE).agg(pl.col(OPEN).sum().exp())
        tyres = ways.filter(pl.col(OPEN) > MOST_TRIED + 0.5).join(judged, on=TYRE, how="semi").select(TYRE)
        parts = [
            self._alternatives(frame.join(tyres, on=TYRE, how="semi"), subject)
            for subject, frame in ((Subject.TYRE, read.tyres), (Subject.INJURY, read.injuries))
        ]
        found = pl.concat(parts).sort(TYRE, pl.col(INJURY).fill_null(-1), PLACE)
        named = found.group_by(TYRE, maintain_order=True).agg(pl.col(NEXT).head(MOST))
        return named.select(TYRE, NEXT)

    def _alternatives(self, frame: pl.DataFrame, subject: Subject) -> pl.DataFrame:
        about = pl.lit(OF_TYRE) if subject is Subject.TYRE else pl.col(NAME)
        owner = pl.lit(None, pl.Int32) if subject is Subject.TYRE else pl.col(INJURY)
        unordered, vocabulary = self._reader.unordered(frame), self._reader.vocabulary
        schema = {TYRE: pl.Int32, INJURY: pl.Int32, PLACE: pl.Int32, NEXT: pl.String}
        parts = [
            frame.filter(pl.col(name).list.len() > 1).select(
                TYRE, owner.alias(INJURY), pl.lit(place, pl.Int32).alias(PLACE),
                pl.concat_str(about, pl.lit(f"{BETWEEN}{name}")).alias(NEXT),
            )
            for place, name in enumerate(self._looks.listed[subject])
            if name in unordered and name in vocabulary and vocabulary[name].is_given
        ]  # fmt: skip
        return pl.concat([pl.DataFrame(schema=schema), *parts])


def _name(facts: Sequence[str]) -> pl.Expr:
    return pl.col(PLACE).replace_strict(list(range(len(facts))), list(facts), default=None, return_dtype=pl.String)


def _fold(verdicts: pl.DataFrame) -> pl.DataFrame:
    """Return severity and holds of each variant, over the uses asked for."""
    return verdicts.group_by(VARIANT).agg(pl.col(SEVERITY, HOLDS).max())


def _chunks(ways: pl.DataFrame, laid: Frames) -> Iterator[pl.DataFrame]:
    """Yield the ways of tyre after tyre, as many as are judged at once."""
    if ways.is_empty():
        return
    rows = pl.concat([frame.select(TYRE) for frame in (laid.tyres, laid.injuries) if not frame.is_empty()])
    each = rows.group_by(TYRE).agg((pl.len() / ENDS).alias("rows"))
    size = ways.group_by(TYRE).agg(pl.len().alias("ways")).join(each, on=TYRE, how="left").sort(TYRE)
    place = ((pl.col("rows") * pl.col("ways")).cum_sum() // ROWS).cast(pl.Int32)
    numbered = ways.join(size.select(TYRE, place.alias("chunk")), on=TYRE, how="left").sort(
        "chunk", maintain_order=True
    )
    for part in numbered.partition_by("chunk", maintain_order=True):
        yield part.drop("chunk")
