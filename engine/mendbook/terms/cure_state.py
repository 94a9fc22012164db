"""The state of a cure that runs: what the cure module answers to a cure order and a log of temperatures."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Literal

from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.terms.cure_sheet import FaceCure, ScheduleName

Phase = Literal["waiting", "warming up", "heating", "power cut", "cooling", "ready"]
FaultKind = Literal[
    "late start",
    "missing sensor",
    "impossible reading",
    "spike",
    "stuck",
    "gap",
    "bad line",
    "wrong unit",
    "swapped",
    "drift",
    "pad off setpoint",
    "slow pad",
    "pad failed",
    "power cut",
    "pressure drop",
    "unusual wall",
]


class Fault(Closed):
    """Something in the log that is not as it should be, and what was done about it."""

    kind: FaultKind
    where: str = Field(description="the column it is in; empty when it is of the whole log")
    from_min: float = Field(description="when it began [min after the first line of the log]")
    to_min: float | None = Field(description="when it ended [min]; None while it lasts")
    readings: int = Field(0, description="how many readings were replaced or left out")
    said: str = Field(description="what was found")
    done: str = Field(description="what was done about it")


class DepthState(Closed):
    """One depth of the wall now."""

    layer: str
    depth_mm: float = Field(description="below the outside face [mm]")
    temperature_C: float = Field(description="now [°C]")
    cure: float = Field(description="reached by now [multiples of t90]")
    must_cure: bool = Field(description="False in rubber that was cured before")


class Estimate(Closed):
    """What the interior sensors tell of the wall, beside what the order says of it."""

    diffusivity_ratio: float = Field(description="diffusivity over that of the order [-]")
    diffusivity_sd: float = Field(description="standard deviation of that ratio [-]")
    contact_ratio: float = Field(description="contact resistance over that of the order [-]")
    contact_low: float = Field(description="5 % of the cases lie below it [-]")
    contact_high: float = Field(description="5 % of the cases lie above it [-]")
    sensors: tuple[str, ...] = Field(description="the columns it rests on")
    misfit_K: float = Field(description="root mean square of reading less model [K]")


class Remaining(Closed):
    """How long the pads must go on heating, if they go on so."""

    minutes: float = Field(description="from the last line of the log, rounded up [min]")
    low: float | None = Field(None, description="5 % of the cases need less [min]; None without an estimate")
    high: float | None = Field(None, description="5 % of the cases need more [min]")


class PowerCut(Closed):
    """A time in which pads lost heat that nobody asked them to lose."""

    from_min: float = Field(description="[min after the first line of the log]")
    to_min: float | None = Field(description="when the pads were back; None while it lasts [min]")
    coldest_C: float = Field(description="coldest reading of a pad in it [°C]")
    costs_min: float | None = Field(description="heating that it adds [min]; None when that cannot be told")


class CureState(Closed):
    """Where a cure stands at the last line of its log, and what it still needs. Times count from the first line."""

    case: str = ""
    began: str = Field("", description="clock of the first line, ISO 8601; empty when the log has no clock")
    minutes_logged: float = Field(description="from the first line to the last [min]")
    lines: int = Field(description="read from the log")
    phase: Phase
    schedule: ScheduleName = Field(description="the one followed")
    target: float = Field(description="cure asked of the slowest point as the schedule counts it [multiples of t90]")
    slowest: DepthState = Field(description="the point that has cured least of those that must cure")
    outside: FaceCure | None = Field(description="face, by now; None when the order gives no compound for it")
    inside: FaceCure | None = Field(description="face, by now; None when the order gives no compound for it")
    outside_in_the_end: FaceCure | None = Field(description="face, after heating as now and cooling")
    inside_in_the_end: FaceCure | None = Field(description="face, after heating as now and cooling")
    depths: tuple[DepthState, ...] = Field(description="every point that is followed, from outside to inside")
    as_now: Remaining | None = Field(description="pads held as they are; None when so they never cure it")
    at_setpoint: Remaining | None = Field(description="pads brought to their setpoints at once; None as above")
    switch_off_at_min: float | None = Field(description="pads held as they are [min after the first line]")
    cured_in_the_end: float = Field(description="slowest point after cooling, if heated as needed [multiples of t90]")
    hottest_C: float = Field(description="hottest point now, by the model and every sensor [°C]")
    minutes_to_release: float | None = Field(
        description="from the last line, after power-off; before it, from power-off [min]"
    )
    may_release: bool = Field(description="hottest point below the release temperature, power off, and cured")
    release_C: float = Field(description="the clamp is not let go above it [°C]")
    estimate: Estimate | None = Field(description="None without interior readings to rest on")
    power_cuts: tuple[PowerCut, ...]
    pressure_bar: float | None = Field(description="last reading [bar gauge]; None when it is not in the log")
    faults: tuple[Fault, ...] = Field(description="all that was found, in the order of time")
    cautions: tuple[str, ...]
    notes: tuple[str, ...] = Field(description="what the model counts and leaves out")
