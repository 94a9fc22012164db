"""The conversation of an inspection: it prints a question, reads a line, and tells how the answer narrows."""

import shutil
import sys
import textwrap
from collections.abc import Iterator

from mendbook.card.printing import column_width
from mendbook.card.wording import bracket_words, verdict_words
from mendbook.cli.screen import write
from mendbook.inspection import Inspection, Kind, Question, UnclearAnswer, answer, next_question
from mendbook.inspection.question import TYRE
from mendbook.terms.docket import Docket
from mendbook.triage import Shop

OPENING = (
    "Answer each question; write 'unknown' where nobody looked or measured. "
    "? tells how to find the answer, 'back' takes the last one back, 'stop' ends."
)
PROMPT = "> "
LONGEST = 10_000  # characters of a line that are read


def hold_interview(state: Inspection, shop: Shop) -> Inspection:
    """Ask until nothing can change the answer, the person says stop, or the input ends; return the inspection."""
    past: list[Inspection] = []
    write(_wrapped(OPENING))
    while (question := next_question(state, shop)) is not None:
        _print_question(question, state.count + 1)
        while (text := _read_line()) is not None and text.casefold() not in ("stop", "back"):
            if text == "?":
                for line in question.how.splitlines():
                    write(_wrapped(f"{line}.", indent=3))
                continue
            try:
                after = answer(state, question, text, shop)
            except UnclearAnswer as unclear:
                write(_wrapped(str(unclear), indent=3))
                continue
            past.append(state)
            _print_narrowing(state, after)
            state = after
            break
        if text is None or text.casefold() == "stop":
            return state
        if text.casefold() == "back":
            if past:
                state = past.pop()
            else:
                write(_wrapped("There is no answer to take back.", indent=3))
    return state


def _read_line() -> str | None:
    """Return what was typed, None at the end of the input or when nobody reads the questions any more."""
    try:
        sys.stdout.write(PROMPT)
        sys.stdout.flush()
    except BrokenPipeError:
        return None
    line = sys.stdin.buffer.readline(LONGEST)
    if not sys.stdin.isatty():
        write("")  # what is piped in is not seen, and the next line begins on its own
    return line.decode("utf-8", errors="replace").strip() if line else None


def _print_question(question: Question, number: int) -> None:
    about = "" if question.about == TYRE or question.kind is Kind.UNUSUAL else f"{question.about}: "
    named = f"{question.name}, " if question.kind is Kind.FIELD and question.name not in question.text else ""
    write("")
    write(_wrapped(f"{number}. {about}{named}{question.text}"))
    for line in _details(question):
        write(_wrapped(line, indent=3))


def _details(question: Question) -> Iterator[str]:
    yield f"Why: {question.why}."
    if question.kind is Kind.UNUSUAL:
        yield f"Usual: {'; '.join(f'{name}: {value}' for name, value in question.options)}"
        return
    yield f"How: {question.how}."
    if question.values:
        yield f"One of: {', '.join(question.values)}"
    if not question.values or question.kind is Kind.PLACE:
        yield f"For example: {question.example}"


def _print_narrowing(before: Inspection, after: Inspection) -> None:
    if after.docket is not None:
        was = _standing(before.docket) if before.docket else ""
        now = _standing(after.docket)
        write(_wrapped(f"So far: {now}" + (" (as before)." if was == now else "."), indent=3))


def _standing(docket: Docket) -> str:
    """Return where the inspection stands, in a few words."""
    if docket.outcome == "stop":
        return "stop, people first"
    if docket.outcome == "reject" or docket.bracket is None:
        return verdict_words(docket.verdict)
    holds = len(docket.holds)
    held = f", {holds} hold{'' if holds == 1 else 's'} open" if holds else ""
    return f"{bracket_words(docket.bracket)}{held}"


def _wrapped(text: str, indent: int = 0) -> str:
    """Return `text` wrapped to the terminal, without what would steer it: it may quote what a stranger wrote."""
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    width = column_width(shutil.get_terminal_size().columns)
    return textwrap.fill(
        plain, width, initial_indent=" " * indent, subsequent_indent=" " * (indent or 3), break_on_hyphens=False
    )
