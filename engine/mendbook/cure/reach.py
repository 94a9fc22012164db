"""Do the pads reach far enough past the injury; what it costs where they do not, and when they are too small.

The minutes must cure the edge of the injury, not only its middle. Injury and heated areas are rectangles, one in the
middle of the other; the corner of the injury is followed as a column of its own (`edge`), and the heating goes on
until it, too, has its target. Pads of different size each count on their own face.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from mendbook.cure.course import Wall
from mendbook.cure.edge import ELEMENTS, EdgeWall, Patch, further
from mendbook.cure.overlap import overlap_needed
from mendbook.cure.schedules import NeverCuredError, power_off_times
from mendbook.cure.sideways import look_along
from mendbook.cure.varying import hold_still
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Area, Pad
from mendbook.terms.cure_sheet import Face, PadReach, Reach, ScheduleName

LONGEST = 1.5  # times the minutes under wide pads; a pad that costs more is refused: house default
ROUNDS = 12  # of the search for a pad that is just large enough
STEP = 5.0  # mm, in which sizes of pads are told


class PadTooSmallError(ValueError):
    """Under these pads the edge of the injury does not cure in a sensible time. The message says what size does."""


@dataclass(frozen=True)
class Judged:
    """What the pads of an order reach, and by how much each schedule is longer than under wide pads."""

    needed_mm: float
    pads: tuple[PadReach, ...]
    factors: dict[ScheduleName, float]

    def reach_of(self, followed: ScheduleName) -> Reach:
        """Return what the sheet says of the pads when `followed` is."""
        return Reach(needed_mm=ceil(self.needed_mm), pads=self.pads, factor=round(self.factors[followed], 3))


def judge_pads(order: CureOrder, names: Sequence[ScheduleName]) -> Judged | None:
    """Return how far the pads reach and what that costs each schedule of `names`, the one followed first.

    None where the order does not say how large the injury is, or none of its heated areas. A pad of unknown size
    counts as large as the other. Schedules that would take too long are left out. Raises PadTooSmallError when neither
    the first nor safe is left, and NeverCuredError where wide pads would not help.
    """
    areas, patches = heated_areas(order), corner_of(order)
    if order.injury is None or patches is None:
        return None
    needed, injury = overlap_of(order), order.injury
    pads = tuple(_past(face, area, injury, needed) for face, area in areas.items())
    factors = factors_at(order, patches, names) if min(map(_least_past, pads)) >= 0 else {}
    if not factors:
        raise PadTooSmallError(_too_small(order, areas, injury, needed, names[0]))
    return Judged(needed, pads, factors)


def corner_of(order: CureOrder) -> tuple[Patch, Patch] | None:
    """Return how the corner of the injury stands under the heated areas of the outside and the inside pad.

    None where the order does not say how large the injury is, or none of its heated areas.
    """
    areas = heated_areas(order)
    if order.injury is None or not areas:
        return None
    known = next(iter(areas.values()))
    return patches_of(order, order.injury, (areas.get("outside", known), areas.get("inside", known)))


def is_covered(order: CureOrder) -> bool:
    """Return whether each heated area of `order` that is told covers the injury."""
    injury = order.injury
    return injury is None or all(
        area.length_mm >= injury.length_mm and area.width_mm >= injury.width_mm for area in heated_areas(order).values()
    )


def overlap_of(order: CureOrder) -> float:
    """Return how far the heated areas must reach past the injury of `order` on every side [mm]."""
    along = look_along(order)
    return overlap_needed(along.thickness_mm, along.in_plane_ratio, along.one_sided)


def heated_areas(order: CureOrder) -> dict[Face, Area]:
    """Return the heated areas that the order tells, by face."""
    told: dict[Face, Pad] = {"outside": order.outside, "inside": order.inside}
    return {face: pad.heated for face, pad in told.items() if pad.present and pad.heated}


def _past(face: Face, area: Area, injury: Area, needed: float) -> PadReach:
    length, width = (area.length_mm - injury.length_mm) / 2, (area.width_mm - injury.width_mm) / 2
    return PadReach(
        face=face,
        length_mm=round(length, 1),
        width_mm=round(width, 1),
        ok=min(length, width) >= needed - 0.5,  # a rim of half a millimetre is not measured
    )


def patches_of(order: CureOrder, injury: Area, pads: tuple[Area, Area]) -> tuple[Patch, Patch]:
    """Return how the corner of `injury` stands under the heated areas of the outside and the inside pad."""
    more = further(order, look_along(order))
    outside, inside = pads
    return _patch(outside, injury, more), _patch(inside, injury, more)


def _patch(area: Area, injury: Area, more: float) -> Patch:
    sides = ((area.length_mm, injury.length_mm), (area.width_mm, injury.width_mm))
    along, across = (((a - i) / 2e3 + more, (a + i) / 2e3 + more) for a, i in sides)
    return Patch((along, across))


def _least_past(pad: PadReach) -> float:
    return min(pad.length_mm, pad.width_mm)


def factors_at(
    order: CureOrder, patches: tuple[Patch, Patch], names: Sequence[ScheduleName]
) -> dict[ScheduleName, float]:
    """Return by how much longer each schedule is where a column stands so than under wide pads.

    What takes too long is left out; nothing is left when the first and safe do. Raises NeverCuredError when those are
    not reached even under wide pads. A ratio of two times is told with the
    properties of rubber held still.
    """
    order = hold_still(order)
    wide = power_off_times(Wall(order, ELEMENTS), names)
    try:
        corner = power_off_times(EdgeWall(order, patches), tuple(wide))
    except NeverCuredError:
        return {}
    factors = {name: max(1.0, time / wide[name]) for name, time in corner.items()}
    bearable = {name: factor for name, factor in factors.items() if factor <= LONGEST}
    return bearable if names[0] in bearable or "safe" in bearable else {}


def _too_small(order: CureOrder, areas: dict[Face, Area], injury: Area, needed: float, name: ScheduleName) -> str:
    pad = min((_past(face, area, injury, needed) for face, area in areas.items()), key=_least_past)
    area = areas[pad.face]
    if _least_past(pad) < 0:
        why = "It does not cover it"
    else:
        why = f"The edge would take more than {LONGEST:g} times as long as the middle (house default)"
    least, no_loss = _grown(injury, _least(order, injury, needed, name)), _grown(injury, needed)
    return (
        f"the {pad.face} heated area of {area.length_mm:g} x {area.width_mm:g} mm is too small for an injury of "
        f"{injury.length_mm:g} x {injury.width_mm:g} mm in a wall of {look_along(order).thickness_mm:g} mm. {why}. "
        f"Heat {least} at the very least; with {no_loss} hardly any time is lost."
    )


def _least(order: CureOrder, injury: Area, needed: float, name: ScheduleName) -> float:
    """Return the least overlap [mm] that is not refused: halved in between."""
    low, high = 0.0, needed
    for _ in range(ROUNDS):
        middle = (low + high) / 2
        area = Area(length_mm=injury.length_mm + 2 * middle, width_mm=injury.width_mm + 2 * middle)
        enough = factors_at(order, patches_of(order, injury, (area, area)), (name,))
        low, high = (low, middle) if enough else (middle, high)
    return high


def _grown(injury: Area, border: float) -> str:
    length, width = (ceil((side + 2 * border) / STEP) * STEP for side in (injury.length_mm, injury.width_mm))
    return f"{length:g} x {width:g} mm"
