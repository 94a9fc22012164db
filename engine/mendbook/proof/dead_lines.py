"""Lines that can never decide, whatever the facts."""

from collections.abc import Iterator

from mendbook.proof.region import is_inhabited
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Vocabulary


def find_dead_lines(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each line that its own limits, or the lines above it, keep from ever deciding."""
    for rule in book.rules:
        alive = _living(rule, book.vocabulary)
        for place, line in enumerate(rule.lines):
            if place not in alive:
                yield f"{rule.file}:{line.at}: {_reason(rule, place, book.vocabulary)}"


def _living(rule: Rule, vocabulary: Vocabulary) -> frozenset[int]:
    return frozenset(place for place, box in rule.exclusive_conditions() if is_inhabited(box, vocabulary))


def _reason(rule: Rule, place: int, vocabulary: Vocabulary) -> str:
    if not is_inhabited((*rule.applies, *rule.lines[place].bounds), vocabulary):
        return (
            "this line can never fit: no value is within all its limits and 'applies to'. "
            "Widen one of the limits, or delete the line."
        )
    if not rule.lines[place].bounds:
        return (
            "'otherwise' is never reached: a line above it always fits. "
            "Tighten the limits above, or let the last of those lines be the 'otherwise'."
        )
    return (
        "this line never decides: whenever it fits, a line above it fits first. "
        "Tighten the limits above, or delete the line."
    )
