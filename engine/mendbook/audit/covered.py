"""Every possible case gets a verdict."""

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.finder import Finder
from mendbook.proof.cover import is_covered, uncovered
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Subject
from mendbook.triage.shop import Shop
from mendbook.triage.stages import BEFORE_CLASS

SAYS = "Every injury that can be written down gets a verdict, or stands on the cover page with the person who decides."


def show_covered(shop: Shop, finder: Finder) -> Claim:
    """Return the claim that no injury is left without a verdict, over all facts within their ranges."""
    book = shop.book
    failures: tuple[Failure, ...] = ()
    if not is_covered(book, speaking(book)):
        speech = finder.relations.listen(BEFORE_CLASS, Subject.INJURY)
        witness = finder.find(*uncovered(book, finder.relations.row, speech), finder.is_clear)
        failures = (Failure("No rule says a verdict for this injury.", (witness,) if witness else ()),)
    return Claim("covered", SAYS, "proof", 1, failures)


def speaking(book: Rulebook) -> list[Rule]:
    """Return the rules that say a verdict for an injury."""
    rules = (rule for rule in book.rules_of(*BEFORE_CLASS) if rule.subject is Subject.INJURY)
    return [rule for rule in rules if any(line.outcome.verdict for line in rule.lines)]
