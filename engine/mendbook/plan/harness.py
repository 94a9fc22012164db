"""Bags, straps and spreaders: what presses the pads home."""

from collections.abc import Iterable
from math import ceil

from mendbook.plan.catalogue import Bag, Spreader, Strap
from mendbook.plan.size import Size

PAST_OUTSIDE = 30.0  # mm that a bag reaches past the heated area; house default
PAST_INSIDE = 50.0  # mm; house default
RATED = 1.25  # times the working pressure: common practice, no source
STRAP_WIDTHS, STRAP_TAIL = 0.8, 300.0 + 1000.0  # share of section width, mm; house default
BAR = 0.1  # N/mm2


def fit_bags(bags: Iterable[Bag], heated: Size, pressure: float, section_width: float, past: float) -> list[Bag]:
    """Return the bags that cover `heated` and `past` [mm] more on every side, the smallest first.

    pressure : working pressure [bar gauge]; a bag is rated 1.25 times as high at least
    """
    needed = heated.grown(past)
    fitting = (
        bag
        for bag in bags
        if bag.serves(section_width)
        and bag.rated >= RATED * pressure - 1e-9
        and (bag.presses.covers(needed) or bag.presses.turned.covers(needed))
    )
    return sorted(fitting, key=lambda bag: (bag.presses.area, bag.id))


def lie(bag: Bag, heated: Size, past: float) -> Size:
    """Return the bag as it lies over `heated` [mm], turned where only that covers."""
    return bag.presses if bag.presses.covers(heated.grown(past)) else bag.presses.turned


def push(bag: Size, pressure: float) -> float:
    """Return the force of a bag of area `bag` [mm2 as a size] at `pressure` [bar gauge], in N."""
    return bag.area * pressure * BAR


def leg_force(force: float, count: int) -> float:
    """Return the pull in one leg [N] when `count` straps, two legs each, hold `force` [N]."""
    return force / (2 * count)


def straps_needed(force: float, limit: float, used_share: float, least: int) -> int:
    """Return how many straps hold `force` [N] with no leg over `used_share` of its `limit` [N]."""
    return max(least, ceil(force / (2 * used_share * limit) - 1e-9))


def strap_length(half_girth: float, inflated_width: float) -> float:
    """Return how long a strap must be [mm]: two half girths, 0.8 widths, 0.3 m, and a tail of 1.0 m."""
    return 2 * half_girth + STRAP_WIDTHS * inflated_width + STRAP_TAIL


def fit_straps(straps: Iterable[Strap], length: float, section_width: float) -> list[Strap]:
    """Return the straps that are `length` [mm] or longer, those for this width first, then the shortest."""
    fitting = (strap for strap in straps if strap.length >= length - 1e-9)
    return sorted(fitting, key=lambda strap: (not strap.serves(section_width), strap.length, -strap.limit))


def fit_spreaders(spreaders: Iterable[Spreader], across: float, section_width: float) -> list[Spreader]:
    """Return the plates for this width; those as long as the heat is wide [mm] first, then the longest."""
    fitting = (plate for plate in spreaders if plate.serves(section_width))
    return sorted(fitting, key=lambda plate: (_long(plate) < across, abs(_long(plate) - across)))


def plates_needed(plate: Spreader, across: float, straps: int) -> int:
    """Return how many plates: under each strap as many as the heat is wide [mm]."""
    return straps * max(1, ceil(across / _long(plate) - 1e-9))


def _long(plate: Spreader) -> float:
    return max(plate.size.around, plate.size.across)
