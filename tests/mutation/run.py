"""Break the shipped rulebook in many ways and see what notices. The places are drawn before anything is tried."""

import hashlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from mendbook.proof.check import check_book
from mendbook.proof.seal import find_changes, write_seal
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.examples import check_examples
from mendbook.terms.document import DocumentError
from mendbook.triage.fit import find_misfits
from tests.mutation import knowledge_breaks, number_breaks, rule_breaks, word_breaks
from tests.mutation.pages import Page, shipped
from tests.mutation.proofs import find_refuted
from tests.mutation.sense import sense
from tests.mutation.ways import WAYS, breaks
from tests.mutation.written import Break, Written

FAMILIES = (number_breaks, rule_breaks, word_breaks, knowledge_breaks)  # reading them fills the register of ways
SEED = "first draw"
MOST = 6  # places drawn for each way
READING, PROOF, SEAL = "reading", "proof", "seal"


@dataclass(frozen=True)
class Trial:
    """What came of one break: who caught it first ('' when nobody did) and with which words.

    It is not felt when the broken book means the same to every case, to the letter.
    """

    broken: Break
    caught_by: str
    fault: str
    is_felt: bool


@dataclass(frozen=True)
class Whole:
    """The shipped book: as written, its seal, and what it means."""

    written: Written
    seal: str
    meant: Mapping[str, Any]


def open_pages(files: Mapping[str, bytes]) -> Rulebook:
    """Open the book that stands in `files`."""
    return open_book(Page("rules", files), Page("knowledge", files))


@cache
def whole() -> Whole:
    """Return the shipped book."""
    files = shipped()
    book = open_pages(files)
    return Whole(Written(files, book.vocabulary), write_seal(book), sense(book))


# In the order in which a person meets them. Each returns its faults.
CATCHERS: dict[str, Callable[[Rulebook], Iterable[str]]] = {
    "examples": check_examples,
    "check": check_book,
    "fit": find_misfits,
    PROOF: find_refuted,
    SEAL: lambda book: find_changes(book, whole().seal),
}


def draw(most: int = MOST, ways: Iterable[str] = tuple(WAYS)) -> list[Break]:
    """Return up to `most` breaks of each way, drawn over all its places.

    A place is in by the order of its own hash: a rule added elsewhere moves few of the others in or out.
    """
    drawn = []
    for name in ways:
        found = {broken.where: broken for broken in breaks(name, whole().written)}
        order = sorted(found, key=lambda where: hashlib.sha256(f"{SEED}/{name}/{where}".encode()).hexdigest())
        drawn += [found[where] for where in order[:most]]
    return drawn


def attempt(broken: Break) -> Trial:
    """Open a broken book and ask everyone who might notice."""
    try:
        book = open_pages(broken.pages(whole().written.files))
    except (RulebookError, DocumentError) as error:
        return Trial(broken, READING, str(error), is_felt=True)
    is_felt = sense(book) != whole().meant
    for name, faults_of in CATCHERS.items():
        if fault := next(iter(faults_of(book)), ""):
            return Trial(broken, name, fault, is_felt)
    return Trial(broken, "", "", is_felt)
