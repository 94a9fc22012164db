"""Compare two rulebooks: open both, find what changed, judge cases by both, print."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, date, datetime
from importlib.resources.abc import Traversable
from itertools import count
from pathlib import Path

from mendbook.audit.book_changes import compare_books
from mendbook.audit.boundaries import FlipFinder
from mendbook.audit.changes import FindCase
from mendbook.audit.flips import compare_cases
from mendbook.audit.witness import spell_witness
from mendbook.card.compared import compared, unanswered_words
from mendbook.cli.documents import open_document, place
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.facts.scenarios import TooManyChoices
from mendbook.folders import folder
from mendbook.proof.permission import check_tables, find_unpermitted
from mendbook.proof.region import Box
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.cover import COVER, FRAME
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.blanks import without_blanks
from mendbook.terms.case_file import CaseError
from mendbook.terms.document import Document, DocumentError, read_document
from mendbook.triage.evaluators import EvaluatorsDisagree
from mendbook.triage.flips import Flip
from mendbook.triage.places import ImpossibleCase
from mendbook.triage.shop import set_up

SHIPPED = "shipped"
MOST_SOUGHT = 6  # regions in which a case is sought; each takes a second or more
CASE_FILES = (".yaml", ".yml", ".json")


@dataclass(frozen=True)
class Side:
    """One of the two books: what a person called it, in words, and what keeps it from being judged by."""

    said: str
    book: Rulebook
    unanswered: tuple[str, ...] = ()


def print_comparison(old: str, new: str, cases: Sequence[Path], *, as_json: bool) -> None:
    """Print what changed from the book `old` to the book `new`, and what becomes of `cases` (files or folders).

    Raises RefusalError when a book or a case cannot be used.
    """
    then, now = open_side(old), open_side(new)
    changes = compare_books(then.book, now.book, None if cases else _finder(then, now))
    flips = list(_flips(then, now, cases)) if cases else None
    if as_json:
        told = {
            "old": then.said,
            "new": now.said,
            "changes": [asdict(changed) for changed in changes],
            "unanswered": now.unanswered,
            "cases": None if flips is None else [_as_data(flip) for flip in flips],
        }
        write(json.dumps(told, indent=2, ensure_ascii=False))
        return
    show(lambda width: compared((then.said, now.said), changes, width, flips=flips, unanswered=now.unanswered))


def _finder(then: Side, now: Side) -> FindCase:
    """Return what finds a case that one change makes come out otherwise; no more than MOST_SOUGHT regions are asked."""
    finder, asked = FlipFinder(then.book, now.book), count()

    def find(place: str, box: Box) -> str | None:
        witness = finder.find(place, box) if next(asked) < MOST_SOUGHT else None
        return None if witness is None else spell_witness(witness)

    return find


def open_side(given: str) -> Side:
    """Return the book that a person named: the word `shipped`, a shop's own book, or a whole one such as an older copy.

    A folder is a whole book, read by itself, when its cover page names scale, stages and methods and neither withdraws
    nor loosens anything; else it is laid over the shipped one, whether or not it may be. Raises RefusalError.
    """
    rules, knowledge = folder("rules"), folder("knowledge")
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        shipped = open_book(rules, knowledge)
        if given == SHIPPED:
            return Side(f"the shipped book: {_edition(shipped)}", shipped)
        own = Path(given)
        if not own.is_dir():
            raise RefusalError(f"{given}: there is no such folder. Name a rulebook's folder, or write '{SHIPPED}'.")
        if _is_whole(own):
            book = open_book(own, knowledge)
            return Side(f"{given}, a whole book read by itself: {_edition(book)}", book)
        book = open_book(rules, knowledge, own)
        check_tables(shipped, book)
    return Side(_own_words(given, book), book, tuple(unanswered_words(find_unpermitted(shipped, book, date.today()))))


def _is_whole(own: Traversable) -> bool:
    cover = own.joinpath(COVER)
    if not cover.is_file():
        return False
    tree = read_document(cover).tree
    return all(key in tree for key in FRAME) and "withdraw" not in tree and "looser" not in tree


def _edition(book: Rulebook) -> str:
    return f"{book.edition}, {book.date}"


def _own_words(given: str, book: Rulebook) -> str:
    own = book.own
    return f"{given}: {own.name}, {own.edition}, {own.date}, laid over the shipped book" if own else given


def _flips(then: Side, now: Side, cases: Sequence[Path]) -> Iterator[Flip]:
    with refusing(RulebookError):
        shops = set_up(then.book), set_up(now.book)
    stamp = datetime.now(UTC)
    for document in _documents(cases):
        try:
            with refusing(CaseError):
                yield from compare_cases([document], *shops, stamp=stamp)
        except ImpossibleCase as error:
            raise RefusalError(f"{place(without_blanks(document), error.path)}: {error}") from error
        except (TooManyChoices, EvaluatorsDisagree) as error:
            raise RefusalError(f"{document.name}: {error}") from error


def _documents(cases: Sequence[Path]) -> Iterator[Document]:
    """Yield the case files, those of a folder in the order of their names."""
    for given in cases:
        files = [given]
        if given.is_dir():
            files = sorted(file for file in given.rglob("*") if file.suffix in CASE_FILES)
            if not files:
                raise RefusalError(f"{given}: no case file is in this folder. Name one that holds some.")
        for file in files:
            with refusing(DocumentError):
                yield open_document(str(file))


def _as_data(flip: Flip) -> dict[str, object]:
    return {
        "case": flip.case,
        "flipped": flip.is_flipped,
        "then": asdict(flip.then),
        "now": asdict(flip.now),
        "gone": [finding.model_dump(mode="json") for finding in flip.gone],
        "come": [finding.model_dump(mode="json") for finding in flip.come],
    }
