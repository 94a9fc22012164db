"""What changed in the rules: each limit, verdict and sentence, and exactly where the answer of a rule moves."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from difflib import SequenceMatcher

from mendbook.audit.changes import Changed, FindCase, Item, Region, Way, both_ways
from mendbook.proof.looser import Less, Scale, find_less
from mendbook.proof.region import spell_box
from mendbook.rulebook.tree import Bound, Line, Outcome, Rule

RULE = "rule"


@dataclass(frozen=True)
class RuleComparison:
    """Compares rules by the scales of the two books; on another scale nothing is stricter or looser."""

    then: Scale
    now: Scale
    find_case: FindCase | None = None

    def compare(self, then: Sequence[Rule], now: Sequence[Rule]) -> Iterator[Changed]:
        """Yield what changed, in the order of the places of the rules."""
        before, after = {rule.id: rule for rule in then}, {rule.id: rule for rule in now}
        for place in sorted(before.keys() | after.keys()):
            one, other = before.get(place), after.get(place)
            if one is None and other is not None:
                yield Changed(RULE, place, other.name, (Item("added", "", other.asks, self.way(None, other)),))
            elif one is not None and other is None:
                yield Changed(RULE, place, one.name, (Item("withdrawn", one.asks, "", self.way(one, None)),))
            elif one is not None and other is not None and (items := tuple(self._items(one, other))):
                yield Changed(RULE, place, other.name, items, tuple(self._regions(one, other)))

    def way(self, then: Rule | None, now: Rule | None) -> Way:
        """Return whether `now` says less than `then`, or more, anywhere."""
        if self.then.verdicts != self.now.verdicts:
            return Way.UNKNOWN
        looser = then is not None and any(True for _ in find_less(then, now, self.then))
        stricter = now is not None and any(True for _ in find_less(now, then, self.now))
        return both_ways(looser, stricter)

    def _regions(self, then: Rule, now: Rule) -> Iterator[Region]:
        if self.then.verdicts != self.now.verdicts:
            return
        for less in find_less(then, now, self.then):
            yield self._region(now.id, Way.LOOSER, less, self.then)
        for less in find_less(now, then, self.now):
            yield self._region(now.id, Way.STRICTER, less, self.now)

    def _region(self, place: str, way: Way, less: Less, scale: Scale) -> Region:
        case = self.find_case(place, less.box) if self.find_case else None
        return Region(way, spell_box(less.box, scale.vocabulary), less.lacks, case or "")

    def _items(self, then: Rule, now: Rule) -> Iterator[Item]:
        for what in ("name", "asks", "stage"):
            yield from _reworded(what, getattr(then, what), getattr(now, what))
        for fact, applies in _differing(then.applies, now.applies):
            mixed = replace(then, applies=(*_without(then.applies, fact), *applies))
            way = self.way(then, mixed)
            yield Item(fact, self._spell(then.applies, fact), self._spell(applies, fact), way, "applies to")
        for place, one, other in _paired(then.lines, now.lines):
            if one is None and other is not None:
                yield Item("added", "", self._line(other), self.way(then, now), f"line {other.at}")
            elif one is not None and other is None:
                yield Item("withdrawn", self._line(one), "", self.way(then, now), f"line {one.at}")
            elif one is not None and other is not None:
                yield from self._line_items(then, place, one, other)

    def _line_items(self, rule: Rule, place: int, one: Line, other: Line) -> Iterator[Item]:
        """Yield what differs between two lines; each is put into the old rule alone, to see what it does there."""
        about = f"line {other.at}"

        def way(line: Line) -> Way:
            return self.way(rule, replace(rule, lines=(*rule.lines[:place], line, *rule.lines[place + 1 :])))

        for fact, bounds in _differing(one.bounds, other.bounds):
            mixed = replace(one, bounds=(*_without(one.bounds, fact), *bounds))
            yield Item(fact, self._spell(one.bounds, fact), self._spell(bounds, fact), way(mixed), about)
        for field in fields(Outcome):
            before, after = getattr(one.outcome, field.name), getattr(other.outcome, field.name)
            if _plain(before) != _plain(after):
                mixed = replace(one, outcome=replace(one.outcome, **{field.name: after}))
                yield Item(
                    field.name.replace("_", " "), self._said(before), self._said(after), way(mixed), about
                )  # fmt: skip
        yield from _reworded("because", one.because, other.because, about)
        before, after = ("; ".join(f"{c.source}, {c.place}" for c in line.sources) for line in (one, other))
        if before != after:
            yield Item("source", before, after, way(replace(one, sources=other.sources)), about)

    def _spell(self, bounds: Iterable[Bound], fact: str) -> str:
        chosen = tuple(bound for bound in bounds if bound.fact == fact)
        return spell_box(chosen, self.now.vocabulary).removeprefix(f"{fact}: ") if chosen else ""

    def _line(self, line: Line) -> str:
        said = line.outcome.verdict or ", ".join(line.outcome.words())
        return f"{said} where {spell_box(line.bounds, self.now.vocabulary)}" if line.bounds else f"{said} otherwise"

    def _said(self, said: object) -> str:
        """Return what one part of an outcome says, as text: a word, a list, caps, or ways to clear a hold."""
        if not isinstance(said, tuple):
            return str(said or "")
        parts = []
        for part in said:
            if isinstance(part, tuple) and all(isinstance(bound, Bound) for bound in part):
                parts.append(spell_box(part, self.now.vocabulary))
            else:
                parts.append(" ".join(part) if isinstance(part, tuple) else str(part))
        return "; ".join(parts)


def _reworded(what: str, then: str, now: str, about: str = "") -> Iterator[Item]:
    if then != now:
        yield Item(what, then, now, Way.NEITHER, about)


def _plain(said: object) -> object:
    """Return `said` without how its bounds happen to be written."""
    if isinstance(said, Bound):
        return said.fact, said.op, said.number, said.values
    return tuple(map(_plain, said)) if isinstance(said, tuple) else said


def _differing(then: Iterable[Bound], now: Sequence[Bound]) -> Iterator[tuple[str, tuple[Bound, ...]]]:
    """Yield each fact that is bounded otherwise, with its bounds as they are."""
    before, after = tuple(then), tuple(now)
    for fact in dict.fromkeys(bound.fact for bound in (*before, *after)):
        chosen = [tuple(bound for bound in bounds if bound.fact == fact) for bounds in (before, after)]
        if _plain(chosen[0]) != _plain(chosen[1]):
            yield fact, chosen[1]


def _without(bounds: Iterable[Bound], fact: str) -> tuple[Bound, ...]:
    return tuple(bound for bound in bounds if bound.fact != fact)


def _paired(then: Sequence[Line], now: Sequence[Line]) -> Iterator[tuple[int, Line | None, Line | None]]:
    """Yield the lines that belong together, with the place of the old one; None where one came or went."""
    if len(then) == len(now):
        yield from ((place, one, other) for place, (one, other) in enumerate(zip(then, now, strict=True)))
        return
    keys = [
        [(tuple(bound.fact for bound in line.bounds), line.outcome.verdict) for line in lines] for lines in (then, now)
    ]
    for tag, a, b, c, d in SequenceMatcher(a=keys[0], b=keys[1], autojunk=False).get_opcodes():
        if tag == "equal" or b - a == d - c:
            yield from zip(range(a, b), then[a:b], now[c:d], strict=True)
        else:
            yield from ((place, then[place], None) for place in range(a, b))
            yield from ((a, None, line) for line in now[c:d])
