"""Reach of the pads, and the quick rules beside two dimensions, in words."""

from collections.abc import Iterator
from math import floor

from mendbook.terms.cure_edge import EdgeCheck, WayCheck
from mendbook.terms.cure_sheet import Reach


def reach_words(reach: Reach) -> str:
    """Return how far the pads reach past the injury; the shorter of both ways counts."""
    got = " and ".join(f"{pad.face} {floor(min(pad.length_mm, pad.width_mm))} mm" for pad in reach.pads)
    verdict = "" if all(pad.ok for pad in reach.pads) else "TOO SHORT: "
    longer = f"{reach.factor:.3f} times those under wide pads" if reach.factor > 1 else "those under wide pads"
    return f"{verdict}past the injury {got}, {reach.needed_mm:.0f} mm needed; the minutes are {longer}."


def edge_words(check: EdgeCheck) -> Iterator[str]:
    """Yield what two dimensions say, a sentence each."""
    yield (
        f"overlap by rule {check.needed_mm:.0f} mm; in two dimensions {check.straight_mm:.0f} mm at a straight edge, "
        f"{check.round_mm:.0f} mm under a wide round pad."
    )
    yield from map(_way, check.ways)


def _way(way: WayCheck) -> str:
    past = {"outside": way.outside_mm, "inside": way.inside_mm}
    told = " and ".join(f"{face} {floor(mm)} mm" for face, mm in past.items() if mm is not None)
    counted = "a refusal" if way.counted is None else f"{way.counted:.3f} times the minutes"
    found = "too long" if way.found is None else f"{way.found:.3f} times"
    return f"along the {way.way} alone, {told} past the injury: by rule {counted}, in two dimensions {found}."
