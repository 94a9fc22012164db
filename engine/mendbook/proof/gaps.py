"""Combinations of listed facts for which the rulebook may stay without a verdict."""

from collections.abc import Iterator

from mendbook.proof.region import Box, spell_box, subtract
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Op, Rule
from mendbook.terms.vocabulary import Subject


def find_gaps(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each combination for which no rule is sure of a verdict, unless the cover page names it.

    A chart in which every line has a verdict is sure wherever it applies; a `when` is where it looks at
    listed facts only. Rules that look at facts of a later stage speak of what an earlier verdict began, so they
    close no gap.
    """
    sure = [box for rule in book.rules if rule.subject is Subject.INJURY for box in _sure(rule, book)]
    open_boxes: tuple[Box, ...] = ((),)
    # Wide boxes first: what they close need not be cut into pieces by the narrow ones.
    for box in sorted((*sure, *(rule.lines[0].bounds for rule in book.not_covered)), key=len):
        open_boxes = subtract(open_boxes, box, book.vocabulary)
    for box in open_boxes:
        yield (
            f"{book.gaps_at}: no rule is sure of a verdict for {spell_box(box, book.vocabulary)}. "
            "Write a rule for it, or name it under 'not covered' with the person to refer to."
        )


def _sure(rule: Rule, book: Rulebook) -> Iterator[Box]:
    """Yield the box in which `rule` says a verdict whatever is measured, if there is one."""
    looks_ahead = any(book.vocabulary[name].stage for name in rule.facts())
    if looks_ahead or not all(line.outcome.verdict for line in rule.lines):
        return
    if rule.is_chart:
        yield rule.applies
    elif all(bound.op is Op.IN for bound in rule.lines[0].bounds):
        yield (*rule.applies, *rule.lines[0].bounds)
