"""The one error of the rulebook reader: what is wrong, where, why, and what to write instead."""

from mendbook.terms.document import Document


class RulebookError(ValueError):
    """A rulebook file that cannot be used. The message carries file, line, what, why and what to write."""


def refuse(document: Document, path: tuple[str | int, ...], what: str, instead: str = "") -> RulebookError:
    """Return the error for the place `path` of `document`."""
    hint = f"\n  {instead}" if instead else ""
    return RulebookError(f"{document.name}:{document.line(path)}: {what}{hint}")
