"""What the kit has to do at one injury: what to cover on each face, how far through, and how near the bead."""

from dataclasses import dataclass
from math import ceil

from mendbook.facts.method import CROWN_RADIUS, SIDEWALL_RADIUS
from mendbook.plan.cavity import Cavity, number
from mendbook.plan.request import Wanted
from mendbook.plan.size import Size

BORDER = 40.0  # mm that heat reaches past the opening at least; house default
BORDER_SHARE = 0.8  # of the depth of the cavity; house default
PAST_REINFORCEMENT = 25.0  # mm; house default
CLEAR_OF_WIRE = 30.0  # mm from a pad's edge to the bead wire; house default
BAND_PAST_WIRE = 40.0  # mm by which the band where nothing is repaired reaches past the rim flange; house default


@dataclass(frozen=True)
class Place:
    """Where the injury lies along the surface [mm from the bead toe]; None where it was not measured."""

    lower: float | None
    upper: float | None
    wire: float  # where the bead wire ends at the latest
    half_girth: float
    around_radius: float
    across_radius: float

    @property
    def centre(self) -> float | None:
        """The middle of the injury, None where it was not measured."""
        return None if self.lower is None or self.upper is None else (self.lower + self.upper) / 2


@dataclass(frozen=True)
class Task:
    """What one injury asks of the kit. Sizes [mm], `pressure` [bar gauge]."""

    verdict: str
    is_crown: bool
    outside: Size
    inside: Size
    inside_why: str
    reach: float
    reach_why: str
    depth: float
    thickness: float
    both_faces: bool
    pressure: float
    section_width: float
    inflated_width: float
    height: float
    place: Place


def task_of(
    wanted: Wanted,
    cavity: Cavity,
    reinforcement: Size | None,
    thickness: float,
    overlap: float,
    *,
    both_faces: bool,
    pressure: float,
) -> Task:
    """Return what the kit has to do.

    thickness : of the wall under the pads [mm]
    overlap : of the pads past the injury, so that its edge cures as its centre does [mm]
    Heat reaches past the opening by the larger of two borders: the house one, and the one at which the edge of
    the injury cures as its centre does. The minutes of the cure hold for that one, so it is of the whole wall.
    """
    border = max(BORDER, BORDER_SHARE * cavity.depth)
    heat = ceil(overlap)
    inside, inside_why = cavity.widest_inside.grown(heat), f"heat reaches {heat:.0f} mm past the injury"
    if reinforcement is not None:
        inside = inside.joined(reinforcement.grown(PAST_REINFORCEMENT))
        inside_why = f"reinforcement and {PAST_REINFORCEMENT:.0f} mm, and {heat:.0f} mm past the injury"
    zone = wanted.zone
    height, width = number(wanted, "height"), number(wanted, "inflated width")
    return Task(
        verdict=wanted.verdict,
        is_crown=zone.startswith("crown"),
        outside=cavity.opening.grown(max(border, heat)),
        inside=inside,
        inside_why=inside_why,
        reach=max(border, heat),
        reach_why=(
            f"so that the edge cures as the centre does through {thickness:.0f} mm (heat sideways, computed)"
            if heat > border
            else "border of the house: 40 mm, or 0.8 times the depth"
        ),
        depth=cavity.depth,
        thickness=thickness,
        both_faces=both_faces,
        pressure=pressure,
        section_width=number(wanted, "section width", width),
        inflated_width=width,
        height=height,
        place=Place(
            lower=_known(wanted, "lower edge"),
            upper=_known(wanted, "upper edge"),
            wire=number(wanted, "bead ends") - BAND_PAST_WIRE,
            half_girth=number(wanted, "half girth"),
            around_radius=number(wanted, "rim") / 2 + height,
            across_radius=CROWN_RADIUS * width if zone.startswith("crown") else SIDEWALL_RADIUS * height,
        ),
    )


def sag(length: float, radius: float) -> float:
    """Return the gap [mm] under a flat shoe of `length` on a wall of `radius` [mm]: L^2 / (8 r), small angles."""
    return length**2 / (8 * radius)


def _known(wanted: Wanted, fact: str) -> float | None:
    value = wanted.facts.get(fact)
    return float(value) if isinstance(value, int | float) else None
