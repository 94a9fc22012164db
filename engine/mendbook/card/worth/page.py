"""The manager's page: the answer in one line, then what it is made of."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.layout import STRONG, Words, hanging, heading, labelled, stack, table
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.summary import tyre_line
from mendbook.card.wording import OUTCOME_STYLES
from mendbook.card.worth.chart import levers_chart
from mendbook.card.worth.spelling import STRUCK, money, percent, run, spelt
from mendbook.terms.answers import answer_words, of_hundred
from mendbook.terms.docket import Docket
from mendbook.terms.worth import Choice, Worth

STRIKE = "strike dim"
FEW = 3  # names; the rest of what a choice lacks stands further down
LAST_WORD = "Money never changes a verdict. This is a sum of what was written, not advice to run a tyre."


def worth_page(docket: Docket, width: int) -> RenderableType:
    """Return the page of what the repair in `docket` is worth. Raises ValueError when it has no money in it."""
    worth = docket.worth
    if worth is None:
        raise ValueError("the docket has no money in it.")
    tyre = tyre_line(docket.tyre)
    return stack(
        line(short(docket.case), STRONG),
        line(tyre) if tyre else None,
        Text(),
        labelled(_head(docket, worth), width, indent=0),
        _choices(worth, width),
        *([] if worth.struck else _sums(worth, width)),
        _reckoned(worth, width),
        _list("Lacking", worth.lacking),
        _list("Taken for granted", worth.notes),
        _list("If the casing goes", worth.scrap),
        Text(),
        line(LAST_WORD, STRONG),
    )


def worth_part(worth: Worth | None, width: int) -> RenderableType | None:
    """Return what a report says of the money in a few lines, None where there is none."""
    if worth is None:
        return None
    rows = [("Struck out", sentence(worth.struck))] if worth.struck else []
    rows += [("Answer", f"{STRUCK if worth.struck else ''}{worth.answer}"), ("More", "mendbook worth, with this case.")]
    return stack(heading("Worth"), labelled(rows, width))


def _head(docket: Docket, worth: Worth) -> Iterator[tuple[Words, RenderableType]]:
    word = Text("STRUCK OUT", OUTCOME_STYLES["reject"]) if worth.struck else Text("WORTH", STRONG)
    yield word, line(f"{STRUCK}{worth.answer}", STRIKE) if worth.struck else line(worth.answer, STRONG)
    if worth.struck:
        yield "Why", f"{sentence(worth.struck)} {sentence(docket.reason)}"
        yield "Marked", f"What is marked {STRUCK.strip()} does not count."
    if worth.held:
        yield "Held", sentence(worth.held)
    verdict = sentence(answer_words(docket.outcome, docket.verdict, docket.bracket))
    yield "Triage", f"{docket.outcome.upper()}. {verdict}"


def _choices(worth: Worth, width: int) -> RenderableType | None:
    if not worth.choices:
        return None
    hours = run(worth.hours, worth) if worth.hours is not None else f"the same {worth.unit}"
    heads = ("Choice", f"{worth.currency} per {worth.unit}", "Brings", f"For {hours}", "Against a new tyre")
    rows = [_row(choice, worth) for choice in worth.choices]
    return stack(heading(f"Choices{' (struck out)' if worth.struck else ''}"), table(heads, rows, width))


def _row(choice: Choice, worth: Worth) -> tuple[str | Text, ...]:
    if choice.lacking:
        more = f" and {len(choice.lacking) - FEW} more" if len(choice.lacking) > FEW else ""
        return choice.name, "-", "-", "-", f"lacking: {', '.join(choice.lacking[:FEW])}{more}"
    saves = choice.saves
    against = "-" if not saves else f"{money(abs(saves), worth)} {'saved' if saves >= 0 else 'dearer'}"
    cells = (choice.name, money(choice.rate, worth), run(choice.buys, worth), money(choice.cost, worth), against)
    if worth.struck:
        return tuple(line(cell, STRIKE) for cell in cells)
    return tuple(line(cell, STRONG) for cell in cells) if choice.name == worth.best else cells


def _sums(worth: Worth, width: int) -> Iterator[RenderableType | None]:
    rows = list(_rows(worth))
    yield stack(heading("The repair"), labelled(rows, width)) if rows else None
    if worth.break_evens:
        told = [
            (one.name, f"{'none' if one.at is None else spelt(one.at, one.kind, worth)}: {one.says}")
            for one in worth.break_evens
        ]
        yield stack(heading("Where it turns, all else as it is"), labelled(told, width))
    chart = levers_chart(worth, width)
    yield stack(heading("Largest levers"), chart) if chart else None
    if worth.without_spare:
        short_of = [(f"{one.days:g} days", money(one.value, worth)) for one in worth.without_spare]
        yield stack(
            heading("With no spare, by the time until a new tyre is there"),
            table(("New tyre in", f"Value of repairing, {worth.currency}"), short_of, width),
        )
    beside = [("Interest", worth.discounting)] if worth.discounting else []
    beside += [("Yardstick", worth.yardstick)] if worth.yardstick else []
    yield stack(heading("Beside it"), labelled(beside, width)) if beside else None


def _rows(worth: Worth) -> Iterator[tuple[str, str]]:
    if worth.remaining is not None:
        yield "Tread left", f"for {worth.remaining:,.2f} {worth.unit} if nothing fails"
    if worth.survival is not None and worth.hours is not None:
        yield "It holds", f"to the end of the tread in {percent(worth.survival)} of such repairs"
        yield "", f"{worth.hours:,.2f} {worth.unit} to be expected"
    if worth.gross is not None and worth.cost is not None:
        yield "Cost", f"{money(worth.gross, worth)} with fitting and what failures cost on average"
        yield "", f"{money(worth.cost, worth)} with standing, and less the casing that is sold in the end"
    if worth.value is not None:
        yield "Value", f"{money(worth.value, worth)} {worth.currency} against a new tyre"
    if worth.odds is not None:
        odds = worth.odds
        yield (
            "How sure",
            f"nine in ten draws lie between {money(odds.low, worth)} and {money(odds.high, worth)} {worth.currency}; "
            f"it is the cheapest choice in {of_hundred(odds.wins)} of 100 (± {percent(odds.wins_error)}), and in "
            f"{of_hundred(odds.wins_once)} with the luck of one tyre alone",
        )
        yield (
            "",
            f"{odds.draws:,} quasi-random draws in {odds.scrambles} sets, seed {odds.seed}; drawn: "
            f"{', '.join(odds.drawn) or 'none, all figures are written as exact'}",
        )
    if worth.tread_value is not None:
        yield "Worth now", f"tread {money(worth.tread_value, worth)}, in proportion to the new price"
    if worth.casing_now is not None:
        yield "", f"casing {money(worth.casing_now, worth)} as it is, times the chance to sell it"


def _reckoned(worth: Worth, width: int) -> RenderableType | None:
    if not worth.reckoned:
        return None
    rows = []
    for one in worth.reckoned:
        ends = (
            "exact"
            if one.low == one.high
            else f"{spelt(one.low, one.kind, worth)} to {spelt(one.high, one.kind, worth)}"
        )
        rows.append((one.name, spelt(one.value, one.kind, worth), ends, plain(one.origin)))
    return stack(heading("Reckoned with"), table(("Figure", "Value", "Between", "From"), rows, width))


def _list(title: str, said: tuple[str, ...]) -> RenderableType | None:
    if not said:
        return None
    return stack(heading(title), hanging([("-", line(sentence(one))) for one in said]))
