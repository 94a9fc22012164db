"""Run the worked examples that close every rule: each comes true, and together they try every line and verdict."""

from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sayings import NOTHING
from mendbook.rulebook.tree import Example, Outcome, Rule

VERDICT = "verdict"


def check_examples(book: Rulebook) -> list[str]:
    """Return what is wrong with the examples of `book`, each fault as `file:line: what`; empty when all hold.

    An example names every fact its rule looks at and what the rule must then say; a line that no example
    reaches, or a verdict that none names, is a fault of the rule.
    """
    return [fault for rule in book.rules for fault in check_rule(rule)]


def check_rule(rule: Rule) -> list[str]:
    """Return what is wrong with the examples of one rule."""
    faults: list[str] = []
    reached: set[int] = set()
    judged: set[int] = set()
    for example in rule.examples:
        unnamed = sorted(rule.facts() - example.facts.keys())
        if unnamed:
            names = " and ".join(f"'{name}'" for name in unnamed)
            faults.append(f"{rule.file}:{example.at}: the example does not say {names}, which the rule looks at")
            continue
        place = rule.speaks(example.facts)
        if place is not None:
            reached.add(place)
            judged |= {place} if example.verdict else set()
        faults += _differences(rule, example, None if place is None else rule.lines[place].outcome)
    faults += [
        f"{rule.file}:{line.at}: no example reaches this line"
        for place, line in enumerate(rule.lines)
        if place not in reached
    ]
    faults += [
        f"{rule.file}:{line.at}: no example names the verdict of this line, so a slip there would go unseen. "
        "Add the verdict to one that reaches it."
        for place, line in enumerate(rule.lines)
        if line.outcome.verdict and place in reached - judged
    ]
    return faults


def _differences(rule: Rule, example: Example, said: Outcome | None) -> Iterator[str]:
    words = said.words() if said else ()
    where = f"{rule.file}:{example.at}"
    spoken = " and ".join(f"'{word}'" for word in words) or f"'{NOTHING}'"
    if example.says == NOTHING:
        if words:
            yield f"{where}: the example expects '{NOTHING}', the rule says {spoken}"
    elif example.says not in words:
        yield f"{where}: the example expects '{example.says}', the rule says {spoken}"
    if example.verdict and said and said.verdict and said.verdict != example.verdict:
        yield f"{where}: the example expects the verdict '{example.verdict}', the rule says '{said.verdict}'"
    if example.verdict and example.says != VERDICT and not (said and said.verdict):
        yield f"{where}: the example expects the verdict '{example.verdict}', the rule gives none"
