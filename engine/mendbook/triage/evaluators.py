"""The two evaluators behind one face: what the rules of some stages say about each row of a frame."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

import polars as pl

from mendbook.columns import Columns
from mendbook.columns.speak import HOLDS, SEVERITY, SILENT, STOPS
from mendbook.facts.scenarios import INJURY, THREE_READINGS, VARIANT
from mendbook.inference import Session
from mendbook.inference import is_available as rule_engine_is_available
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule, Value
from mendbook.terms.vocabulary import Subject
from mendbook.triage.overruled import Overruled, most_of_repair

__all__ = [
    "Asked",
    "BothEvaluators",
    "ColumnEvaluator",
    "Evaluator",
    "EvaluatorsDisagree",
    "RuleEvaluator",
    "Sheet",
    "Spoken",
    "rule_engine_is_available",
]


class Sheet:
    """A judged frame, read row by row only where a row is shown."""

    def __init__(self, frame: pl.DataFrame) -> None:
        self._frame = frame
        self._columns: dict[str, list[Value]] = {}

    def value(self, row: int, name: str) -> Value:
        """Return one value of row `row`."""
        if name not in self._columns:
            self._columns[name] = self._frame.get_column(name).to_list()
        return self._columns[name][row]

    def facts(self, row: int) -> dict[str, Value]:
        """Return the whole row."""
        return self._frame.row(row, named=True)


@dataclass(frozen=True)
class Spoken:
    """Line `line` of `rule` spoke about row `row` of a sheet."""

    rule: Rule
    line: int
    sheet: Sheet
    row: int


@dataclass
class Asked:
    """What is asked of an evaluator: the values that listed facts can take, and a place for what was spoken.

    `overruled` are rejects that count as a repair, by the id of their rule; they are spoken like any other.
    """

    possible: Mapping[str, Collection[str]] = field(default_factory=dict)
    overruled: Mapping[str, Overruled] = field(default_factory=dict)
    spoken: list[Spoken] = field(default_factory=list)


def is_overruled(one: Spoken, overruled: Mapping[str, Overruled]) -> bool:
    """Return whether what was spoken is a reject that a person overruled."""
    if one.rule.id not in overruled:
        return False
    about = None if one.rule.subject is Subject.TYRE else int(one.sheet.value(one.row, INJURY))
    return overruled[one.rule.id].is_met(one.line, about)


class EvaluatorsDisagree(RuntimeError):
    """The two evaluators gave different answers for one row: a fault of the program, never to be passed over."""


class Evaluator(Protocol):
    """Folds the rules of some stages over the rows of a frame."""

    name: str

    def fold(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> pl.DataFrame:
        """Return SEVERITY, HOLDS and STOPS for each row; what was spoken of the three readings goes into `asked`."""

    def listen(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> None:
        """Put what is spoken of the three readings into `asked`, where no verdict is to be folded."""


class BothEvaluators:
    """Durable-rules for the rows of the three readings, columns for every row: where both speak they must agree."""

    name = "durable-rules"

    def __init__(self, book: Rulebook) -> None:
        self._rules, self._columns = RuleEvaluator(book), ColumnEvaluator(book)

    def fold(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> pl.DataFrame:
        """Return SEVERITY, HOLDS and STOPS for each row of `frame`. Raises EvaluatorsDisagree."""
        columns = self._columns.fold(stages, subject, frame, asked, is_heard=False)
        is_read = frame.get_column(VARIANT) < len(THREE_READINGS)
        rules = self._rules.fold(stages, subject, frame.filter(is_read), asked)
        if not rules.equals(columns.filter(is_read)):
            raise EvaluatorsDisagree(
                f"durable-rules and columns disagree in {', '.join(stages)} about {subject}. This is a fault of the "
                "program, and there is no answer. Keep the case file, and report it with the rulebook's digest."
            )
        return columns

    def listen(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> None:
        """Put what durable-rules says into `asked`."""
        self._rules.listen(stages, subject, frame, asked)


class ColumnEvaluator:
    """The rule tree as Polars expressions."""

    name = "columns"

    def __init__(self, book: Rulebook) -> None:
        self._book = book
        self._columns: dict[tuple[tuple[str, ...], Subject], Columns] = {}

    def fold(
        self,
        stages: Sequence[str],
        subject: Subject,
        frame: pl.DataFrame,
        asked: Asked,
        *,
        is_heard: bool = True,
    ) -> pl.DataFrame:
        """Return SEVERITY, HOLDS and STOPS for each row of `frame`."""
        if is_heard:
            self.listen(stages, subject, frame, asked)
        instead = [one.instead(self._book.verdicts) for one in asked.overruled.values() if one.rule.subject is subject]
        return self._prepared(tuple(stages), subject).fold(frame, asked.possible, instead)

    def listen(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> None:
        """Put what the columns say into `asked`."""
        columns = self._prepared(tuple(stages), subject)
        if not columns.rules:
            return
        rows = frame.filter(pl.col(VARIANT) < len(THREE_READINGS))
        sheet = Sheet(rows)
        for row, spoken in enumerate(columns.speak(rows).rows()):
            asked.spoken += [
                Spoken(rule, line, sheet, row)
                for rule, line in zip(columns.rules, spoken, strict=True)
                if line != SILENT
            ]

    def _prepared(self, stages: tuple[str, ...], subject: Subject) -> Columns:
        key = (stages, subject)
        if key not in self._columns:
            rules = [r for r in self._book.rules_of(*stages) if r.subject is subject]
            self._columns[key] = Columns(rules, self._book.verdicts)
        return self._columns[key]


class RuleEvaluator:
    """The rule tree in durable-rules, one flat fact at a time, stage after stage."""

    name = "durable-rules"

    def __init__(self, book: Rulebook) -> None:
        self._book = book
        self._rules = book.by_id()
        self._rank = {verdict: place for place, verdict in enumerate(book.verdicts)}
        self._sessions: dict[tuple[str, Subject], Session] = {}

    def fold(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> pl.DataFrame:
        """Return SEVERITY, HOLDS and STOPS for each row of `frame`."""
        height, first = frame.height, len(asked.spoken)
        self.listen(stages, subject, frame, asked)
        severity, holds, stops = [SILENT] * height, [0] * height, [0] * height
        for one in asked.spoken[first:]:
            outcome = one.rule.lines[one.line].outcome
            rank = self._rank.get(outcome.verdict or "", SILENT)
            if is_overruled(one, asked.overruled):
                rank = most_of_repair(self._book.verdicts)
            severity[one.row] = max(severity[one.row], rank)
            holds[one.row] += outcome.hold is not None
            stops[one.row] += outcome.stop is not None
        return pl.DataFrame(
            {SEVERITY: severity, HOLDS: holds, STOPS: stops},
            schema={SEVERITY: pl.Int16, HOLDS: pl.Int16, STOPS: pl.Int16},
        )

    def listen(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> None:
        """Put what durable-rules says into `asked`, stage after stage."""
        sheet = Sheet(frame)
        for stage in stages:
            session = self._session(stage, subject)
            columns = {fact: frame.get_column(fact).to_list() for fact in session.facts}
            asked.spoken += [
                Spoken(self._rules[firing.rule], firing.line, sheet, firing.row)
                for firing in session.infer(columns, frame.height)
            ]

    def _session(self, stage: str, subject: Subject) -> Session:
        key = (stage, subject)
        if key not in self._sessions:
            self._sessions[key] = Session(r for r in self._book.rules_of(stage) if r.subject is subject)
        return self._sessions[key]
