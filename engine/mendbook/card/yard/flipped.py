"""Which tyres of a yard flip by another rulebook, in a terminal."""

from collections.abc import Iterator

from rich.console import RenderableType

from mendbook.card.layout import STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, short
from mendbook.card.printing import WIDEST, column_width
from mendbook.card.wording import listed
from mendbook.card.yard.report import lay_out
from mendbook.card.yard.tables import Table, count_table, share_words
from mendbook.rulebook.book import Rulebook
from mendbook.yard.flips import Flip, Flips

FEW = 20  # tyres that are listed
FEW_RULES = 10
CAUTION = "A milder answer by another book is no release: who owns the book answers for it."


def flips_report(
    flips: Flips, books: tuple[Rulebook, Rulebook], said: tuple[str, str], width: int = WIDEST
) -> RenderableType:
    """Return which tyres flip from the old of two `books` to the new, which a person called as `said`."""
    columns = column_width(width)
    share = share_words(flips.flipped, flips.tyres)
    told = f"{flips.flipped} of {flips.tyres} tyres get another outcome or verdict{f' ({share})' if share else ''}."
    names = {rule: plain(one.name) for book in books for rule, one in book.by_id().items()}
    shown = flips.first[:FEW]
    more = flips.flipped - len(shown)
    return stack(
        labelled([("Old", line(said[0])), ("New", line(said[1]))], columns, indent=0),
        line(told, STRONG),
        _counted("Outcomes", count_table("Outcome", "tyres", flips.outcomes), columns),
        _counted("Verdicts", count_table("Verdict as read", "tyres", flips.verdicts), columns),
        _counted("Rules that no longer decide, hold or stop", _rules(flips.gone, names), columns),
        _counted("Rules that now do", _rules(flips.come, names), columns),
        heading("Tyres that flip") if shown else None,
        hanging([("-", _flip(flip)) for flip in shown]) if shown else None,
        line(f"And {more} more.") if more else None,
        heading("Cautions"),
        hanging([("-", line(CAUTION))]),
    )


def _rules(counts: dict[str, int], names: dict[str, str]) -> Table:
    return count_table("Rule", "tyres", {f"{rule}: {names.get(rule, 'no rule')}": n for rule, n in counts.items()})


def _counted(title: str, table: Table, width: int) -> RenderableType | None:
    if not table.rows:
        return None
    few = table.first(FEW_RULES)
    more = line(f"And {few.left_out} more.") if few.left_out else None
    return stack(heading(title), lay_out(few, width), more)


def _flip(flip: Flip) -> RenderableType:
    return stack(line(f"{short(flip.tag, 40) or 'no tag'}, row {flip.row}", STRONG), line("; ".join(_told(flip)) + "."))


def _told(flip: Flip) -> Iterator[str]:
    for what, (then, now) in (("outcome", flip.outcomes), ("verdict", flip.verdicts)):
        if then != now:
            yield f"{what} {then or 'none'} -> {now or 'none'}"
    if flip.gone:
        yield f"no longer by {listed(flip.gone)}"
    if flip.come:
        yield f"now by {listed(flip.come)}"
