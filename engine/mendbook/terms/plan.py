"""The plan: how each permitted repair is done, with what, within which limits, in which order."""

from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet


class Method(Closed):
    """The process chosen, one word from each group of the rulebook's methods."""

    heat: str
    stages: str
    reinforcement: str
    heating: str
    kit: str


class WhyNot(Closed):
    """A method that was ruled out, and why."""

    method: str
    because: str
    source: str


class KitItem(Closed):
    """One thing to set up."""

    role: str = Field(description="what it is for, e.g. outside pad")
    item: str = Field(description="id in the catalogue")
    size: str = ""
    count: int = 1
    because: str = Field(description="which rule or sum chose it")
    runner_up: str = ""

    @property
    def words(self) -> str:
        """Its id, and how many of it where there are several: 'pad 250 x 400, 2 pieces'."""
        return self.item if self.count == 1 else f"{self.item}, {self.count} pieces"


class Amount(Closed):
    """A material and how much of it."""

    material: str
    amount: float
    unit: str
    basis: str


class Step(Closed):
    """One step of the work, in order. A hold point is passed only with a look or a signature."""

    number: int
    do: str
    hold_point: str = ""
    figures: str = Field("", description="pressures, temperatures, minutes")
    caution: str = ""
    basis: str = ""
    on_tag: bool = Field(False, description="whoever runs the tyre must know it: it stands on the limits tag as well")


class Limit(Closed):
    """A limit on the tyre after the repair, or on the way there."""

    what: str
    limit: str
    basis: str
    caution: str = Field("", description="that a house limit was overruled, and by whom, where one was")


class Patch(Closed):
    """A rectangle laid over an injury: what is opened, bridged, heated or pressed there."""

    what: str = Field(description="opening, cord level, reinforcement, or the face and piece of kit: outside pad")
    around_mm: float = Field(description="along the tyre [mm]")
    across_mm: float = Field(description="across the section [mm]")
    shift_mm: float = Field(0.0, description="of its middle from that of the injury, towards the crown [mm]")


class Repair(Closed):
    """The plan for one injury."""

    injury: str
    verdict: str
    zone: str
    method: Method | None = Field(None, description="None when every process is ruled out, or none is needed")
    why_not: tuple[WhyNot, ...] = ()
    thickness_mm: float | None = Field(None, description="to be heated through [mm]")
    reinforcement: str = Field("", description="least size, around x across")
    depth_mm: float | None = Field(None, description="of the cavity that is filled [mm]")
    patches: tuple[Patch, ...] = Field((), description="from the cavity outwards; kit that is lacking is left out")
    kit: tuple[KitItem, ...] = ()
    not_served: tuple[str, ...] = Field((), description="what the catalogue cannot do here, and what would serve")
    materials: tuple[Amount, ...] = ()
    steps: tuple[Step, ...] = ()
    cure_order: CureOrder | None = None
    cure: CureSheet | None = None
    second_cure_order: CureOrder | None = Field(None, description="of the second stage, or of the second lift")
    second_cure: CureSheet | None = None


class Plan(Closed):
    """All repairs of the tyre, and its way back to service."""

    repairs: tuple[Repair, ...] = ()
    power: str = Field("", description="pads, circuit and energy")
    limits: tuple[Limit, ...] = ()
    ladder: tuple[Step, ...] = Field((), description="from the end of the cure back to service")
