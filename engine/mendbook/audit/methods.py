"""No case is called repairable while every process for it is ruled out."""

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.finder import Finder
from mendbook.proof.cover import FreeCase
from mendbook.proof.order import what_was_said
from mendbook.proof.symbols import any_of, opposite
from mendbook.triage.shop import Shop


def show_methods(shop: Shop, finder: Finder) -> Claim:
    """Return the claim that the rules leave a way to do what they allow."""
    book = shop.book
    case = FreeCase(book, book.rules)
    related = tuple(what_was_said(book, case.row, case.speech))
    severest = len(book.verdicts) - 1
    open_case = opposite(any_of((case.speech.at_least(severest), case.speech.says("hold"), case.speech.says("stop"))))
    failures = []
    for group, names in book.methods.items():
        if case.is_possible(*related, open_case, *(case.speech.rules_out(name) for name in names)):
            said = finder.relations
            still_open = opposite(any_of((said.at_least(severest), said.says_at_all("hold"), said.says("stop"))))
            witness = finder.find(still_open, *(said.rules_out(name) for name in names), finder.is_clear)
            says = f"Of {group} nothing is left: {', '.join(names)} are all ruled out."
            failures.append(Failure(says, (witness,) if witness else ()))
    groups = "; ".join(f"{group} ({', '.join(names)})" for group, names in book.methods.items())
    says = f"Where a repair is allowed and no look is missing, one process of each group is left: {groups}."
    return Claim("a process is left", says, "proof", len(book.methods), tuple(failures))
