"""Which rules keep tyres from an answer or take them out of service, each in a sentence of the book."""

from collections.abc import Iterator
from dataclasses import dataclass

from mendbook.card.lettering import plain, sentence
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import placeholders
from mendbook.rulebook.tree import Rule
from mendbook.yard.summary import Summary

WHAT = ("stop", "hold", "reject")
NO_RULE = "no rule"


@dataclass(frozen=True)
class Blocking:
    """A rule that says stop, hold or reject of a number of tyres, and why in a sentence."""

    what: str
    rule: str
    name: str
    number: int
    says: str


def blocking(summary: Summary, book: Rulebook) -> tuple[Blocking, ...]:
    """Return every rule that blocks, stops first, then the one that blocks most tyres."""
    rules = book.by_id()
    found = (
        Blocking(
            what,
            rule,
            plain(rules[rule].name if rule in rules else rule) or NO_RULE,
            number,
            _says(what, rules.get(rule)),
        )
        for what in WHAT
        for rule, number in summary.blocked.get(what, {}).items()
    )
    return tuple(sorted(found, key=lambda one: (one.what != WHAT[0], -one.number, one.rule)))


def _says(what: str, rule: Rule | None) -> str:
    """Return the first sentence of the rule that needs no figure of one tyre, or what it asks."""
    if rule is None:
        return ""
    whole = (said for said in _sentences(what, rule) if not placeholders(said))
    return sentence(next(whole, "")) or f"It asks: {plain(rule.asks)}"


def _sentences(what: str, rule: Rule) -> Iterator[str]:
    for line in rule.lines:
        said = {"stop": line.outcome.stop, "hold": line.outcome.hold}.get(what)
        if said:
            yield said
        if what == "reject" and line.outcome.verdict == what:
            yield line.because
