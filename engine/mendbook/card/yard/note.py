"""What a review was made of and where its output lies, as reports name it."""

from collections.abc import Iterator
from dataclasses import dataclass

from mendbook.card.lettering import plain
from mendbook.card.wording import STANDING
from mendbook.rulebook.book import Rulebook

DIGITS = 12  # of the rulebook's digest
CAUTIONS = (
    *STANDING,
    "Verdicts are of the readings as written; where these leave it open, the tyre is on hold.",
    "A count over a yard repairs no tyre: before work on one begins, read its own report and settle what holds it.",
    "Times under heat are of the plan; probes at the tyre decide when a cure ends.",
)


@dataclass(frozen=True)
class Note:
    """What a review was made of.

    sheet : name of the yard's file
    day : on which tyres are judged that do not say theirs, year-month-day
    law : road law, '' where the country of each tyre decides
    decisions, quarantine : where the rows lie, '' where they are not kept
    hours_a_week : for which one bench heats and clamps [h]
    """

    sheet: str
    day: str
    law: str
    evaluator: str
    mendbook: str
    book: Rulebook
    decisions: str = ""
    quarantine: str = ""
    hours_a_week: float = 40.0

    def record(self) -> Iterator[tuple[str, str]]:
        """Yield what judged, label by label."""
        book = self.book
        yield "Judged", f"{plain(self.day)} by mendbook {plain(self.mendbook)}, {plain(self.evaluator)}"
        yield "Rulebook", f"{plain(book.edition)}, {plain(book.date)}, {book.digest[:DIGITS]}"
        yield "Owner", plain(book.owner)
        if book.own is not None:
            own = book.own
            yield "Own book", f"{plain(own.name)}, {plain(own.edition)}, {plain(own.date)}, {own.digest[:DIGITS]}"
        yield "Road law", plain(self.law) or "by the country of each tyre"

    def places(self) -> Iterator[tuple[str, str]]:
        """Yield where the rows lie."""
        if self.decisions:
            yield "Decisions", plain(self.decisions)
        if self.quarantine:
            yield "Quarantine", plain(self.quarantine)
