"""Which cases come out otherwise by another rulebook, and through which findings."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.document import Document
from mendbook.triage import Shop, judge
from mendbook.triage.flips import Flip, compare


def compare_cases(documents: Iterable[Document], then: Shop, now: Shop, *, stamp: datetime) -> Iterator[Flip]:
    """Judge each case file by the books of both shops, as of `stamp` where the file names no day.

    What a person overrules in a case is left out: the books are compared, not the people.
    Raises CaseError when the vocabulary of one of them cannot read it, and what `judge` raises.
    """
    for document in documents:
        before, after = (judge(_as_the_book_says(document, shop), shop, now=stamp) for shop in (then, now))
        yield compare(document.name, before, after)


def _as_the_book_says(document: Document, shop: Shop) -> Case:
    return check_case(document, shop.book.vocabulary).without_overrules()
