"""Which rejects a person may overrule: those that rest on the house's own limits alone."""

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Line, Rule

LAW = "law"  # the folder of the rules that speak for a law
HOUSE = "house"
_KINDS = {
    "law": "law, which nobody may waive",
    "standard": "a published standard",
    "guidance": "published guidance",
    "practice": "common practice",
}


def refusal(rule: Rule, line: Line, book: Rulebook) -> str:
    """Return why nobody may overrule the reject that `line` of `rule` says, '' where a named person may.

    Every source of the line must be the house's own, those that merely support it too: what others publish or do is
    not the house's to let go.
    """
    if rule.id.split("/")[0] == LAW:
        return "it speaks for a law, which nobody may waive"
    if line.outcome.stop is not None:
        return "it stops the work: people first, and a stop cannot be waived"
    looks = sorted(name for name in rule.facts() if name in book.vocabulary and book.vocabulary[name].is_look)
    if looks:
        return f"it tells how a person decided or what a look found; write '{looks[0]}' anew when that has changed"
    if foreign := _others(line, book):
        return f"it rests on {foreign}"
    if any(_others(beneath, book) for beneath in _beneath(rule, book)):
        return "the shipped rule that it replaces rests on more than the house"
    return ""


def rejecting(rule: Rule, book: Rulebook) -> frozenset[int]:
    """Return the places of the lines of `rule` that say the most severe verdict."""
    return frozenset(n for n, line in enumerate(rule.lines) if line.outcome.verdict == book.verdicts[-1])


def _others(line: Line, book: Rulebook) -> str:
    """Return the strongest basis of `line` beside the house itself, '' where there is none."""
    kinds = {book.sources[citation.source].kind for citation in line.sources}
    return next((said for kind, said in _KINDS.items() if kind in kinds), "")


def _beneath(rule: Rule, book: Rulebook) -> list[Line]:
    """Return the rejecting lines of the shipped rule in whose place the shop's own `rule` stands."""
    replaced = () if book.own is None else book.own.replaced
    return [one.lines[place] for one in replaced if one.id == rule.id for place in rejecting(one, book)]
