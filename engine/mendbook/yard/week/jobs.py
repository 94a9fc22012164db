"""The tyres of a review as jobs: what repairing each is worth, and its hours at the bench and under the kit."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from mendbook.facts.service import width_class
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case import Case
from mendbook.terms.week import Job
from mendbook.worth.given import REPAIR, gather
from mendbook.worth.sums import work_out
from mendbook.worth.survival import Survival
from mendbook.yard.week.fault import WeekError
from mendbook.yard.week.labour import Labour
from mendbook.yard.week.price_list import Cells, PriceList

UNPRICED = "prices that cannot be read"
UNKNOWN_HOURS = "no bench hours are known for the class and width"
TOO_DEAR = "a new tyre is cheaper"
NO_REPAIR = "nothing is to be repaired"
NO_CURE = "the plan gives no time under heat"


@dataclass(frozen=True)
class Written:
    """What the sheet of a yard says of one tyre that may be repaired.

    case : the tyre without its injuries and its money
    rust : whether rust is written of each injury, by its name
    """

    case: Case
    rust: Mapping[str, bool]


@dataclass(frozen=True)
class Skipped:
    """A tyre that is no job, and why."""

    tag: str
    why: str


class JobMaker:
    """Makes jobs of the tyres of one yard."""

    def __init__(self, book: Rulebook, survival: Survival, labour: Labour, prices: PriceList) -> None:
        self._book, self._survival, self._labour, self._prices = book, survival, labour, prices
        self._classes: dict[float, str | None] = {}
        self.currencies: dict[str, str] = {}  # and a tyre priced in each

    def make(
        self, tag: str, rows: Sequence[Mapping[str, Any]], written: Written, own: Mapping[str, frozenset[str]]
    ) -> Job | Skipped:
        """Return the job of the tyre called `tag`, or why it is none.

        rows : its decisions, a row for each injury
        own : what is written of its money, by column
        """
        case, verdicts = written.case, [str(row["verdict"]) for row in rows]
        try:
            cells = _settled(own)
            money = self._prices.money(case.tyre.designation or "", verdicts, cells, self._book.vocabulary)
        except WeekError as problem:
            return Skipped(tag, f"{UNPRICED}: {problem}")
        if all(verdict == "leave" for verdict in verdicts):
            return Skipped(tag, NO_REPAIR)
        priced = case.model_copy(update={"money": money})
        repairs = [(str(row["verdict"]), str(row["zone"] or "")) for row in rows]
        given = gather(priced, repairs, self._construction(case), self._survival, self._book.vocabulary)
        if lacking := given.lacks(*REPAIR, "repair_price"):
            return Skipped(tag, f"lacking: {', '.join(lacking)}")
        labour = self._labour_hours(rows, written)
        if labour is None:
            return Skipped(tag, UNKNOWN_HOURS)
        kit = _kit_hours(rows)
        if kit is None:
            return Skipped(tag, NO_CURE)
        value = float(work_out(given.figures).value)
        if value <= 0.0:
            return Skipped(tag, TOO_DEAR)
        self.currencies.setdefault(money.currency or "", tag)
        return Job(
            tag=tag,
            repairs=tuple(f"{verdict}, {zone}" if zone else verdict for verdict, zone in repairs),
            value=value,
            labour_hours=labour,
            watching_hours=self._labour.watching * sum(kit.values()),
            kit_hours=kit,
        )

    def _labour_hours(self, rows: Sequence[Mapping[str, Any]], written: Written) -> float | None:
        width = self._width_class(written.case)
        hours = [
            self._labour.of(
                str(row["verdict"]),
                width or "",
                str(row["zone"] or ""),
                has_rust=written.rust.get(str(row["name"]), False),
            )
            for row in rows
        ]
        known = [one for one in hours if one is not None]
        return sum(known) if len(known) == len(hours) else None

    def _width_class(self, case: Case) -> str | None:
        size = case.tyre.size
        if size is None:
            return None
        width = size.nominal_width_mm
        if width not in self._classes:
            _, name, _ = width_class(self._book)
            self._classes[width] = pl.DataFrame({"nominal width": [width]}).select(name).item()
        return self._classes[width]

    def _construction(self, case: Case) -> str:
        written = case.tyre.written("construction")
        if isinstance(written, str) and written in self._survival.constructions:
            return written
        return case.tyre.size.construction if case.tyre.size else ""


def group_rows(decisions: pl.DataFrame) -> Iterator[tuple[str, str, list[dict[str, Any]]]]:
    """Yield tag, outcome and rows of each tyre of `decisions`, in their order."""
    by_tyre: dict[tuple[int, str], list[dict[str, Any]]] = defaultdict(list)
    for row in decisions.iter_rows(named=True):
        by_tyre[row["tyre"], str(row["tag"])].append(row)
    for (_, tag), rows in by_tyre.items():
        yield tag, str(rows[0]["outcome"]), rows


def _settled(own: Mapping[str, frozenset[str]]) -> Cells:
    for name, cells in own.items():
        if len(cells) > 1:
            raise WeekError(f"{name}: the rows of this tyre say {' and '.join(sorted(cells))}. Write one.")
    return {name: next(iter(cells)) for name, cells in own.items()}


def _kit_hours(rows: Sequence[Mapping[str, Any]]) -> dict[str, float] | None:
    """Return the hours under each kit; None when a hot repair has no cure."""
    hours: dict[str, float] = defaultdict(float)
    for row in rows:
        minutes, release = row["cure minutes"], row["release minutes"]
        if minutes is not None:
            hours[str(row["kit"] or "no kit")] += (float(minutes) + float(release or 0.0)) / 60.0
        elif str(row["process"] or "").startswith("hot"):
            return None
    return dict(hours)
