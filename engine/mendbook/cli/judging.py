"""One tyre judged: from a case file, or from a row of a reviewed yard."""

from pathlib import Path
from typing import TYPE_CHECKING

from mendbook.cli.documents import open_document
from mendbook.cli.overruling import NOTHING, Given
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.terms.document import DocumentError

if TYPE_CHECKING:
    from mendbook.terms.docket import Docket
    from mendbook.terms.document import Document


def judge_case(
    given: str, rulebook: Path | None, *, law: str | None, overrule: Given = NOTHING, survival: Path | None = None
) -> "Docket":
    """Return the docket of the case in the file `given`, with what the command line overrules. Raises RefusalError.

    survival : a folder that tells how long the shop's own repairs held
    """
    with refusing(DocumentError):
        document = open_document(given)
    return judge_document(document, rulebook, law=law, overrule=overrule, survival=survival)


def judge_document(
    document: "Document",
    rulebook: Path | None,
    *,
    law: str | None,
    overrule: Given = NOTHING,
    survival: Path | None = None,
) -> "Docket":
    """Return the docket of the case in `document`, with what the command line overrules. Raises RefusalError."""
    document = overrule.add_to(document)
    # A file that is not there is refused before the engine is loaded.
    from mendbook.facts.scenarios import TooManyChoices
    from mendbook.rulebook.errors import RulebookError
    from mendbook.terms.blanks import without_blanks
    from mendbook.terms.case_file import CaseError, check_case
    from mendbook.triage import judge, open_shop
    from mendbook.triage.evaluators import EvaluatorsDisagree
    from mendbook.triage.places import ImpossibleCase

    with refusing(DocumentError, RulebookError, CaseError, FileNotFoundError):
        shop = open_shop(rulebook)
        judged = check_case(document, shop.book.vocabulary)
    try:
        with refusing(DocumentError, RulebookError, OSError):
            return judge(judged, shop, law=law, survival=survival)
    except ImpossibleCase as error:
        raise RefusalError(f"{overrule.place(without_blanks(document), error.path)}: {error}") from error
    except (TooManyChoices, EvaluatorsDisagree) as error:
        raise RefusalError(f"{document.name}: {error}") from error


def judge_again(decisions: Path, tag: str) -> "Docket":
    """Return the docket of the tyre called `tag`, judged as the review judged it that wrote `decisions`."""
    from mendbook.cli.explaining import find_tyre
    from mendbook.facts.scenarios import TooManyChoices
    from mendbook.triage import judge
    from mendbook.triage.evaluators import EvaluatorsDisagree
    from mendbook.triage.places import ImpossibleCase

    found = find_tyre(decisions, tag)
    with refusing(ImpossibleCase, TooManyChoices, EvaluatorsDisagree, where=f"tyre {tag}"):
        return judge(found.case, found.shop, law=found.law, now=found.now)
