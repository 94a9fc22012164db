"""What the columns say of a whole yard, told tyre by tyre in the words of a docket, so that the two can be compared."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import polars as pl

from mendbook.columns.speak import SILENT
from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.scenarios import END, INJURY, USE
from mendbook.terms.docket import Docket
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from mendbook.triage.stages import BEFORE_CLASS, PEOPLE, WITH_CLASS
from mendbook.yard.carried import Carried
from mendbook.yard.deciders import Deciders
from mendbook.yard.judging import YardEvaluator, YardJudged, YardPasses, judge_frames
from mendbook.yard.reading import TYRE, Read, YardReader, is_too_open, lay_out

UP_TO_VERDICT = (*PEOPLE, *BEFORE_CLASS, *WITH_CLASS)
ENDS = {GOOD: "good", READ: "as read", BAD: "bad"}

Key = tuple[str, int, str]  # rule, line, tyre or name of the injury


@dataclass(frozen=True)
class Heard:
    """Where one line spoke: at which ends of the readings, in which zones, in which uses."""

    ends: frozenset[str]
    zones: frozenset[str]
    uses: frozenset[str]


@dataclass(frozen=True)
class Said:
    """What was said of one tyre up to its verdict; no verdict where it is stopped."""

    verdict: str | None
    bracket: tuple[str, str] | None
    findings: Mapping[Key, Heard]
    holds: frozenset[Key]


class Spine:
    """Reads and judges yards by columns."""

    def __init__(
        self, shop: Shop, wrap: Callable[[YardEvaluator], YardEvaluator] = lambda evaluator: evaluator
    ) -> None:
        self.book = shop.book
        self.reader = YardReader(shop.book, date(2026, 11, 25))
        self.passes = YardPasses(shop.derivation, shop.book.verdicts, (), shop.book.not_covered, carried=Carried(shop))
        self.evaluator = wrap(YardEvaluator(shop.book, Deciders(shop.book, UP_TO_VERDICT)))

    def read(self, tyres: pl.DataFrame, injuries: pl.DataFrame) -> tuple[Read, pl.DataFrame]:
        """Return the tyres whose cells can all be read, and the faults of the others: TYRE, INJURY, column, words."""
        read = self.reader.read(tyres, injuries)
        out = pl.concat(
            [read.faults.select(TYRE), is_too_open(read.tyres, read.injuries).filter("is too open").select(TYRE)]
        )
        tyres, injuries = (frame.join(out, on=TYRE, how="anti") for frame in (read.tyres, read.injuries))
        return replace(read, tyres=tyres, injuries=injuries), read.faults

    def judge(self, read: Read) -> YardJudged:
        """Return the judged frames of tyres that were read."""
        return judge_frames(*lay_out(read, self.reader), self.passes, self.evaluator, read.values)

    def told(self, read: Read, yard: YardJudged) -> dict[int, Said]:
        """Return what was said of each tyre."""
        names = {(t, i): n for t, i, n in read.injuries.select(TYRE, INJURY, "name").iter_rows()}
        findings: dict[int, dict[Key, list[tuple[int, str, str]]]] = defaultdict(lambda: defaultdict(list))
        frames = (
            (yard.stopped, Subject.TYRE),
            (yard.judged.tyres, Subject.TYRE),
            (yard.judged.injuries, Subject.INJURY),
        )
        for frame, subject in frames:
            stages = PEOPLE if frame is yard.stopped else UP_TO_VERDICT
            for tyre, rule, line, injury, heard in self._spoken(frame, subject, stages):
                about = "tyre" if injury is None else names[tyre, injury]
                findings[tyre][rule, line, about].append(heard)
        verdicts = dict(self._verdicts(yard))
        return {
            tyre: self._said(verdicts.get(tyre), findings[tyre])
            for tyre in read.tyres.get_column(TYRE)
        }  # fmt: skip

    def _said(
        self, verdict: tuple[str, tuple[str, str]] | None, spoken: Mapping[Key, list[tuple[int, str, str]]]
    ) -> Said:
        findings = {
            key: Heard(
                *(frozenset(one) for one in zip(*((ENDS[end], zone, use) for end, zone, use in heard), strict=True))
            )
            for key, heard in spoken.items()
        }
        outcomes = {(rule.id, line.at): line.outcome for rule in self.book.rules for line in rule.lines}
        if verdict is None:
            findings = {key: heard for key, heard in findings.items() if outcomes[key[:2]].stop}
        holds = frozenset(k for k, h in findings.items() if outcomes[k[:2]].hold and h.ends & {"as read", "bad"})
        return Said(*(verdict or (None, None)), findings, holds if verdict else frozenset())

    def _spoken(
        self, frame: pl.DataFrame, subject: Subject, stages: Sequence[str]
    ) -> Iterator[tuple[int, str, int, int | None, tuple[int, str, str]]]:
        if frame.is_empty():
            return
        columns = self.evaluator.columns(tuple(stages), subject)
        spoken = columns.speak(frame)
        about: list[Any] = (
            [INJURY, "zone"] if subject is Subject.INJURY else [pl.lit(None).alias(INJURY), pl.lit("").alias("zone")]
        )
        keys = frame.select(TYRE, END, USE, *about)
        for rule in columns.rules:
            heard = keys.with_columns(spoken.get_column(rule.id).alias("line")).filter(pl.col("line") != SILENT)
            for tyre, end, use, injury, zone, line in heard.iter_rows():
                yield tyre, rule.id, rule.lines[line].at, injury, (end, zone, use)

    def _verdicts(self, yard: YardJudged) -> Iterator[tuple[int, tuple[str, tuple[str, str]]]]:
        names = self.book.verdicts
        if yard.judged.verdicts.is_empty():
            return
        rows = yard.judged.verdicts.with_columns((pl.col("variant") // 3).alias(TYRE), pl.col("severity").clip(0))
        ranks = rows.group_by(TYRE, maintain_order=True).agg(
            pl.col("severity").filter(pl.col(END) == READ).max().alias("read"),
            pl.col("severity").filter(pl.col(END) == GOOD).min().alias("good"),
            pl.col("severity").filter(pl.col(END) == BAD).max().alias("bad"),
        )
        for tyre, read, good, bad in ranks.iter_rows():
            yield tyre, (names[read], (names[good], names[bad]))


def differences(said: Said, docket: Docket, stages: Mapping[str, str], uses: Sequence[str]) -> list[str]:
    """Return in what the yard's word on a tyre differs from its docket; `stages` tells the stage of each rule.

    A docket also hears what a rule says of the use that was not asked for: ends and zones may then be more.
    """
    told = []
    if (said.verdict, said.bracket) != (docket.verdict, docket.bracket):
        told.append(f"verdict {said.verdict} {said.bracket}, alone {docket.verdict} {docket.bracket}")
    own = [f for f in docket.findings if stages[f.rule] in UP_TO_VERDICT and set(f.use) & set(uses)]
    alone = {(f.rule, f.line, f.about): f for f in own}
    if alone.keys() != said.findings.keys():
        told.append(f"findings {sorted(alone.keys() ^ said.findings.keys())}")
    for key in alone.keys() & said.findings.keys():
        found, heard = alone[key], said.findings[key]
        there = Heard(
            frozenset(end for end, spoke in found.readings.items() if spoke),
            frozenset(found.zone.split(", ")),
            frozenset(found.use) & set(uses),
        )
        is_same = (
            heard == there if set(found.use) <= set(uses) else (heard.ends <= there.ends and heard.zones <= there.zones)
        )
        if not is_same:
            told.append(f"{key}: {heard}, alone {there}")
    holds = {key for key, f in alone.items() if "hold" in f.says and (f.readings["bad"] or f.readings["as read"])}
    if all(set(f.use) <= set(uses) for f in own) and holds != said.holds:
        told.append(f"holds {sorted(holds ^ said.holds)}")
    return told
