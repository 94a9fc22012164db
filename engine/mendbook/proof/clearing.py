"""Holds that would stand for ever: what they say clears them does not."""

from collections.abc import Iterator

from mendbook.proof.region import Box, is_inhabited, spell_box
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Vocabulary


def find_lasting_holds(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each way to clear a hold that does not clear it, or that names more than it needs.

    A way clears a hold when, whatever the facts in which its line decides, writing the named facts anew and
    nothing else leaves the rule with no hold to say.
    """
    for rule in book.rules:
        for place, line in enumerate(rule.lines):
            for way in line.outcome.cleared_by:
                if fault := _fault(rule, place, way, book.vocabulary):
                    yield f"{rule.file}:{line.at}: {fault}"


def find_held(rule: Rule, place: int, way: Box, vocabulary: Vocabulary) -> Box | None:
    """Return some facts that `rule` still holds after its line `place` decided and `way` was written, if any."""
    conditions = [box for box in rule.exclusive_conditions() if is_inhabited(box[1], vocabulary)]
    written = {bound.fact for bound in way}
    for number, box in conditions:
        if number != place:
            continue
        after = (*(bound for bound in box if bound.fact not in written), *way)
        for other, held in conditions:
            if rule.lines[other].outcome.hold and is_inhabited((*after, *held), vocabulary):
                return after
    return None


def _fault(rule: Rule, place: int, way: Box, vocabulary: Vocabulary) -> str:
    spelled = spell_box(way, vocabulary)
    if not is_inhabited(way, vocabulary):
        return f"'cleared by' can never be written: {spelled}. Name values that the vocabulary has."
    if held := find_held(rule, place, way, vocabulary):
        return (
            f"'cleared by' does not clear this hold: it still holds for {spell_box(held, vocabulary)}. "
            "Let the rule look at the fact that clears it, or name another value."
        )
    for fact in dict.fromkeys(bound.fact for bound in way):
        rest = tuple(bound for bound in way if bound.fact != fact)
        if rest and find_held(rule, place, rest, vocabulary) is None:
            return (
                f"'cleared by' names '{fact}', which it does not need. "
                "Leave it out, or list the ways, each with a dash: one is enough."
            )
    return ""
