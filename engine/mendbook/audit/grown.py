"""Limits never shrink as the tyre grows."""

from mendbook.audit.claims import Claim, Failure
from mendbook.proof.cells import find_turning_numbers
from mendbook.triage.shop import Shop

SAYS = "Along each ordered list of a table (width classes, lists from good to bad) its numbers run one way."


def show_grown(shop: Shop) -> Claim:
    """Return the claim that the numbers of the tables run one way; a table that says why its numbers turn is listed."""
    failures = tuple(Failure(fault) for fault in find_turning_numbers(shop.book))
    listed = tuple(f"{table.name}: {table.turns}" for table in shop.book.tables if table.turns)
    return Claim("limits grow with the tyre", SAYS, "proof", len(shop.book.tables), failures, listed)
