"""What another look or another choice could change: measure next, and what would change the verdict."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns.speak import HOLDS, SEVERITY, STOPS
from mendbook.facts.readings import BAD, GOOD, READ, Reading, Readings
from mendbook.facts.scenarios import VARIANT, Variant, choices, lay_out
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import spell_value
from mendbook.rulebook.tree import Value
from mendbook.terms.docket import Change, Look
from mendbook.terms.vocabulary import Fact, Worse
from mendbook.triage.evaluators import ColumnEvaluator
from mendbook.triage.findings import TYRE
from mendbook.triage.passes import Passes

GRID = 16  # candidate values a measure is tried at, twice: over its range, then between its neighbours
MOST_TRIED = 48  # ways in which unordered facts may still combine; beyond, they are asked for first
ENDS = ((BAD, GOOD), (GOOD, BAD), (READ, GOOD), (READ, BAD))  # all others at the first, this one at the second


@dataclass(frozen=True)
class Outlook:
    """What could change the answer."""

    would_change: tuple[Change, ...] = ()
    nothing_to_change: str = ""
    measure_next: tuple[Look, ...] = ()


@dataclass(frozen=True)
class _Handle:
    """One fact of one subject that a variant may override; `injury` is None for the tyre."""

    injury: int | None
    fact: Fact
    reading: Reading

    def variant(self, end: int, value: Value) -> Variant:
        override = {self.fact.name: value}
        if self.injury is None:
            return Variant("", end, tyre=override)
        if self.fact.name == "distance from bead":
            override["distance as read"] = value
        return Variant("", end, injuries={self.injury: override})

    def at(self, end: int) -> Value:
        if self.fact.is_listed:
            values = self.reading.listed[self.fact.name]
            return values[0] if end == GOOD else values[-1]
        number = self.reading.measures[self.fact.name][end]
        return self.fact.high if number is None else number

    def is_open(self) -> bool:
        return self.fact.name in self.reading.uncertain


@dataclass(frozen=True)
class _Answer:
    severity: int
    holds: int
    stops: int


def look_out(
    readings: Readings,
    passes: Passes,
    evaluator: ColumnEvaluator,
    book: Rulebook,
    verdict: str,
    bracket: tuple[str, str],
    is_held: bool,
) -> Outlook:
    """Return what could change the answer. All what-ifs are judged by columns, in as few frames as can be."""
    if choices(readings, book.vocabulary) > MOST_TRIED:
        return _too_open(readings, book)
    handles = list(_handles(readings, book))
    asked: list[Variant] = [Variant("good", GOOD), Variant("as read", READ), Variant("bad", BAD)]
    is_settled = bracket[0] == book.verdicts[-1] or (bracket[0] == bracket[1] and not is_held)
    open_handles = [] if is_settled else [h for h in handles if h.is_open()]
    looks = [(h, list(_look_variants(h))) for h in open_handles]
    is_mildest = verdict == book.verdicts[0]
    tries = [] if is_mildest else [(h, list(_candidates(h))) for h in handles]
    asked += [v for _, variants in looks for v in variants]
    asked += [h.variant(READ, value) for h, values in tries for value in values]
    answers = iter(_ask(asked, readings, passes, evaluator, book))
    three = [next(answers) for _ in range(3)]
    measure_next = list(_weigh(looks, answers, three, readings, book))
    now = book.rank(verdict)
    nearest = [
        (handle, values, [next(answers) for _ in values]) for handle, values in tries
    ]
    changes = _nearest(nearest, now, lambda variants: _ask(variants, readings, passes, evaluator, book), readings, book)
    changeable = [c for c, handle in changes if handle.fact.changeable or handle.injury is not None]
    fixed = [c for c, handle in changes if not handle.fact.changeable and handle.injury is None]
    nothing = ""
    if not is_mildest and verdict == book.verdicts[-1] and not changeable:
        decided_by = ", ".join(dict.fromkeys(c.fact for c in fixed))
        nothing = (
            f"Nothing you can change gives a milder verdict; it was decided by {decided_by}."
            if decided_by
            else "No single change gives a milder verdict."
        )
    return Outlook(tuple([*changeable, *fixed]), nothing, tuple(measure_next))


def _too_open(readings: Readings, book: Rulebook) -> Outlook:
    """So much is unknown that naming it is the answer: every listed fact that is open, before any measure."""
    subjects = [(TYRE, readings.tyre), *zip(readings.names, readings.injuries, strict=True)]
    looks = [
        Look(about=about, fact=name, how=book.vocabulary[name].measure, why="nothing else can be narrowed down before")
        for about, reading in subjects
        for name in reading.alternatives(book.vocabulary)
        if name in book.vocabulary and book.vocabulary[name].is_given
    ]
    return Outlook(nothing_to_change="Too much is unknown to say what would change it.", measure_next=tuple(looks))


def _handles(readings: Readings, book: Rulebook) -> Iterator[_Handle]:
    used = {name for rule in book.rules for name in rule.facts()} | {n for t in book.tables for n in t.facts()}
    feeding = used | FEEDING
    subjects: list[tuple[int | None, Reading]] = [(None, readings.tyre), *enumerate(readings.injuries)]
    for number, reading in subjects:
        for name in (*reading.listed, *reading.measures):
            if name in book.vocabulary and name in feeding and name != "law":
                yield _Handle(number, book.vocabulary[name], reading)


# Measures that rules see only through what is derived from them.
FEEDING = frozenset({
    "length", "width", "depth", "inside length", "inside width", "outside length", "distance from bead",
    "separation halo", "rust", "path angle", "plies", "belts", "plies damaged", "belts damaged", "cords cut",
    "belt edge distance", "pressure at removal", "tread left", "ambient", "tkph use", "age", "duty",
})  # fmt: skip


def _look_variants(handle: _Handle) -> Iterator[Variant]:
    if handle.fact.is_listed and handle.fact.worse is Worse.NEITHER:
        for end in (BAD, GOOD, READ):
            for value in handle.reading.listed[handle.fact.name]:
                yield handle.variant(end, value)
        return
    for others, own in ENDS:
        yield handle.variant(others, handle.at(own))


def _weigh(
    looks: Sequence[tuple[_Handle, list[Variant]]], answers: Iterator[_Answer], three: Sequence[_Answer],
    readings: Readings, book: Rulebook,
) -> Iterator[Look]:
    weighed: list[tuple[int, int, _Handle, str]] = []
    for place, (handle, variants) in enumerate(looks):
        got = [next(answers) for _ in variants]
        moved, holds, worst, best = 0, 0, 0, len(book.verdicts)
        for variant, answer in zip(variants, got, strict=True):
            usual = three[(GOOD, READ, BAD).index(variant.end)]
            moved = max(moved, abs(answer.severity - usual.severity))
            holds = max(holds, abs(answer.holds - usual.holds) + abs(answer.stops - usual.stops))
            best, worst = min(best, answer.severity), max(worst, answer.severity)
        if moved or holds:
            why = (
                f"it decides between {book.verdicts[max(0, best)]} and {book.verdicts[max(0, worst)]}"
                if moved
                else "a hold depends on it"
            )
            weighed.append((-moved * 10 - holds, place, handle, why))
    for _, _, handle, why in sorted(weighed, key=lambda w: w[:2]):
        about = TYRE if handle.injury is None else readings.names[handle.injury]
        yield Look(about=about, fact=handle.fact.name, how=handle.fact.measure, why=why)


def _candidates(handle: _Handle) -> Iterator[Value]:
    """Yield better values than the one read, nearest first."""
    fact = handle.fact
    if fact.is_listed:
        current = handle.at(READ)
        if fact.worse is Worse.LATER:
            yield from reversed(fact.values[: fact.rank(str(current))])
        elif fact.changeable:
            yield from (value for value in fact.values if value != current)
        return
    if fact.worse not in (Worse.BIGGER, Worse.SMALLER):
        return
    now = float(handle.at(READ))
    good, _ = fact.ends(fact.low, fact.high)
    yield from _spread(now, good, fact.decimals)


def _spread(start: float, end: float, decimals: int) -> list[float]:
    """Return up to GRID values from next to `start` to `end`, in steps no finer than `decimals`."""
    if start == end:
        return []
    values = [round(start + (end - start) * n / GRID, decimals) for n in range(1, GRID + 1)]
    return [v for v in dict.fromkeys(values) if v != start]


def _nearest(
    tried: Sequence[tuple[_Handle, Sequence[Value], Sequence[_Answer]]],
    now: int,
    ask: Callable[[list[Variant]], list[_Answer]],
    readings: Readings,
    book: Rulebook,
) -> list[tuple[Change, _Handle]]:
    found: list[tuple[_Handle, Value, int]] = []
    finer: list[tuple[int, list[float]]] = []
    for handle, values, answers in tried:
        hit = next((n for n, answer in enumerate(answers) if answer.severity < now), None)
        if hit is None:
            continue
        found.append((handle, values[hit], answers[hit].severity))
        if not handle.fact.is_listed:
            before = float(values[hit - 1]) if hit else float(handle.at(READ))
            finer.append((len(found) - 1, _spread(before, float(values[hit]), handle.fact.decimals)))
    again = iter(ask([found[place][0].variant(READ, value) for place, values in finer for value in values]))
    for place, fine in finer:
        for value, answer in [(value, next(again)) for value in fine]:
            if answer.severity < now:
                found[place] = (found[place][0], value, answer.severity)
                break
    return [(_change(handle, value, severity, readings, book), handle) for handle, value, severity in found]


def _change(handle: _Handle, value: Value, severity: int, readings: Readings, book: Rulebook) -> Change:
    about = TYRE if handle.injury is None else readings.names[handle.injury]
    current = spell_value(handle.fact, handle.at(READ))
    then, verdict = spell_value(handle.fact, value), book.verdicts[max(0, severity)]
    where = "" if about == TYRE else f" of {about}"
    is_yours = handle.fact.changeable or handle.injury is not None
    lesson = "" if is_yours else " (not yours to change; a lesson for next time)"
    return Change(
        about=about, fact=handle.fact.name, now=current, then=then, verdict=verdict,
        says=f"With {handle.fact.name}{where} {then} instead of {current}: {verdict}{lesson}.",
    )  # fmt: skip


def _ask(
    variants: list[Variant], readings: Readings, passes: Passes, evaluator: ColumnEvaluator, book: Rulebook
) -> list[_Answer]:
    if not variants:
        return []
    judged = passes.run(lay_out(readings, variants, readings.uses, book.vocabulary), evaluator)
    folded = judged.verdicts.group_by(VARIANT, maintain_order=True).agg(
        pl.col(SEVERITY).max(), pl.col(HOLDS).max(), pl.col(STOPS).max()
    )
    by_variant = {row[0]: _Answer(row[1], row[2], row[3]) for row in folded.sort(VARIANT).iter_rows()}
    return [by_variant[n] for n in range(len(variants))]

