"""Old decisions judged again: how many come out the same, and each that does not, with the findings that turned it."""

from collections.abc import Sequence

from rich.console import RenderableType

from mendbook.card.flips import flipped_case
from mendbook.card.layout import hanging, heading, stack
from mendbook.card.lettering import line, plain
from mendbook.record.rejudging import Rejudged
from mendbook.rulebook.book import Rulebook


def rejudged(decisions: Sequence[Rejudged], book: Rulebook) -> RenderableType:
    """Return what became of `decisions` under `book`."""
    if not decisions:
        return line("No decision is kept that could be judged again.")
    same = sum(one.is_same for one in decisions)
    flips = [one.flip for one in decisions if one.flip is not None and one.flip.is_flipped]
    faults = [one for one in decisions if one.flip is None]
    older = sum(one.digest != book.digest for one in decisions)
    by = f"By today's book: {plain(book.edition)}, {book.date}"
    parts: list[RenderableType] = [
        line(f"{by}; {older} of {len(decisions)} were judged by another."),
        line(f"{same} come out the same, {len(flips)} otherwise, {len(faults)} cannot be judged again."),
    ]
    if flips:
        parts += [heading("Come out otherwise"), hanging([("-", flipped_case(flip)) for flip in flips])]
    if faults:
        told = [("-", line(f"Entry {one.decision}, tyre {one.tag}: {one.fault}")) for one in faults]
        parts += [heading("Cannot be judged again"), hanging(told)]
    return stack(*parts)
