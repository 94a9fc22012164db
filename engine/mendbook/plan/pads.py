"""Flexible heated pads: the smallest that covers, clear of the bead wire; two side by side where one is too large."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mendbook.plan.catalogue import Pad
from mendbook.plan.size import Size
from mendbook.plan.task import CLEAR_OF_WIRE, Place

MOST_SHIFT = 20.0  # mm that a pad may sit off centre; house default


@dataclass(frozen=True)
class Laid:
    """One pad or two, as laid on the tyre.

    `heated` is the whole heated area [mm], `off` how far its middle lies beside that of the injury, across the section.
    """

    pad: Pad
    count: int
    heated: Size
    shift: float  # mm towards the crown
    needs_shield: bool
    off: float = 0.0
    towards_crown: bool = True

    @property
    def lies(self) -> float:
        """How far its middle lies from that of the injury, towards the crown [mm]; negative past the centreline."""
        return self.off if self.towards_crown else -self.off

    @property
    def heated_evenly(self) -> Size:
        """What is heated round the middle of the injury, as far on either side [mm]."""
        return Size(self.heated.around, self.heated.across - 2 * self.off)

    @property
    def power(self) -> float:
        """Electrical power of all its pads [W]."""
        return self.pad.power * self.count

    @property
    def rank(self) -> tuple[bool, float, int, str]:
        """What is better comes first: clear of the bead, then little heated area, two pads counting double."""
        return self.needs_shield, self.heated.area * self.count, self.count, self.pad.id


def lay_pads(pads: Iterable[Pad], needed: Size, place: Place, section_width: float, *, inside: bool) -> list[Laid]:
    """Return every way to cover `needed` [mm] on a tyre of `section_width` [mm], the best first.

    A pad keeps 30 mm clear of the bead wire, shifted up to 20 mm towards the crown if that helps; where none
    can, those that reach nearer come last and ask for a shielded bead. A pad over the bead toe is no choice.
    """
    ways = (
        laid
        for pad in pads
        if pad.serves(section_width) and not (inside and pad.outside_only)
        for laid in _ways(pad, needed, place)
    )
    return sorted(ways, key=lambda laid: laid.rank)


def _ways(pad: Pad, needed: Size, place: Place) -> Iterator[Laid]:
    if pad.is_wrap:
        if laid := _wrapped(pad, needed, place):
            yield laid
        return
    for heated, count in pad.layouts:
        # Spelled out, for a yard asks this of every pad for every repair.
        is_covered = heated.around >= needed.around and heated.across >= needed.across
        if is_covered and (laid := _placed(pad, count, heated, needed, place)):
            yield laid


def _placed(pad: Pad, count: int, heated: Size, needed: Size, place: Place) -> Laid | None:
    if place.centre is None:
        return Laid(pad, count, heated, 0.0, needs_shield=False)
    lower = place.centre - heated.across / 2 - pad.edge
    wanted = place.wire + CLEAR_OF_WIRE - lower
    shift = max(0.0, min(wanted, MOST_SHIFT, (heated.across - needed.across) / 2))
    if lower + shift < 0:
        return None
    return Laid(pad, count, heated, shift, needs_shield=wanted > shift + 1e-9, off=shift)


def _wrapped(pad: Pad, needed: Size, place: Place) -> Laid | None:
    """Return the wrap as laid across the crown, None where the injury lies too far down or its place is unknown."""
    if place.centre is None or pad.heated.around < needed.around:
        return None
    lowest = place.half_girth - pad.heated.across / 2
    if place.centre - needed.across / 2 < lowest or lowest - pad.edge < 0:
        return None
    shield = lowest - pad.edge < place.wire + CLEAR_OF_WIRE
    off = place.half_girth - place.centre
    return Laid(pad, 1, pad.heated, 0.0, needs_shield=shield, off=abs(off), towards_crown=off >= 0)
