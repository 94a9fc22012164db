"""The one error of the rulebook reader: what is wrong, where, why, and what to write instead."""

from collections.abc import Iterable, Sequence

from mendbook.terms.document import Document, Way
from mendbook.terms.spelling import suggest


class RulebookError(ValueError):
    """A rulebook file that cannot be used. The message carries file, line, what, why and what to write."""


def refuse(document: Document, path: tuple[str | int, ...], what: str, instead: str = "") -> RulebookError:
    """Return the error for the place `path` of `document`."""
    hint = f"\n  {instead}" if instead else ""
    return RulebookError(f"{document.name}:{document.line(path)}: {what}{hint}")


def refuse_unknown_keys(
    document: Document, path: Way, entry: Iterable[str], known: Sequence[str], what: str, hint: str = ""
) -> None:
    """Raise RulebookError for the first key of `entry` that is not `known`, with the one that is nearest to it.

    `what` names the entry, with its article; `hint` is what to write where no key is near.
    """
    for key in entry:
        if key not in known:
            near = suggest(key, known)
            written = f"Did you mean '{near}'?" if near else hint or f"It has: {', '.join(known)}."
            raise refuse(document, (*path, key), f"{what} has no '{key}'", written)
