"""A set of kit for one repair, and how a piece that is lacking is named."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mendbook.plan.catalogue import Tool
from mendbook.plan.size import Size
from mendbook.terms.plan import KitItem


@dataclass(frozen=True)
class Outfit:
    """What is set up. `figures` fill the blanks of the steps; it serves when nothing is lacking. `power` in W.

    `heated` says for each face with a pad what gets hot round the middle of the injury, as far on either side [mm].
    """

    items: tuple[KitItem, ...] = ()
    power: float = 0.0
    figures: Mapping[str, str] = field(default_factory=dict)
    lacking: tuple[str, ...] = ()
    needs_shield: bool = False
    heated: Mapping[str, Size] = field(default_factory=dict)


def lack(role: str, in_catalogue: Sequence[Tool], size: str) -> str:
    """Return what is said when nothing on hand serves: the piece of the catalogue that would, else its `size`."""
    if in_catalogue:
        return f"{role}: none on hand serves; '{in_catalogue[0].id}' of the catalogue would"
    return f"{role}: none in the catalogue serves; one {size} would"


def runner_up(pieces: Sequence[Tool]) -> str:
    """Return the second best, nothing where there is none."""
    return pieces[1].id if len(pieces) > 1 else ""
