"""The rule tree: what every evaluator is lowered from. Frozen, without input or output."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeAlias

from mendbook.terms.vocabulary import Subject

Value: TypeAlias = float | str


class Op(StrEnum):
    """How a bound compares a fact with its number, or with its list of values."""

    UP_TO = "up to"
    BELOW = "below"
    AT_LEAST = "at least"
    OVER = "over"
    IN = "any of"


@dataclass(frozen=True)
class Bound:
    """One condition on one fact: `length: up to 60 mm`, `kind: any of [a, b]`.

    A list has the chosen `values`, and in `others` the rest of what the fact can be.
    """

    fact: str
    op: Op
    number: float = 0.0
    values: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    text: str = ""

    def holds(self, value: Value) -> bool:
        """Return whether the bound holds for `value`."""
        if self.op is Op.IN:
            return value in self.values
        number = float(value)
        match self.op:
            case Op.UP_TO:
                return number <= self.number
            case Op.BELOW:
                return number < self.number
            case Op.AT_LEAST:
                return number >= self.number
            case _:
                return number > self.number


@dataclass(frozen=True)
class Citation:
    """Where a limit comes from: the source's id and the place in it."""

    source: str
    place: str


@dataclass(frozen=True)
class Outcome:
    """What a line says. Everything folds without order: most severe, union, smallest.

    `cleared_by` belongs to the hold: ways to clear it, each the facts that are then read anew.
    """

    verdict: str | None = None
    hold: str | None = None
    stop: str | None = None
    rule_out: tuple[str, ...] = ()
    cap: tuple[tuple[str, str], ...] = ()
    do: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    cleared_by: tuple[tuple[Bound, ...], ...] = ()

    def words(self) -> tuple[str, ...]:
        """Return the kinds of thing this outcome says, in the grammar's own words."""
        spoken = {
            "verdict": self.verdict, "hold": self.hold, "stop": self.stop, "rule out": self.rule_out,
            "cap": self.cap, "do": self.do, "caution": self.caution,
        }  # fmt: skip
        return tuple(word for word, said in spoken.items() if said)

    def sentences(self) -> tuple[tuple[str, str], ...]:
        """Return each sentence with the kind of thing it is."""
        one_each = (("hold", self.hold), ("stop", self.stop))
        many = (("do", self.do), ("caution", self.caution))
        return (
            *((word, said) for word, said in one_each if said),
            *((word, sentence) for word, said in many for sentence in said),
        )


@dataclass(frozen=True)
class Line:
    """One line of a rule: its bounds, what it says when they hold, why, and from which source."""

    bounds: tuple[Bound, ...]
    outcome: Outcome
    because: str
    sources: tuple[Citation, ...]
    at: int


@dataclass(frozen=True)
class Example:
    """A worked example of a rule: the facts it needs and what the rule must then say."""

    facts: Mapping[str, Value]
    verdict: str | None
    says: str
    asks: str
    at: int


@dataclass(frozen=True)
class Rule:
    """A chart (first line that fits decides, the last fits always) or a when-rule (one line, or silence).

    `in_reserve` says why a rule is kept that today's tables keep silent, "" for any other.
    """

    id: str
    name: str
    asks: str
    file: str
    stage: str
    subject: Subject
    applies: tuple[Bound, ...]
    lines: tuple[Line, ...]
    is_chart: bool
    examples: tuple[Example, ...] = field(default=(), compare=False)
    in_reserve: str = field(default="", compare=False)

    def facts(self) -> frozenset[str]:
        """Return the names of all facts that this rule looks at."""
        return frozenset(b.fact for b in self.applies) | {b.fact for line in self.lines for b in line.bounds}

    def speaks(self, facts: Mapping[str, Value]) -> int | None:
        """Return the index of the line that decides for `facts`, None when the rule is silent."""
        if not all(bound.holds(facts[bound.fact]) for bound in self.applies):
            return None
        for index, line in enumerate(self.lines):
            if all(bound.holds(facts[bound.fact]) for bound in line.bounds):
                return index
        return None

    def exclusive_conditions(self) -> Iterator[tuple[int, tuple[Bound, ...]]]:
        """Yield (line index, bounds) so that at most one of them holds for any facts.

        A line of a chart decides only when no line above fits. "Not (A and B)" is split into the disjoint
        "not A" and "A and not B", so that each condition is a plain conjunction.
        """
        contexts: list[tuple[Bound, ...]] = [self.applies]
        for index, line in enumerate(self.lines):
            unfit: list[tuple[Bound, ...]] = []
            for context in contexts:
                yield index, simplify((*context, *line.bounds))
                if index == len(self.lines) - 1:
                    continue
                for place, bound in enumerate(line.bounds):
                    remainder = simplify((*context, *line.bounds[:place], negate(bound)))
                    if is_possible(remainder):
                        unfit.append(remainder)
            contexts = unfit


_OPPOSITE = {Op.UP_TO: Op.OVER, Op.OVER: Op.UP_TO, Op.BELOW: Op.AT_LEAST, Op.AT_LEAST: Op.BELOW}


def negate(bound: Bound) -> Bound:
    """Return the bound that holds exactly when `bound` does not."""
    if bound.op is Op.IN:
        return Bound(bound.fact, Op.IN, values=bound.others, others=bound.values)
    return Bound(bound.fact, _OPPOSITE[bound.op], bound.number)


def simplify(bounds: tuple[Bound, ...]) -> tuple[Bound, ...]:
    """Drop bounds that another bound on the same fact already implies."""
    kept: dict[tuple[str, str], Bound] = {}
    for bound in bounds:
        side = "list" if bound.op is Op.IN else "top" if bound.op in (Op.UP_TO, Op.BELOW) else "bottom"
        key = (bound.fact, side)
        other = kept.get(key)
        kept[key] = bound if other is None else tighter(bound, other)
    return tuple(kept.values())


def tighter(one: Bound, other: Bound) -> Bound:
    """Return the bound that implies the other; both are on the same side of the same fact."""
    if one.op is Op.IN:
        both = tuple(value for value in one.values if value in other.values)
        rest = tuple(value for value in (*one.values, *one.others) if value not in both)
        return Bound(one.fact, Op.IN, values=both, others=rest)
    if one.number == other.number:
        return one if one.op in (Op.BELOW, Op.OVER) else other
    lower = one if one.number < other.number else other
    higher = other if lower is one else one
    return lower if one.op in (Op.UP_TO, Op.BELOW) else higher


def is_possible(bounds: tuple[Bound, ...]) -> bool:
    """Return False when two bounds on one fact leave no room."""
    for top in bounds:
        if top.op is Op.IN and not top.values:
            return False
        if top.op not in (Op.UP_TO, Op.BELOW):
            continue
        for bottom in bounds:
            if bottom.fact == top.fact and bottom.op in (Op.AT_LEAST, Op.OVER):
                strict = top.op is Op.BELOW or bottom.op is Op.OVER
                if bottom.number > top.number or (strict and bottom.number == top.number):
                    return False
    return True
