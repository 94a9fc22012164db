"""The conversation of an inspection: it prints a question, reads a line, and tells how the answer narrows."""

import shutil
import sys
import textwrap
from collections.abc import Iterator
from enum import Enum, auto

from mendbook.card.printing import column_width
from mendbook.cli.screen import write
from mendbook.inspection import Inspection, Kind, Question, UnclearAnswer, answer, next_question, reasons
from mendbook.inspection.question import TYRE
from mendbook.terms.answers import bracket_words, verdict_words
from mendbook.terms.docket import Docket
from mendbook.triage import Shop

OPENING = (
    "Answer each question; write 'unknown' where nobody looked or measured. "
    "? tells how to find the answer, 'why' what hangs on it, 'back' takes the last one back, 'stop' ends."
)
PROMPT = "> "
LONGEST = 10_000  # characters of a line that are read


class Ending(Enum):
    """How a conversation ended."""

    SETTLED = auto()  # nothing that is left can change the answer
    STOPPED = auto()  # the person said so
    INPUT_ENDED = auto()


def hold_interview(past: list[Inspection], shop: Shop) -> Ending:
    """Ask until nothing can change the answer, or the person ends it; return how it ended.

    `past` holds the inspection to begin with. It grows by one with each answer and 'back' takes one away, so that
    whatever breaks the conversation off, the last of them is how far it came.
    """
    write(_wrapped(OPENING))
    while (question := next_question(past[-1], shop)) is not None:
        _print_question(question, past[-1].count + 1)
        after = past[-1]
        while after is past[-1]:
            text = _read_line()
            match None if text is None else text.casefold():
                case None:
                    return Ending.INPUT_ENDED
                case "stop":
                    return Ending.STOPPED
                case "back" if len(past) > 1:
                    break
                case "back":
                    _say("There is no answer to take back.")
                case "?":
                    for line in question.how.splitlines():
                        _say(f"{line}.")
                case "why":
                    for line in reasons(question, shop.book):
                        _say(line)
                case _:
                    after = _answered(past[-1], question, str(text), shop)
        if after is past[-1]:
            past.pop()
        else:
            _print_narrowing(past[-1], after)
            past.append(after)
    return Ending.SETTLED


def _answered(state: Inspection, question: Question, text: str, shop: Shop) -> Inspection:
    """Return the inspection after an answer; after one that cannot be taken, say why and return `state` itself."""
    try:
        return answer(state, question, text, shop)
    except UnclearAnswer as unclear:
        _say(str(unclear))
        return state


def _read_line() -> str | None:
    """Return what was typed, None at the end of the input or when nobody reads the questions any more."""
    try:
        sys.stdout.write(PROMPT)
        sys.stdout.flush()
        line = sys.stdin.buffer.readline(LONGEST)
    except OSError:
        return None
    if not line or not sys.stdin.isatty():
        write("")  # what is piped in is not seen, and the next line begins on its own
    return line.decode("utf-8", errors="replace").strip() if line else None


def _print_question(question: Question, number: int) -> None:
    about = "" if question.about == TYRE or question.kind is Kind.UNUSUAL else f"{question.about}: "
    named = f"{question.name}, " if question.kind is Kind.FIELD and question.name not in question.text else ""
    write("")
    write(_wrapped(f"{number}. {about}{named}{question.text}"))
    for line in _details(question):
        _say(line)


def _details(question: Question) -> Iterator[str]:
    yield f"Why: {question.why}."
    if question.kind is Kind.UNUSUAL:
        yield f"Usual is: {'; '.join(usual for _, usual in question.options)}."
        return
    yield f"How: {question.how}."
    if question.values:
        yield f"One of: {', '.join(question.values)}"
    if not question.values or question.kind in (Kind.PLACE, Kind.REPAIRS):
        yield f"For example: {question.example}"


def _print_narrowing(before: Inspection, after: Inspection) -> None:
    if after.docket is not None:
        was = _standing(before.docket) if before.docket else ""
        now = _standing(after.docket)
        _say(f"So far: {now}" + (" (as before)." if was == now else "."))


def _standing(docket: Docket) -> str:
    """Return where the inspection stands, in a few words."""
    if docket.outcome == "stop":
        return "stop, people first"
    if docket.outcome == "reject" or docket.bracket is None:
        return verdict_words(docket.verdict)
    holds = len(docket.holds)
    held = f", {holds} hold{'' if holds == 1 else 's'} open" if holds else ""
    return f"{bracket_words(docket.bracket)}{held}"


def _say(text: str) -> None:
    """Print `text` beneath a question."""
    write(_wrapped(text, indent=3))


def _wrapped(text: str, indent: int = 0) -> str:
    """Return `text` wrapped to the terminal, without what would steer it: it may quote what a stranger wrote."""
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    width = column_width(shutil.get_terminal_size().columns)
    return textwrap.fill(
        plain, width, initial_indent=" " * indent, subsequent_indent=" " * (indent or 3), break_on_hyphens=False
    )
