"""Every limit is shown at work: by an example on the line and by one just past it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain

from mendbook.proof.region import is_inhabited
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Op, Rule, Value, negate
from mendbook.terms.vocabulary import Fact, Vocabulary

NEAR = 0.05  # of the limit
STEP = 0.01  # of the range of the fact


def find_untried_limits(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each limit that no example tries on the line, or just past it.

    An example tries a limit when it meets every other limit of the line and no line above fits: then
    this limit alone decides. A list needs one example inside and one outside. Where several lines of a rule
    repeat one limit it is tried once: a slip in one of them would be another limit, and untried.
    """
    for rule in book.rules:
        tried: defaultdict[Bound, list[int]] = defaultdict(list)
        for place, line in enumerate(rule.lines):
            for bound in line.bounds:
                tried[bound].append(place)
        for bound, places in tried.items():
            for missing in _missing(rule, places, bound, book.vocabulary):
                yield (
                    f"{rule.file}:{rule.lines[places[0]].at}: no example tries '{bound.fact}: {bound.text}' {missing}, "
                    "so a slip there would go unseen. Add one that meets the other limits of the line and fits no "
                    "line above."
                )


def just_past(fact: Fact, bound: Bound) -> tuple[float, float]:
    """Return (low, high) of what is just past a limit, in the unit of the fact; the limit itself is left out.

    Past is the side where the answer changes. It reaches 5 % of the limit, or a hundredth of the range up to
    twice the limit, or the last decimal that is printed, whichever is largest.
    """
    size = abs(bound.number)
    hundredth = STEP * (fact.high - fact.low)
    margin = max(NEAR * size, min(hundredth, size or hundredth), 10.0**-fact.decimals)
    if bound.op in (Op.UP_TO, Op.OVER):
        return bound.number, min(bound.number + margin, fact.high)
    return max(bound.number - margin, fact.low), bound.number


def _trying(rule: Rule, place: int, bound: Bound) -> Iterator[Value]:
    """Yield the values of the fact of `bound` in the examples that `bound` alone decides."""
    for example in rule.examples:
        if rule.facts() <= example.facts.keys():
            others = (other for other in rule.lines[place].bounds if other != bound)
            above = (line.bounds for line in rule.lines[:place])
            if _all_hold(chain(rule.applies, others), example.facts) and not any(
                _all_hold(bounds, example.facts) for bounds in above
            ):
                yield example.facts[bound.fact]


def _all_hold(bounds: Iterable[Bound], facts: Mapping[str, Value]) -> bool:
    return all(bound.holds(facts[bound.fact]) for bound in bounds)


def _missing(rule: Rule, places: list[int], bound: Bound, vocabulary: Vocabulary) -> Iterator[str]:
    """Yield in words which values of the fact no example takes though it could."""
    values = [value for place in places for value in _trying(rule, place, bound)]
    if bound.op is Op.IN:
        others = [other for other in rule.lines[places[0]].bounds if other != bound]
        if not any(bound.holds(value) for value in values):
            yield "inside the list"
        can_fail = is_inhabited((*rule.applies, *others, negate(bound)), vocabulary)
        if can_fail and all(bound.holds(value) for value in values):
            yield "outside the list"
        return
    fact = vocabulary[bound.fact]
    low, high = just_past(fact, bound)
    numbers = [float(value) for value in values]
    if bound.number not in numbers:
        yield f"on the line, at {bound.number:g} {fact.unit}".strip()
    if low < high and not any(low <= number <= high and number != bound.number for number in numbers):
        yield f"just past it, between {low:g} and {high:g} {fact.unit}".strip()
