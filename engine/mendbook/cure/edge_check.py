"""The quick rules for the edges of pads beside the slow path, for one order."""

from mendbook.cure.disc import Disc, TooSlowError
from mendbook.cure.edge import Patch
from mendbook.cure.grid import Outline
from mendbook.cure.reach import factors_at, heated_areas, overlap_of, patches_of
from mendbook.cure.sideways import look_along
from mendbook.terms.cure_edge import EdgeCheck, Way, WayCheck
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Area

WIDE = 6.0  # units along the wall; further away an edge is not felt
FAR = 10.0  # m


def check_edge(order: CureOrder) -> EdgeCheck:
    """Return what the quick rules say of `order` and what two dimensions find, by heating alone.

    Raises NeverCuredError when the wall does not cure even without edges.
    """
    wide = WIDE * look_along(order).unit_mm
    straight, around = (_ninety_five(order, Outline(wide, wide, is_round)) for is_round in (False, True))
    areas = heated_areas(order)
    ways: tuple[WayCheck, ...] = ()
    if order.injury is not None and areas:
        known = next(iter(areas.values()))
        pads = (areas.get("outside", known), areas.get("inside", known))
        ways = (_check(order, order.injury, pads, "length"), _check(order, order.injury, pads, "width"))
    return EdgeCheck(needed_mm=round(overlap_of(order), 1), straight_mm=straight, round_mm=around, ways=ways)


def _ninety_five(order: CureOrder, outline: Outline) -> float:
    disc = Disc(order, outline)
    return round(disc.reach_mm(disc.at_power_off(disc.power_off_time())), 1)


def _check(order: CureOrder, injury: Area, pads: tuple[Area, Area], way: Way) -> WayCheck:
    half = _side(injury, way) / 2
    past = [_side(pad, way) / 2 - half for pad in pads]
    faces = (order.outside, order.inside)
    reached = [round(mm, 1) if face.present else None for mm, face in zip(past, faces, strict=True)]
    counted = found = None
    if min(past) >= 0:
        outside, inside = patches_of(order, injury, pads)
        counted = factors_at(order, (_alone(outside, way), _alone(inside, way)), ("safe",)).get("safe")
        found = _found(order, half, past)
    return WayCheck(
        way=way,
        outside_mm=reached[0],
        inside_mm=reached[1],
        counted=None if counted is None else round(counted, 3),
        found=None if found is None else round(found, 3),
    )


def _side(area: Area, way: Way) -> float:
    return area.length_mm if way == "length" else area.width_mm


def _alone(patch: Patch, way: Way) -> Patch:
    """Return a patch that ends one way only."""
    along, across = patch.sides
    return Patch((along if way == "length" else across, (FAR, FAR)))


def _found(order: CureOrder, half: float, past: list[float]) -> float | None:
    """Return the factor of strips in two dimensions; what is far from the edge of the injury is left away [mm]."""
    wide = WIDE * look_along(order).unit_mm
    place = min(half, wide)
    disc = Disc(order, Outline(place + min(past[0], wide), place + min(past[1], wide), is_round=False))
    try:
        return max(1.0, disc.time_factor(place))
    except TooSlowError:
        return None
