"""No rule stands twice: of two copies one is changed some day, and the other forgotten."""

from collections import defaultdict
from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule


def find_twins(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each rule that says what another says, wherever that one says it."""
    alike: defaultdict[object, list[Rule]] = defaultdict(list)
    for rule in book.rules:
        said = tuple((line.bounds, line.outcome) for line in rule.lines)
        alike[rule.stage, rule.is_chart, frozenset(rule.applies), said].append(rule)
    for first, *others in alike.values():
        for other in others:
            yield f"{other.file}:1: this rule says what {first.file} says. Delete one of the two."
