"""What two dimensions say of the edges of pads, beside the quick rules."""

from typing import Literal

from pydantic import Field

from mendbook.terms.closed import Closed

Way = Literal["length", "width"]


class WayCheck(Closed):
    """One way across the injury, its pads taken as strips that are endless the other way."""

    way: Way
    outside_mm: float | None = Field(description="outside pad past the injury on either side [mm]; None without one")
    inside_mm: float | None = Field(description="inside pad past the injury on either side [mm]; None without one")
    counted: float | None = Field(description="factor on the minutes by the quick rule; None where it refuses")
    found: float | None = Field(description="factor on the minutes in two dimensions; None where it takes too long")


class EdgeCheck(Closed):
    """Overlap and factors by the quick rules and as computed in two dimensions, by heating alone."""

    needed_mm: float = Field(description="overlap that the rule asks for [mm]")
    straight_mm: float = Field(description="overlap at which the edge gets 95 % of the middle's cure: straight [mm]")
    round_mm: float = Field(description="the same under a wide round pad [mm]")
    ways: tuple[WayCheck, ...] = Field(description="none when the order does not tell injury and heated areas")
