"""What a person writes into the case when the look that a hold asks for is done."""

from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.tree import Bound, Op, Outcome
from mendbook.terms.docket import Entry
from mendbook.terms.vocabulary import Vocabulary


def entries(outcome: Outcome, vocabulary: Vocabulary) -> tuple[tuple[Entry, ...], ...]:
    """Return the ways to clear the hold of `outcome`, each as what is written in the case; none without a hold."""
    return tuple(tuple(_entry(bound, vocabulary) for bound in way) for way in outcome.cleared_by)


def _entry(bound: Bound, vocabulary: Vocabulary) -> Entry:
    fact = vocabulary[bound.fact]
    *section, field = (fact.section, fact.name) if fact.is_given else fact.follows
    value = " or ".join(bound.values) if bound.op is Op.IN else spell_bounds([bound]).removeprefix(f"{bound.fact} ")
    if fact.error or fact.error_share:
        value += ", reading error included"  # a hold counts at the bad end of the reading
    return Entry(section=section[0] if section else "", field=field, value=value, fact=fact.name)
