"""Caps on one thing are written in one unit: where two rules cap it, the smaller figure counts."""

import re
from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook

_FIGURE = re.compile(r"-?\d+(?:\.\d+)?\s*(?P<unit>\D*)")


def find_mixed_caps(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each cap that is written in another unit than the first cap on the same thing."""
    first: dict[str, tuple[str | None, str]] = {}
    for rule in book.rules:
        for line in rule.lines:
            for what, limit in line.outcome.cap:
                unit = _unit(limit)
                known, where = first.setdefault(what, (unit, f"{rule.file}:{line.at}"))
                if unit != known:
                    yield (
                        f"{rule.file}:{line.at}: '{what}' is capped at '{limit}', and {_spelt(known)} at {where}, so "
                        f"nobody can tell which is smaller. Write both {_spelt(known)}."
                    )


def _unit(limit: str) -> str | None:
    """Return the unit of a figure, None for a cap in words."""
    found = _FIGURE.fullmatch(limit.strip())
    return found["unit"].strip() if found else None


def _spelt(unit: str | None) -> str:
    if unit is None:
        return "in words"
    return f"in {unit}" if unit else "as a plain figure"
