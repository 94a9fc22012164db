"""Every hold can be cleared."""

from mendbook.audit.claims import Claim, Failure
from mendbook.proof.clearing import find_lasting_holds
from mendbook.triage.shop import Shop

SAYS = "Writing down what a hold names, and nothing else, silences it, whatever else is the case."


def show_cleared(shop: Shop) -> Claim:
    """Return the claim that each hold is silenced by each way its line names."""
    ways = sum(len(line.outcome.cleared_by) for rule in shop.book.rules for line in rule.lines)
    failures = tuple(Failure(fault) for fault in find_lasting_holds(shop.book))
    left = tuple(f"{rule.name}: {rule.lines[0].because}" for rule in shop.book.not_covered)
    return Claim("every hold can be cleared", SAYS, "proof", ways, failures, left)
