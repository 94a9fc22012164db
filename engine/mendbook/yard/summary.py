"""The summary of a review: a small value for each batch; added up in any order they give the same."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Self, TypeVar

import polars as pl
from pydantic import Field

from mendbook.terms.closed import Closed

MOST_NEAR = 20  # injuries that are listed as near to their limit
MOST_ALIKE = 2  # of them with the same limit, or the commonest would fill the list
MOST_LET_GO = 20  # rows that are listed with what was overruled
AROUND = 10  # percent of a limit: how far from it injuries are counted, percent by percent
NOT_SAID = "not written"
NOT_PLACED = "not placed"  # people come first, and nobody looks where an injury lies

Counts = dict[str, int]
Value = TypeVar("Value")


class Tally(Closed):
    """How a group came out: by the verdict as read, '' where none was given, and by the outcome of the tyre."""

    verdicts: Counts = Field({})
    outcomes: Counts = Field({})

    def __add__(self, other: Self) -> "Tally":
        return Tally(
            verdicts=add_counts(self.verdicts, other.verdicts), outcomes=add_counts(self.outcomes, other.outcomes)
        )

    @property
    def number(self) -> int:
        """How many there are in the group."""
        return sum(self.verdicts.values())


class Near(Closed):
    """An injury that decided its tyre, and the limit it was decided by; outside it `room` and `share` are negative."""

    share: float = Field(description="room as a share of the limit's own number")
    rank: int = Field(description="of the verdict; of two as near the more severe comes first")
    tyre: int
    injury: int
    tag: str
    name: str
    row: int
    rule: str
    limit: str
    fact: str
    room: float = Field(description="in the unit of the fact")
    verdict: str
    outcome: str

    @property
    def order(self) -> tuple[float, int, int, int]:
        """Nearest first; then the most severe, then as they stand in the yard."""
        return abs(self.share), -self.rank, self.tyre, self.injury


class LetGo(Closed):
    """A house reject of a row that a named person overruled; several of one row stand in one text each."""

    tyre: int
    injury: int | None
    row: int
    tag: str
    name: str
    rule: str
    by: str
    on: str
    why: str
    outcome: str

    @property
    def order(self) -> tuple[int, int]:
        """As they stand in the yard."""
        return self.tyre, -1 if self.injury is None else self.injury


class Fault(Closed):
    """What is at fault in one column of the sheet: in how many cells, and the first of them."""

    number: int
    row: int
    words: str

    def __add__(self, other: Self) -> "Fault":
        first = min(self, other, key=lambda one: (one.row, one.words))
        return Fault(number=self.number + other.number, row=first.row, words=first.words)


class Work(Closed):
    """Repairs with one kind of kit. Those of which no time is known are left out of the seconds."""

    repairs: int = 0
    untimed: int = 0
    heat_s: int = 0
    bench_s: int = Field(0, description="under heat and clamped until release")

    def __add__(self, other: Self) -> "Work":
        mine, others = self.model_dump(), other.model_dump()
        return Work(**{name: mine[name] + others[name] for name in mine})


class Piece(Closed):
    """What the repairs that may begin need of one piece of the catalogue. Those without a time stand in no seconds."""

    repairs: int = 0
    at_once: int = Field(0, description="most of it on one repair")
    busy_s: int = Field(0, description="of each piece under heat and clamped until release, added up")

    def __add__(self, other: Self) -> "Piece":
        return Piece(
            repairs=self.repairs + other.repairs,
            at_once=max(self.at_once, other.at_once),
            busy_s=self.busy_s + other.busy_s,
        )


class Summary(Closed):
    """What a review came to."""

    rows: int = 0
    decided: int = 0
    undecided: int = 0
    quarantined: int = 0
    tyres: Tally = Tally()
    injuries: Tally = Tally()
    sizes: dict[str, Tally] = Field({}, description="tyres")
    duties: dict[str, Tally] = Field({}, description="tyres")
    zones: dict[str, Tally] = Field({}, description="injuries")
    causes: dict[str, Tally] = Field({}, description="injuries")
    near: tuple[Near, ...] = ()
    around: dict[str, Counts] = Field(
        {}, description="injuries by the limit that decided and the whole percent of it that is left, from -AROUND up"
    )
    blocked: dict[str, Counts] = Field({}, description="tyres by what blocks (stop, hold, reject) and its rule")
    overruled: int = Field(0, description="tyres of which a house reject was overruled")
    let_go: tuple[LetGo, ...] = Field((), description=f"what was overruled, the first {MOST_LET_GO} rows of the yard")
    open: int = Field(0, description="tyres on hold whose readings leave the verdict open")
    lacking: int = Field(0, description="tyres on hold for which the kit is lacking")
    missing: Counts = Field({}, description="tyres by the fact that is to be settled next")
    faults: dict[str, Fault] = Field({}, description="by column; '' is the whole row")
    fallen: Counts = Field({}, description="rejected tyres by the kind of source that decided")
    work: dict[str, dict[str, Work]] = Field({}, description="by outcome of the tyre, then by kind of kit")
    pieces: dict[str, Piece] = Field({}, description="by id in the catalogue, of repairs that may begin")

    def __add__(self, other: Self) -> "Summary":
        numbers = ("rows", "decided", "undecided", "quarantined", "open", "lacking", "overruled")
        groups = ("sizes", "duties", "zones", "causes")
        return Summary(
            **{name: getattr(self, name) + getattr(other, name) for name in (*numbers, "tyres", "injuries")},
            **{name: _merge(getattr(self, name), getattr(other, name), _plus) for name in (*groups, "faults")},
            near=nearest((*self.near, *other.near)),
            let_go=tuple(sorted((*self.let_go, *other.let_go), key=lambda one: one.order)[:MOST_LET_GO]),
            around=_merge(self.around, other.around, add_counts),
            blocked=_merge(self.blocked, other.blocked, add_counts),
            missing=add_counts(self.missing, other.missing),
            fallen=add_counts(self.fallen, other.fallen),
            pieces=_merge(self.pieces, other.pieces, _plus),
            work=_merge(self.work, other.work, lambda one, more: _merge(one, more, _plus)),
        )

    @property
    def adds_up(self) -> bool:
        """Whether every row that came in is accounted for."""
        return self.rows == self.decided + self.undecided + self.quarantined


def _plus(one: Any, other: Any) -> Any:
    return one + other


def add_counts(one: Mapping[str, int], other: Mapping[str, int]) -> Counts:
    """Return the sums of two counts by name."""
    return dict(sorted((Counter(one) + Counter(other)).items()))


def count_names(names: pl.Series) -> Counts:
    """Return how often each name stands in a column."""
    counted = names.value_counts(name="number").iter_rows()
    return dict(sorted((str(name), int(number)) for name, number in counted if name is not None))


def nearest(found: Iterable[Near]) -> tuple[Near, ...]:
    """Return the first MOST_NEAR of `found` in their order, of which no more than MOST_ALIKE have the same limit."""
    alike: Counter[tuple[str, str]] = Counter()
    kept = []
    for one in sorted(found, key=lambda one: one.order):
        alike[one.rule, one.limit] += 1
        if alike[one.rule, one.limit] <= MOST_ALIKE:
            kept.append(one)
    return tuple(kept[:MOST_NEAR])


def ranked(counts: Mapping[str, int]) -> list[tuple[str, int]]:
    """Return names and counts, the most frequent first, and by name where they are as frequent."""
    return sorted(counts.items(), key=lambda item: (-item[1], item[0]))


def _merge(
    one: Mapping[str, Value], other: Mapping[str, Value], add: Callable[[Value, Value], Value]
) -> dict[str, Value]:
    found = dict(one)
    for name, value in other.items():
        found[name] = add(found[name], value) if name in found else value
    return dict(sorted(found.items()))
