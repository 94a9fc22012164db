"""The proofs that need no case to show: seconds for a whole book, no search for a witness."""

from collections.abc import Iterator

from mendbook.audit.covered import speaking
from mendbook.audit.lawful import find_short
from mendbook.audit.methods import find_emptied
from mendbook.audit.ordered import define
from mendbook.facts.derive import Derivation
from mendbook.proof.cover import is_covered
from mendbook.proof.order import Pair
from mendbook.rulebook.book import Rulebook

STEPPED = {"reaches"}  # chooses other rules and tables; followed value by value, which takes a minute


def find_refuted(book: Rulebook) -> Iterator[str]:
    """Yield what is not true of a book that the program can judge by."""
    if not is_covered(book, speaking(book)):
        yield "an injury gets no verdict"
    for group in find_emptied(book):
        yield f"of {group} nothing is left"
    for source, clause in find_short(book):
        yield f"{source.id}, {clause.place}: the rules answer less"
    for milder in Pair(book, STEPPED, define(book, Derivation(book))).find_milder():
        yield f"{milder.rule.file}:{milder.rule.lines[milder.line].at}: says {milder.says}, and not of a worse case"
