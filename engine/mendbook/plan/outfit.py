"""A set of kit for one repair, and how a piece that is lacking is named."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mendbook.plan.catalogue import Tool
from mendbook.plan.size import Size
from mendbook.terms.plan import KitItem, Patch


@dataclass(frozen=True)
class Outfit:
    """What is set up. `figures` fill the blanks of the steps; it serves when nothing is lacking. `power` in W.

    `heated` says for each face with a pad what gets hot round the middle of the injury, as far on either side [mm].
    `patches` are the whole pads and bags where they lie.
    """

    items: tuple[KitItem, ...] = ()
    power: float = 0.0
    figures: Mapping[str, str] = field(default_factory=dict)
    lacking: tuple[str, ...] = ()
    needs_shield: bool = False
    heated: Mapping[str, Size] = field(default_factory=dict)
    patches: tuple[Patch, ...] = ()


def patch(what: str, size: Size, shift: float = 0.0) -> Patch:
    """Return `size` as it is laid over the injury, its middle `shift` [mm] nearer to the crown."""
    return Patch(what=what, around_mm=round(size.around, 1), across_mm=round(size.across, 1), shift_mm=round(shift, 1))


def lack(role: str, in_catalogue: Sequence[Tool], size: str) -> str:
    """Return what is said when nothing on hand serves: the piece of the catalogue that would, else its `size`."""
    if in_catalogue:
        return f"{role}: none on hand serves; '{in_catalogue[0].id}' of the catalogue would"
    return f"{role}: none in the catalogue serves; one {size} would"


def runner_up(pieces: Sequence[Tool]) -> str:
    """Return the second best, nothing where there is none."""
    return pieces[1].id if len(pieces) > 1 else ""
