"""The two ends of an inspection: the case it goes on from, and what it leaves: a summary and a case file."""

import shutil
import signal
import sys
import textwrap
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import date
from itertools import count
from pathlib import Path

from mendbook.card.printing import WIDEST, column_width
from mendbook.card.summary import summary
from mendbook.cli.case_writing import case_text, check_target, write_case
from mendbook.cli.documents import DASH, open_document, place
from mendbook.cli.interview import Ending, hold_interview
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.facts.scenarios import TooManyChoices
from mendbook.inspection import Inspection, begin, full_form, outcome
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.blanks import without_blanks
from mendbook.terms.case_file import CaseError, check_case
from mendbook.terms.document import Document, DocumentError, Tree
from mendbook.triage import Shop, open_shop
from mendbook.triage.places import ImpossibleCase

NAMELESS = "inspection"
RESCUE = "inspection-so-far"


def inspect_tyre(
    start: str | None, out: Path | None, rulebook: Path | None, *, law: str | None, is_forced: bool
) -> None:
    """Hold an inspection from its first question to the file that it leaves.

    Raises RefusalError, and KeyboardInterrupt when it was broken off; what was answered is kept then, and told where.
    """
    state, shop = start_inspection(start, out, rulebook, law=law, is_forced=is_forced)
    past = [state]
    with _interrupted_at_once() as deafen:
        try:
            ending = hold_interview(past, shop)
            finish_inspection(past[-1], ending, shop, out)
        except (KeyboardInterrupt, OSError):  # the latter when the terminal itself is gone
            deafen()
            _keep(past[-1], out)
            raise KeyboardInterrupt from None


def start_inspection(
    start: str | None, out: Path | None, rulebook: Path | None, *, law: str | None, is_forced: bool
) -> tuple[Inspection, Shop]:
    """Return the inspection that goes on from the file `start`, and the shop it is held in.

    Raises RefusalError when the file, the rulebook or the file to write cannot be used, before anything is asked.
    """
    if start == DASH:
        raise RefusalError("-: the answers come on standard input, so the case to go on from must be a file.")
    if out is not None:
        check_target(out, is_forced=is_forced)
    with refusing(DocumentError, RulebookError, CaseError, FileNotFoundError):
        document = open_document(start) if start else None
        shop = open_shop(rulebook)
        if document is not None:
            check_case(document, shop.book.vocabulary)
    written = without_blanks(document) if document else Document(NAMELESS, {}, {(): 1})
    named = Path(start).stem if start else out.stem if out else NAMELESS
    tree: dict[str, Tree] = {"case": named, "judged on": date.today().isoformat(), **written.tree}
    try:
        return begin(tree, shop, law=law), shop
    except ImpossibleCase as error:
        raise RefusalError(f"{place(written, error.path)}: {error}") from error


def finish_inspection(state: Inspection, ending: Ending, shop: Shop, out: Path | None) -> None:
    """Print the short summary and how many questions it took; write the case to `out`, or print it.

    Where the person ended the input in the middle, the case is kept in a file of its own as well.
    """
    write("")
    if ending is Ending.INPUT_ENDED and out is None and sys.stdin.isatty():
        _keep(state, out)
    try:
        docket = outcome(state, shop)
        show(lambda width: summary(docket, width))
    except TooManyChoices as error:
        write(textwrap.fill(f"Too little is known to judge: {error}", WIDEST))
    form = full_form(shop.book.vocabulary, len(state.names))
    write(f"\n{state.count} question{'' if state.count == 1 else 's'} asked; the full form has {form}.")
    if out is None:
        write(f"\n{case_text(state.tree)}")
        return
    write_case(state.tree, out)
    write(f"Written to {out}. The whole report: mendbook triage {out}")


def _keep(state: Inspection, out: Path | None) -> None:
    """Write what was answered so far, and say where; the terminal itself may be gone."""
    if state.count == 0:
        told = "Nothing was answered, so nothing is kept."
    else:
        file = out or _free_name(RESCUE)
        write_case(state.tree, file)
        told = f"What was answered so far is kept in {file}. Go on with: mendbook inspect {file}"
    width = column_width(shutil.get_terminal_size().columns)
    with suppress(OSError):
        write(f"\n{textwrap.fill(told, width, break_long_words=False, break_on_hyphens=False)}")


def _free_name(stem: str) -> Path:
    """Return a file in this folder that is not there yet."""
    names = (Path(f"{stem}{'' if number == 1 else f'-{number}'}.yaml") for number in count(1))
    return next(name for name in names if not name.exists())


@contextmanager
def _interrupted_at_once() -> Iterator[Callable[[], None]]:
    """Turn Ctrl-C, a closed terminal and a polite request to end into one KeyboardInterrupt, at once.

    The engine below takes Ctrl-C for itself and lets a read go on, so that it would wait for the next line. A second
    one finds nobody listening, and so does any after the function given was called: answers are being written.
    """
    if threading.current_thread() is not threading.main_thread():
        yield lambda: None
        return
    numbers = [getattr(signal, name) for name in ("SIGINT", "SIGHUP", "SIGTERM") if hasattr(signal, name)]

    def deafen() -> None:
        for number in numbers:
            signal.signal(number, signal.SIG_IGN)

    def interrupt(*_: object) -> None:
        deafen()
        raise KeyboardInterrupt

    before = {number: signal.signal(number, interrupt) for number in numbers}
    try:
        yield deafen
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
