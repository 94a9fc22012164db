"""What another look or another choice could change: measure next, and what would change the verdict.

All questions are asked at once, as further variants of the case in the frame that is judged anyway.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import polars as pl

from mendbook.columns.speak import HOLDS, SEVERITY
from mendbook.facts.origins import FEEDING
from mendbook.facts.readings import BAD, GOOD, READ, Reading, Readings
from mendbook.facts.scenarios import THREE_READINGS, USE, VARIANT, Variant, choices
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import spell_value
from mendbook.rulebook.tree import Value
from mendbook.terms.docket import Change, Look
from mendbook.terms.vocabulary import Fact, Worse
from mendbook.triage.findings import TYRE
from mendbook.triage.passes import Judged

MOST_TRIED = 48  # ways in which unordered facts may still combine; beyond, they are asked for first
MOST_INJURIES = 8  # every change of one is judged with all the others; beyond, only looks are asked for
GRID = 12  # values a measure is tried at between its reading and its good end, closest together near the reading
ENDS = (
    (BAD, GOOD),
    (GOOD, BAD),
    (READ, GOOD),
    (READ, BAD),
)  # all others at the first, this one at the second


@dataclass(frozen=True)
class Outlook:
    """What could change the answer."""

    would_change: tuple[Change, ...] = ()
    nothing_to_change: str = ""
    measure_next: tuple[Look, ...] = ()


@dataclass(frozen=True)
class Handle:
    """One fact of one subject that a variant may override; `injury` is None for the tyre."""

    injury: int | None
    about: str
    fact: Fact
    reading: Reading

    def variant(self, end: int, value: Value) -> Variant:
        """Return the case read at `end` but for this fact."""
        override: dict[str, Value] = {self.fact.name: value}
        if self.injury is None:
            return Variant(end, tyre=override)
        if self.fact.name == "distance from bead":
            override["opposite distance"] = value
        return Variant(end, injuries={self.injury: override})

    def at(self, end: int) -> Value:
        """Return this fact at one end of its readings."""
        if self.fact.is_listed:
            values = self.reading.listed[self.fact.name]
            return values[0] if end == GOOD else values[-1]
        number = self.reading.measures[self.fact.name][end]
        return self.fact.high if number is None else number

    @property
    def is_open(self) -> bool:
        """True when another look could still move this fact."""
        return self.fact.name in self.reading.uncertain or self.is_to_do

    @property
    def is_to_do(self) -> bool:
        """True for a look or a decision that nobody has written yet."""
        return self.fact.is_look and self.at(READ) == self.fact.missing

    @property
    def is_yours(self) -> bool:
        """True when it can be changed or measured anew; age and heat cannot."""
        return self.fact.changeable or self.injury is not None


class Questions:
    """The variants that are asked of a case beside its three readings, and what their answers mean."""

    def __init__(self, readings: Readings, book: Rulebook) -> None:
        self._readings, self._book = readings, book
        self._too_open = choices(readings, book.vocabulary) > MOST_TRIED
        self._asked: list[Variant] = list(THREE_READINGS)
        self._looks: list[tuple[Handle, range]] = []
        self._tries: list[tuple[Handle, list[Value], range]] = []
        if self._too_open:
            return
        for handle in handles(readings, book):
            if handle.is_open:
                self._looks.append((handle, self._ask(look_variants(handle))))
            values = [] if len(readings.injuries) > MOST_INJURIES else list(candidates(handle))
            self._tries.append((handle, values, self._ask(handle.variant(READ, value) for value in values)))

    @property
    def variants(self) -> Sequence[Variant]:
        """The three readings and every question."""
        return self._asked

    def _ask(self, variants: Iterator[Variant]) -> range:
        first = len(self._asked)
        self._asked += variants
        return range(first, len(self._asked))

    def answer(self, judged: Judged, verdict: str, bracket: tuple[str, str], *, is_held: bool) -> Outlook:
        """Return what the judged variants say."""
        if self._too_open:
            return self._name_what_is_open()
        asked_for = judged.verdicts.filter(pl.col(USE).is_in(list(self._readings.uses)))
        folded = asked_for.group_by(VARIANT).agg(pl.col(SEVERITY).max(), pl.col(HOLDS).max()).sort(VARIANT)
        severity, holds = folded.get_column(SEVERITY).to_list(), folded.get_column(HOLDS).to_list()
        worst = self._book.verdicts[-1]
        is_settled = bracket[0] == worst or (bracket[0] == bracket[1] and not is_held)
        looks = () if is_settled else tuple(self._weigh(severity, holds))
        now = self._book.rank(verdict)
        changes = list(self._nearest(severity, now, judged.tyres.item(0, "half girth") or 0.0))
        yours = [change for handle, change in changes if handle.is_yours]
        fixed = [change for handle, change in changes if not handle.is_yours]
        nothing = ""
        if len(self._readings.injuries) > MOST_INJURIES:
            nothing = "There are too many injuries to say what would change it."
        elif verdict == worst and not yours:
            decided = ", ".join(dict.fromkeys(change.fact for change in fixed))
            nothing = (
                f"Nothing you can change gives a milder verdict; it was decided by {decided}."
                if decided
                else "No single change gives a milder verdict."
            )
        return Outlook((*yours, *fixed), nothing, looks)

    def _name_what_is_open(self) -> Outlook:
        """So much is unknown that naming it is the answer: every listed fact that is open, before any measure."""
        vocabulary, readings = self._book.vocabulary, self._readings
        subjects = [(TYRE, readings.tyre), *zip(readings.names, readings.injuries, strict=True)]
        looks = tuple(
            Look(
                about=about,
                fact=name,
                how=vocabulary[name].measure,
                why="nothing else can be narrowed down before",
            )
            for about, reading in subjects
            for name in reading.alternatives(vocabulary)
            if name in vocabulary and vocabulary[name].is_given
        )
        return Outlook(nothing_to_change="Too much is unknown to say what would change it.", measure_next=looks)

    def _weigh(self, severity: Sequence[int], holds: Sequence[int]) -> Iterator[Look]:
        """Yield the looks that could change the answer, the most decisive first."""
        verdicts = self._book.verdicts
        weighed: list[tuple[tuple[int, bool, int, int], Look]] = []
        for place, (handle, asked) in enumerate(self._looks):
            usual = [self._asked[v].end for v in asked]
            moved = max(abs(severity[v] - severity[end]) for v, end in zip(asked, usual, strict=True))
            held = max(abs(holds[v] - holds[end]) for v, end in zip(asked, usual, strict=True))
            if not moved and not held:
                continue
            mild, bad = (verdicts[max(0, fold(severity[v] for v in (*asked, *usual)))] for fold in (min, max))
            why = f"it decides between {mild} and {bad}" if moved else "a hold depends on it"
            look = Look(about=handle.about, fact=handle.fact.name, how=handle.fact.measure, why=why)
            # Looks are costly, and a reading may clear the hold that asks for one.
            weighed.append(((-moved, handle.is_to_do, -held, place), look))
        yield from (look for _, look in sorted(weighed, key=lambda one: one[0]))

    def _nearest(self, severity: Sequence[int], now: int, half_girth: float) -> Iterator[tuple[Handle, Change]]:
        """Yield for each fact the nearest value that gives a milder verdict, on this tyre [half girth in mm]."""
        for handle, values, asked in self._tries:
            for value, variant in zip(values, asked, strict=True):
                if handle.fact.name == "distance from bead" and float(value) > half_girth:
                    break
                if max(0, severity[variant]) < now:  # nothing said is as mild as the mildest
                    yield handle, self._change(handle, value, self._book.verdicts[max(0, severity[variant])])
                    break

    def _change(self, handle: Handle, value: Value, verdict: str) -> Change:
        current, then = spell_value(handle.fact, handle.at(READ)), spell_value(handle.fact, value)
        where = "" if handle.about == TYRE else f"{handle.about}, "
        lesson = "" if handle.is_yours else " (not yours to change; a lesson for next time)"
        says = f"{where}{handle.fact.name}: {then} instead of {current} would give '{verdict}'{lesson}."
        return Change(about=handle.about, fact=handle.fact.name, now=current, then=then, verdict=verdict, says=says)


def seen_facts(book: Rulebook) -> frozenset[str]:
    """Return every fact of the vocabulary that a rule sees, directly or through what is derived, but for the law."""
    facts = FEEDING | {name for rule in book.by_id().values() for name in rule.facts()}
    return frozenset(name for name in facts if name in book.vocabulary and name != "law")


def handles(readings: Readings, book: Rulebook) -> Iterator[Handle]:
    """Yield every fact of the case that rules see, directly or through what is derived from it."""
    seen = seen_facts(book)
    numbers: list[tuple[int | None, str, Reading]] = [(None, TYRE, readings.tyre)]
    numbers += [(n, name, readings.injuries[n]) for n, name in enumerate(readings.names)]
    for number, about, reading in numbers:
        for name in (*reading.listed, *reading.measures):
            if name in seen:
                yield Handle(number, about, book.vocabulary[name], reading)


def look_variants(handle: Handle) -> Iterator[Variant]:
    """Yield the readings of one fact against the others at their ends; a look that is to do as if it came out well."""
    if handle.is_to_do:
        for end in (BAD, READ):
            yield handle.variant(end, handle.fact.values[0])
        return
    if handle.fact.is_listed and handle.fact.worse is Worse.NEITHER:
        for end in (BAD, GOOD, READ):
            for value in handle.reading.listed[handle.fact.name]:
                yield handle.variant(end, value)
        return
    for others, own in ENDS:
        yield handle.variant(others, handle.at(own))


def candidates(handle: Handle) -> Iterator[Value]:
    """Yield better values than the one read, nearest first."""
    fact = handle.fact
    if fact.is_look or (fact.is_listed and handle.injury is not None):
        return  # what an injury is, is not a measure that could come out otherwise
    if fact.is_listed:
        current = str(handle.at(READ))
        if fact.worse is Worse.LATER:
            yield from reversed(fact.values[: fact.rank(current)])
        elif fact.changeable and len(handle.reading.listed[fact.name]) == 1:
            yield from (value for value in fact.values if value != current)
    elif fact.worse in (Worse.BIGGER, Worse.SMALLER):
        start = float(handle.at(READ))
        good, _ = fact.ends(fact.low, fact.high)
        values = (round(start + (good - start) * (n / GRID) ** 2, fact.decimals) for n in range(1, GRID + 1))
        yield from (value for value in dict.fromkeys(values) if value != start)
