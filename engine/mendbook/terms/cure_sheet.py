"""The cure sheet: what the cure module answers to a cure order."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Literal

from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.terms.cure_advice import Advice
from mendbook.terms.cure_band import Band
from mendbook.terms.cure_edge import EdgeCheck

ScheduleName = Literal["safe", "economy", "floor"]
Face = Literal["outside", "inside"]


class SlowestPoint(Closed):
    """The point that cures last; the time is set by it."""

    layer: str
    depth_mm: float = Field(description="below the outside face [mm]")
    temperature_C: float = Field(description="at power-off [°C]")
    peak_C: float = Field(description="hottest it gets, with the rise after power-off [°C]")


class FaceCure(Closed):
    """How far the rubber at one face is overcured, cool-down included."""

    layer: str
    multiples: float = Field(description="cure reached [multiples of t90]")
    limit: float = Field(description="most it bears [multiples of t90]")
    ok: bool


class LayerCure(Closed):
    """The cure of one layer."""

    layer: str
    least_at_power_off: float = Field(description="slowest point of the layer [multiples of t90]")
    least: float = Field(description="same, cool-down included [multiples of t90]")
    most: float = Field(description="fastest point, cool-down included [multiples of t90]")
    limit: float = Field(description="most it bears [multiples of t90]")
    ok: bool = Field(description="within the limit")


class Porosity(Closed):
    """Whether the clamp keeps water in the rubber from boiling: bubbles form where it does not."""

    setpoint_C: float = Field(description="hottest pad [°C]")
    water_activity: float = Field(description="as ordered [0 to 1]")
    vapour_bar: float = Field(description="of the water in the rubber at the setpoint [bar absolute]")
    clamp_needed_bar: float = Field(description="to hold it, no air trapped [bar gauge]")
    clamp_given_bar: float = Field(description="as ordered [bar gauge]")
    highest_safe_setpoint_C: float = Field(description="that the clamp given holds [°C]; never over 200")
    ok: bool


class PadReach(Closed):
    """How far one heated area reaches past the injury."""

    face: Face
    length_mm: float = Field(description="past the injury along its length, on either side [mm]")
    width_mm: float = Field(description="past the injury across it, on either side [mm]")
    ok: bool = Field(description="as far as is needed, both ways")


class Reach(Closed):
    """Whether the heated areas reach far enough past the injury, and what the minutes count for it."""

    needed_mm: float = Field(description="overlap at which its edge gets 95 % of the cure of its middle [mm]")
    pads: tuple[PadReach, ...] = Field(description="those whose heated area the order tells")
    factor: float = Field(
        description="by which the minutes are longer than under wide pads, so that the edge of the injury reaches the "
        "target; the minutes hold it already [-]"
    )


class Schedule(Closed):
    """When to switch off, by one way of counting the cool-down.

    safe: heating alone. economy: part of the cool-down, with a margin. floor: all of it, for information only.
    """

    name: ScheduleName
    target: float = Field(description="cure asked of the slowest point as this schedule counts it [multiples of t90]")
    minutes_from_switch_on: float = Field(description="heating, from switch-on of the pads [min], rounded up")
    minutes_from_timer: float = Field(description="heating left when the timer starts [min]")
    minutes_to_release: float = Field(description="from power-off to the release temperature [min], rounded up")
    slowest: SlowestPoint
    after_power_off: float = Field(description="share of the slowest point's cure that comes after power-off [0 to 1]")
    outside: FaceCure | None = Field(description="None when the order gives no compound for that face")
    inside: FaceCure | None = Field(description="None when the order gives no compound for that face")


class CureSheet(Closed):
    """Minutes, margins and limits of one cure. Power is switched off at `minutes_from_switch_on`.

    What stands outside `schedules` is of the schedule followed.
    """

    case: str = ""
    schedule: ScheduleName = Field(description="the one followed")
    minutes_from_switch_on: float = Field(description="heating, from switch-on of the pads [min], rounded up")
    timer_starts_at_min: float = Field(
        description="when the cooler pad reads its setpoint less 20 °C [min after switch-on]"
    )
    minutes_from_timer: float = Field(description="heating left when the timer starts [min]")
    minutes_to_release: float = Field(
        description="from power-off until the hottest point is at the release temperature [min], rounded up"
    )
    release_C: float = Field(description="the clamp is not let go above it [°C]")
    target: float = Field(description="cure asked of the slowest point [multiples of t90]")
    schedules: tuple[Schedule, ...] = Field(description="every way of counting that this order allows")
    slowest: SlowestPoint
    outside: FaceCure | None = Field(description="None when the order gives no compound for that face")
    inside: FaceCure | None = Field(description="None when the order gives no compound for that face")
    layers: tuple[LayerCure, ...] = Field(description="those with a compound, from outside to inside")
    porosity: Porosity
    band: Band | None = Field(None, description="how sure minutes and cure are; only where it was asked for")
    reach: Reach | None = Field(None, description="None when the order does not tell injury and heated areas")
    edge: EdgeCheck | None = Field(None, description="rule beside two dimensions; only where it was asked for")
    advice: Advice | None = Field(None, description="what else could be done; only where it was asked for")
    warnings: tuple[str, ...] = Field(description="what this order runs into; read before switching on")
    cautions: tuple[str, ...] = Field(description="what goes with every cure")
    notes: tuple[str, ...] = Field(description="what the model counts, what it leaves out, and its basis")
