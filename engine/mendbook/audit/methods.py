"""No case is called repairable while every process for it is ruled out."""

from collections.abc import Iterator

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.finder import Finder
from mendbook.proof.cover import FreeCase
from mendbook.proof.order import what_was_said
from mendbook.proof.symbols import any_of, opposite
from mendbook.rulebook.book import Rulebook
from mendbook.triage.shop import Shop


def show_methods(shop: Shop, finder: Finder) -> Claim:
    """Return the claim that the rules leave a way to do what they allow."""
    book = shop.book
    failures = []
    for group in find_emptied(book):
        names = book.methods[group]
        said = finder.relations
        still_open = opposite(any_of((said.at_least(_severest(book)), said.says_at_all("hold"), said.says("stop"))))
        witness = finder.find(still_open, *(said.rules_out(name) for name in names), finder.is_clear)
        says = f"Of {group} nothing is left: {', '.join(names)} are all ruled out."
        failures.append(Failure(says, (witness,) if witness else ()))
    groups = "; ".join(f"{group} ({', '.join(names)})" for group, names in book.methods.items())
    says = f"Where a repair is allowed and no look is missing, one process of each group is left: {groups}."
    return Claim("a process is left", says, "proof", len(book.methods), tuple(failures))


def find_emptied(book: Rulebook) -> Iterator[str]:
    """Yield each group of methods that some case rules out whole which is neither rejected, held nor stopped."""
    case = FreeCase(book, book.rules)
    said = case.speech
    open_case = opposite(any_of((said.at_least(_severest(book)), said.says("hold"), said.says("stop"))))
    known = (*what_was_said(book, case.row, said), open_case)
    for group, names in book.methods.items():
        if case.is_possible(*known, *(said.rules_out(name) for name in names)):
            yield group


def _severest(book: Rulebook) -> int:
    return len(book.verdicts) - 1
