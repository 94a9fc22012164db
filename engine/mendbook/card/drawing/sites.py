"""Where an injury lies, in words and as far as it was measured; what was not is said, never guessed."""

from collections.abc import Iterable

from mendbook.card.lettering import plain
from mendbook.terms.plan import Repair
from mendbook.terms.tyre_map import Site

CROWN = "crown"
ROUNDING = 0.5  # mm


def lies_on(site: Site, side: str) -> bool:
    """Return whether a site belongs to a side; of the crown nobody knows which half, so it is shown on each."""
    return (bool(site.side) and CROWN in (site.side, side)) or site.side == side


def is_whole(site: Site) -> bool:
    """Return whether both of its edges are known."""
    return site.lower_mm is not None and site.upper_mm is not None


def known_edges(site: Site) -> list[float]:
    """Return the edges that are known [mm from the bead toe], that nearer the bead first."""
    return [edge for edge in (site.lower_mm, site.upper_mm) if edge is not None]


def counts_more(site: Site) -> bool:
    """Return whether it counts as wider than it was measured, by more than rounding."""
    if site.counted_mm is None or site.lower_mm is None or site.upper_mm is None:
        return False
    return max(site.lower_mm - site.counted_mm[0], site.counted_mm[1] - site.upper_mm) > ROUNDING


def is_repaired(site: Site, repair: Repair | None) -> bool:
    """Return whether `repair` is that of a site."""
    return repair is not None and not site.is_repair and site.name == repair.injury


def middle_of(sites: Iterable[Site], repair: Repair | None) -> float | None:
    """Return the middle of the injury that is repaired [mm from the bead toe], as the plan counts it."""
    site = next((one for one in sites if is_repaired(one, repair)), None)
    return None if site is None or site.counted_mm is None else sum(site.counted_mm) / 2


def spread_words(site: Site) -> str:
    """Return from where to where it lies on the tape, as far as that is known."""
    if site.lower_mm is not None and site.upper_mm is not None:
        return f"{site.lower_mm:.0f} to {site.upper_mm:.0f} mm"
    if site.lower_mm is not None:
        return f"from {site.lower_mm:.0f} mm"
    return f"up to {site.upper_mm:.0f} mm" if site.upper_mm is not None else "place not measured"


def unplaced(site: Site, mark: str) -> str:
    """Return why a site is not in the section, or only in part; '' where all of it is."""
    what = "Earlier repair" if site.is_repair else "Injury"
    if not site.side:
        return f"{what} {mark} is not drawn: nobody wrote on which side it lies."
    if site.lower_mm is None and site.upper_mm is None:
        named = f" Its zone was named: {plain(site.zone)}." if site.zone else ""
        return f"{what} {mark} is not drawn: its place was not measured.{named}"
    if not is_whole(site):
        return f"Of {what.lower()} {mark} only one edge is drawn: its width was not measured."
    if site.side == CROWN:
        return f"{what} {mark} lies in the crown; nobody wrote on which side of the centreline."
    return ""


def off_the_clock(site: Site, mark: str) -> str:
    """Return why a site is not on the clock map; '' where it is."""
    what = "Earlier repair" if site.is_repair else "Injury"
    if not site.side:
        return f"{what} {mark} is not on the clock map: nobody wrote on which side it lies."
    if site.clock_deg is None:
        return f"{what} {mark} is not on the clock map: its clock was not measured."
    if site.lower_mm is None and site.upper_mm is None:
        return f"{what} {mark} is on the clock map with its angle alone: its place was not measured."
    return ""
