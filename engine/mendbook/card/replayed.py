"""What a replay found: the same docket, or what came out otherwise."""

from rich.console import RenderableType

from mendbook.card.layout import labelled, stack
from mendbook.card.lettering import line
from mendbook.terms.docket import Docket
from mendbook.triage.replay import Replay

OTHER_BOOK = "The rulebook is not the one that judged then"


def replayed(docket: Docket, found: Replay, width: int) -> RenderableType:
    """Return what differs between `docket` and its replay, for `width` [columns]."""
    book = docket.rulebook
    by = f"{docket.case}, judged {docket.judged} by {book.edition} of {book.date}, {book.digest[:12]}"
    change = f"{OTHER_BOOK}: {found.docket.rulebook.edition}, {found.docket.rulebook.digest[:12]}."
    parts: list[RenderableType] = [line(by)] if found.is_same_book else [line(by), line(change)]
    if not found.differences:
        again = "The same docket, to the letter." if found.is_same_book else "The answer is the same, to the letter."
        return stack(*parts, line(again))
    told = [one for one in found.differences if one.then or one.now]
    others = ", ".join(one.what for one in found.differences if one not in told)
    rows = [(one.what, said) for one in told for said in (f"then: {one.then}", f"now: {one.now}")]
    if others:
        rows.append(("and so", others))
    return stack(*parts, line("It comes out otherwise:"), labelled(rows, width))
