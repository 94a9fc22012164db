"""The seal of a rulebook on disk: read, and written."""

from importlib.resources.abc import Traversable
from pathlib import Path

from mendbook.cli.refusals import RefusalError, refusing
from mendbook.folders import folder
from mendbook.proof.permission import open_permitted
from mendbook.proof.seal import SEAL, write_seal
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError, read_bytes


def open_given(rulebook: Path | None) -> tuple[Rulebook, Traversable]:
    """Return the shipped rulebook, with the shop's own book in the folder `rulebook` laid over it, and its folder.

    An own book is sealed in its own folder, with all that lies beneath it. Raises RefusalError.
    """
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        rules = folder("rules")
        return open_permitted(rules, folder("knowledge"), rulebook), rulebook or rules


def read_seal(rules: Traversable) -> str:
    """Return the seal in the folder of a rulebook, '' when it has none. Raises RefusalError when it cannot be read."""
    seal = rules.joinpath(SEAL)
    if not seal.is_file():
        return ""
    with refusing(DocumentError):
        return read_bytes(seal, str(seal)).decode("utf-8", "replace")


def put_seal(book: Rulebook, rules: Traversable) -> Path:
    """Write the seal of `book` into its folder and return the file. Raises RefusalError when that is refused."""
    target = Path(str(rules)) / SEAL
    try:
        target.write_text(write_seal(book), encoding="utf-8")
    except OSError as error:
        raise RefusalError(f"{target}: this cannot be written ({error.strerror}). Seal a copy of the book.") from error
    return target
