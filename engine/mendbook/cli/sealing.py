"""The seal of a rulebook on disk: read, and written."""

from importlib.resources.abc import Traversable
from pathlib import Path

from mendbook.cli.refusals import RefusalError, refusing
from mendbook.folders import folder
from mendbook.proof.seal import SEAL, write_seal
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError, read_bytes


def open_given(rulebook: Path | None) -> tuple[Rulebook, Traversable]:
    """Return the rulebook in the folder `rulebook`, else the shipped one, and its folder. Raises RefusalError."""
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        rules = rulebook or folder("rules")
        return open_book(rules, folder("knowledge")), rules


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
