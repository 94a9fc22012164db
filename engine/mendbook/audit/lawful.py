"""The law is never milder in the book than in its own text."""

from collections.abc import Iterator

import z3

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.finder import Finder
from mendbook.proof.cover import FreeCase
from mendbook.proof.order import Said
from mendbook.proof.speech import meets_all
from mendbook.proof.symbols import any_of, opposite
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.source import Clause, Source
from mendbook.triage.shop import Shop

SAYS = "Wherever a clause of a source speaks, the rules together answer at least what the clause asks."


def show_lawful(shop: Shop, finder: Finder) -> Claim:
    """Return the claim that the book answers each clause that facts can express; those they cannot are listed."""
    book = shop.book
    clauses = [(source, clause) for source in book.sources.values() for clause in source.clauses]
    failures = []
    for source, clause in find_short(book):
        related = finder.relations
        short = _falls_short(clause, related, book)
        witness = finder.find(meets_all(clause.bounds, related.row), short, finder.is_clear)
        says = f"{source.id}, {clause.place}: {clause.says} The rules answer less."
        failures.append(Failure(says, (witness,) if witness else ()))
    listed = tuple(_spell(*one) for one in clauses if one[1].not_expressed)
    return Claim(
        "law is never milder than its clause", SAYS, "proof", len(clauses) - len(listed), tuple(failures), listed
    )


def find_short(book: Rulebook) -> Iterator[tuple[Source, Clause]]:
    """Yield each clause, with its source, that asks for more than the rules say in some case of which it speaks."""
    case = FreeCase(book, book.rules)
    for source in book.sources.values():
        for clause in source.clauses:
            if not clause.not_expressed and case.is_possible(
                meets_all(clause.bounds, case.row), _falls_short(clause, case.speech, book)
            ):
                yield source, clause


def _falls_short(clause: Clause, said: Said, book: Rulebook) -> z3.BoolRef:
    """Return when less is said than the clause asks."""
    asked: list[z3.BoolRef] = []
    if clause.at_least is not None:
        asked.append(said.at_least(book.rank(clause.at_least)))
    asked += [said.says("hold")] if clause.holds else []
    asked += [said.says("stop")] if clause.stops else []
    return any_of(opposite(one) for one in asked)


def _spell(source: Source, clause: Clause) -> str:
    return f"{source.id}, {clause.place}: {clause.not_expressed}"
