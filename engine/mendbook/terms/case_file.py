"""Read a case file: YAML or JSON in, a checked case out, every fault with its line and what to write instead."""

from importlib.resources.abc import Traversable
from pathlib import PurePath

from pydantic import ValidationError

from mendbook.terms.blanks import without_blanks
from mendbook.terms.case import Case
from mendbook.terms.case_fault import Fault, find_faults
from mendbook.terms.case_model import case_model
from mendbook.terms.document import STANDARD_INPUT, Document, DocumentError, read_document
from mendbook.terms.vocabulary import Vocabulary

NAMELESS = "case"


class CaseError(ValueError):
    """A case file that cannot be judged. The message carries file, line, what, why and what to write."""


def read_case(source: Traversable, vocabulary: Vocabulary, *, name: str = "") -> Case:
    """Return the case written in `source`. Raises CaseError with every fault found, one a line."""
    try:
        document = read_document(source, name=name)
    except DocumentError as error:
        raise CaseError(str(error)) from None
    return check_case(document, vocabulary)


def check_case(document: Document, vocabulary: Vocabulary) -> Case:
    """Return the case in `document`; what stands open in it counts as left out.

    A case without a name takes that of its file. Raises CaseError with every fault found, one a line, in the
    order of the file.
    """
    written = without_blanks(document)
    model = case_model(vocabulary)
    try:
        return model.model_validate({"case": _name(document), **written.tree})
    except ValidationError as error:
        found = sorted(find_faults(error, written, model, vocabulary), key=lambda fault: fault.line)
        raise CaseError("\n".join(dict.fromkeys(_line(document, fault) for fault in found))) from None


def _name(document: Document) -> str:
    stem = "" if document.name == STANDARD_INPUT else PurePath(document.name).stem
    return stem or NAMELESS


def _line(document: Document, fault: Fault) -> str:
    return ": ".join(part for part in (f"{document.name}:{fault.line}", fault.field, fault.words) if part)
