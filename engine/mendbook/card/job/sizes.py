"""Sizes of paper and of what stands on it. Lengths in [mm], letters in points."""

from dataclasses import dataclass, replace
from typing import Literal

from mendbook.terms.docket import Outcome

LEFT = 121.0  # mm of the left of two columns, whatever the paper

Format = Literal["a4", "letter"]


@dataclass(frozen=True)
class Size:
    """One size of paper with its margins and letters."""

    css: str
    width: float
    height: float
    side: float
    top: float
    bottom: float
    letters: float
    small: float
    running: float
    left: float  # of the left of two columns
    answer: float  # most of the box with the answer
    columns: int

    @property
    def inner(self) -> float:
        """Width between the margins."""
        return self.width - 2 * self.side


_CARD: dict[Format, Size] = {
    "a4": Size("A4", 210.0, 297.0, 11.0, 11.0, 10.0, 7.3, 7.0, 7.0, LEFT, 62.0, 2),
    "letter": Size("letter", 215.9, 279.4, 9.5, 10.0, 9.0, 7.2, 7.0, 7.0, LEFT, 62.0, 2),
}
_TAG: dict[Format, Size] = {
    "a4": Size("A6", 105.0, 148.0, 6.0, 9.0, 8.0, 8.0, 7.6, 7.0, 60.0, 50.0, 1),
    "letter": Size("4.25in 5.5in", 108.0, 139.7, 6.0, 9.0, 8.0, 8.0, 7.6, 7.0, 60.0, 50.0, 1),
}

# Letters of the sheets that hold no steps and have room: a stop is read from afar.
_ROOMY: dict[Outcome, tuple[float, float]] = {
    "stop": (12.0, 10.0),
    "reject": (7.9, 7.6),
    "hold": (8.5, 8.0),
    "serve": (9.0, 8.5),
}


def card_size(form: Format, outcome: Outcome) -> Size:
    """Return the sheet of a card with a given outcome."""
    size = _CARD[form]
    letters, small = _ROOMY.get(outcome, (size.letters, size.small))
    return replace(size, letters=letters, small=small)


def tag_size(form: Format, outcome: Outcome) -> Size:
    """Return the sheet of a tag with a given outcome: a quarter of a sheet of paper, read from afar without limits."""
    size = _TAG[form]
    return size if outcome == "repair" else replace(size, letters=11.0, small=10.0)
