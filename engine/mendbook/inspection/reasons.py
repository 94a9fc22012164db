"""Why a question is asked, at length: the rules that look at the answer."""

from mendbook.facts.origins import ORIGINS
from mendbook.inspection.question import Question
from mendbook.rulebook.book import Rulebook

MOST = 4  # rules named; the others are counted


def reasons(question: Question, book: Rulebook) -> tuple[str, ...]:
    """Return why `question` is asked, a sentence each: its own reason, and what the rules ask that look at it."""
    moved = {question.name, *(fact for fact, origins in ORIGINS.items() if question.name in origins)}
    asks = list(dict.fromkeys(rule.asks for rule in book.by_id().values() if rule.facts() & moved))
    own = f"{question.why[:1].upper()}{question.why[1:]}."
    if not asks:
        return (own,)
    more = f" And {len(asks) - MOST} more." if len(asks) > MOST else ""
    return (own, f"Rules that look at it ask: {' '.join(asks[:MOST])}{more}")
