"""What a change of a rulebook is made of: for each rule, table or other part its items and the regions they move."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from mendbook.proof.region import Box

# Finds a whole case, written as a case file, that the rule or table at a place makes come out otherwise in a region of
# facts; None where it finds none.
FindCase = Callable[[str, Box], str | None]


class Way(StrEnum):
    """Whether a change makes the book say more or less."""

    STRICTER = "stricter"
    LOOSER = "looser"
    BOTH = "stricter in one way, looser in another"
    NEITHER = "neither stricter nor looser"
    UNKNOWN = "not known which way is stricter"


@dataclass(frozen=True)
class Item:
    """One thing that reads otherwise: `what` of `about`, as it was and as it is; "" where there was or is nothing."""

    what: str
    then: str
    now: str
    way: Way = Way.NEITHER
    about: str = ""


@dataclass(frozen=True)
class Region:
    """Where the answer of one rule moves: `says` what comes or goes; `case` is a case file that lies in it, or ""."""

    way: Way
    where: str
    says: tuple[str, ...]
    case: str = ""


@dataclass(frozen=True)
class Changed:
    """One rule, table, fact, source or entry of the cover page that is not as it was."""

    kind: str
    place: str
    name: str
    items: tuple[Item, ...]
    regions: tuple[Region, ...] = ()


def both_ways(looser: bool, stricter: bool) -> Way:
    """Return the way of a change that says less somewhere, or more, or both."""
    if looser and stricter:
        return Way.BOTH
    return Way.LOOSER if looser else Way.STRICTER if stricter else Way.NEITHER
