"""The two ends of an inspection: the case it goes on from, and what it leaves: a summary and a case file."""

import textwrap
from datetime import date
from pathlib import Path

from mendbook.card.printing import WIDEST
from mendbook.card.summary import summary
from mendbook.cli.case_writing import case_text, check_target, write_case
from mendbook.cli.documents import DASH, open_document, place
from mendbook.cli.interview import hold_interview
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


def inspect_tyre(
    start: str | None, out: Path | None, rulebook: Path | None, *, law: str | None, is_forced: bool
) -> None:
    """Hold an inspection from its first question to the file that it leaves. Raises RefusalError."""
    state, shop = start_inspection(start, out, rulebook, law=law, is_forced=is_forced)
    finish_inspection(hold_interview(state, shop), shop, out)


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


def finish_inspection(state: Inspection, shop: Shop, out: Path | None) -> None:
    """Print the short summary and how many questions it took; write the case to `out`, or print it."""
    write("")
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
