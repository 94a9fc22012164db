"""Regions of facts: a conjunction of bounds is a box, and a box can be cut out of other boxes."""

from collections.abc import Iterable, Iterator

from mendbook.rulebook.tree import Bound, Op, is_possible, negate, simplify
from mendbook.terms.vocabulary import Vocabulary

Box = tuple[Bound, ...]


def is_inhabited(box: Box, vocabulary: Vocabulary) -> bool:
    """Return whether some facts, each within the range the vocabulary gives it, lie in `box`."""
    measures = dict.fromkeys(bound.fact for bound in box if bound.op is not Op.IN)
    ranges = [
        bound
        for name in measures
        for bound in (
            Bound(name, Op.AT_LEAST, vocabulary[name].low),
            Bound(name, Op.UP_TO, vocabulary[name].high),
        )
    ]
    return is_possible(simplify((*box, *ranges)))


def subtract(boxes: Iterable[Box], cut: Box, vocabulary: Vocabulary) -> tuple[Box, ...]:
    """Return disjoint boxes that together hold what `boxes` hold and `cut` does not."""
    return tuple(rest for box in boxes for rest in _outside(box, cut, vocabulary))


def spell_box(box: Box, vocabulary: Vocabulary) -> str:
    """Return the box as it would be written in a rule: `kind: [ash, spruce], damp: over 40 % and up to 80 %`."""
    facts: dict[str, list[Bound]] = {}
    for bound in box:
        facts.setdefault(bound.fact, []).append(bound)
    said = {
        fact: " and ".join(_spell(bound, vocabulary) for bound in sorted(bounds, key=_is_top))
        for fact, bounds in facts.items()
    }
    return ", ".join(f"{fact}: {limits}" for fact, limits in said.items()) or "anything"


def _is_top(bound: Bound) -> bool:
    return bound.op in (Op.UP_TO, Op.BELOW)


def _outside(box: Box, cut: Box, vocabulary: Vocabulary) -> Iterator[Box]:
    if not is_inhabited((*box, *cut), vocabulary):
        yield box
        return
    for place, bound in enumerate(cut):
        rest = simplify((*box, *cut[:place], negate(bound)))
        if is_inhabited(rest, vocabulary):
            yield rest


def _spell(bound: Bound, vocabulary: Vocabulary) -> str:
    if bound.op is Op.IN:
        return bound.values[0] if len(bound.values) == 1 else f"[{', '.join(bound.values)}]"
    return f"{bound.op.value} {bound.number:g} {vocabulary[bound.fact].unit}".strip()
