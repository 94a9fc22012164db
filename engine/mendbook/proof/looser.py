"""Where one rule or table says less than another, decided exactly: over all values of the facts, not over samples.

Facts are taken as free within their ranges, so a place where the facts could never lie together counts as well.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mendbook.proof.region import Box, is_inhabited, subtract
from mendbook.rulebook.tree import Line, Outcome, Rule, simplify
from mendbook.terms.vocabulary import Subject, Vocabulary

LAW = "law"  # a kind of source, and the folder of rules that rest on it
_CAP = re.compile(r"^(-?\d+(?:\.\d+)?)\s*(.*)$")


@dataclass(frozen=True)
class Scale:
    """What outcomes are measured by: the verdicts from mild to severe, the facts, and which sources are law."""

    verdicts: tuple[str, ...]
    vocabulary: Vocabulary
    laws: frozenset[str]

    def rests_on_law(self, line: Line) -> bool:
        """Return whether the source that carries `line` is a law."""
        return line.sources[0].source in self.laws


@dataclass(frozen=True)
class Less:
    """A region in which `now` says less than `then`; `now` is None where nothing speaks any more.

    `lacks` names what is missing, in words.
    """

    box: Box
    then: Line
    now: Line | None
    lacks: tuple[str, ...]


def find_less(then: Rule, now: Rule | None, scale: Scale) -> Iterator[Less]:
    """Yield the disjoint regions in which `now` says less than `then`, all that there are."""
    later = [] if now is None else [(now.lines[n], box) for n, box in now.exclusive_conditions()]
    is_narrower = now is not None and then.subject is Subject.INJURY and now.subject is not Subject.INJURY
    for number, box in then.exclusive_conditions():
        line = then.lines[number]
        left: tuple[Box, ...] = (box,) if is_inhabited(box, scale.vocabulary) else ()
        for other, covered in later:
            lacks = (*lacking(line, other, scale), *(("what it says of each place",) if is_narrower else ()))
            if lacks:
                yield from (Less(piece, line, other, lacks) for piece in _inside(left, covered, scale.vocabulary))
            left = subtract(left, covered, scale.vocabulary)
        if lacks := lacking(line, None, scale):
            yield from (Less(piece, line, None, lacks) for piece in left)


def lacking(then: Line, now: Line | None, scale: Scale) -> tuple[str, ...]:
    """Return what `now` lacks of what `then` says, in words; empty when it says as much or more.

    A sentence that is only worded otherwise lacks nothing. A stop stands in for a hold, not the other way round.
    """
    said, says = then.outcome, now.outcome if now else Outcome()
    found = [*_verdict(said, says, scale.verdicts)]
    if said.stop and not says.stop:
        found.append("the stop")
    if said.hold and not (says.hold or says.stop):
        found.append("the hold")
    found += [f"the ruling out of '{name}'" for name in said.rule_out if name not in says.rule_out]
    found += _caps(said, says)
    found += _sentences("step", said.do, says.do)
    found += _sentences("caution", said.caution, says.caution)
    if now is not None and scale.rests_on_law(then) and not scale.rests_on_law(now):
        found.append("the law that it rests on")
    return tuple(found)


def is_smaller(cap: str, other: str) -> bool | None:
    """Return whether `cap` is at most `other`, None when they cannot be compared: no number, or another unit."""
    one, two = _CAP.match(cap), _CAP.match(other)
    if one is None or two is None or one[2] != two[2]:
        return True if cap == other else None
    return float(one[1]) <= float(two[1])


def _inside(boxes: Iterable[Box], cut: Box, vocabulary: Vocabulary) -> Iterator[Box]:
    for box in boxes:
        if is_inhabited((*box, *cut), vocabulary):
            yield simplify((*box, *cut))


def _verdict(said: Outcome, says: Outcome, verdicts: tuple[str, ...]) -> Iterator[str]:
    ranks = [-1 if one.verdict is None else verdicts.index(one.verdict) for one in (said, says)]
    if ranks[1] < ranks[0]:
        yield f"the verdict '{said.verdict}'" + (f" (it says '{says.verdict}')" if says.verdict else "")


def _caps(said: Outcome, says: Outcome) -> Iterator[str]:
    now = dict(says.cap)
    for what, limit in said.cap:
        if what not in now:
            yield f"the cap on {what} of {limit}"
        elif not is_smaller(now[what], limit):
            yield f"the cap on {what} of {limit} (it says {now[what]})"


def _sentences(kind: str, said: tuple[str, ...], says: tuple[str, ...]) -> Iterator[str]:
    gone = [sentence for sentence in said if sentence not in says]
    missing = len(set(said)) - len(set(says))
    yield from (f"the {kind} '{sentence}'" for sentence in gone[: max(0, missing)])
