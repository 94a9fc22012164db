"""Advice on a cure: what else could be done, and what happens when things go otherwise than ordered."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Literal

from pydantic import Field

from mendbook.terms.closed import Closed

Counted = Literal["safe", "economy"]


class Heat(Closed):
    """How long under heat, and how long until the clamp may go."""

    minutes_from_switch_on: float = Field(description="heating [min], rounded up")
    minutes_to_release: float = Field(description="from power-off to the release temperature [min], rounded up")


class HighestSetpoint(Closed):
    """The highest setpoint, the same on every pad, at which no layer passes its limit and the clamp holds water."""

    setpoint_C: float | None = Field(description="to half a degree [°C]; None when none of those looked at will do")
    lowest_looked_at_C: float = Field(description="where the search ended [°C]")
    minutes_from_switch_on: float | None = Field(description="heating at it [min], rounded up")
    binds: Literal["layer", "pressure", "cap"] = Field(
        description="what stands against half a degree more; cap: the highest looked at"
    )
    layers: tuple[str, ...] = Field(description="those that would pass their limit")
    ordered_C: float = Field(description="hottest pad of the order [°C]")
    ordered_minutes: float = Field(description="heating as ordered [min]")
    ordered_is_within: bool = Field(description="as ordered no layer passes its limit and the clamp holds water")


class Pair(Closed):
    """Two setpoints, one for each face."""

    outside_C: float = Field(description="setpoint of the outside pad [°C]")
    inside_C: float = Field(description="setpoint of the inside pad [°C]")
    minutes_from_switch_on: float = Field(description="heating [min], rounded up")
    outside_multiples: float | None = Field(description="cure of the outside face [multiples of t90]")
    inside_multiples: float | None = Field(description="cure of the inside face [multiples of t90]")
    within: bool = Field(description="no layer passes its limit and the clamp holds water")


class QuickestPair(Closed):
    """The quickest pair within every limit, where it is worth the trouble."""

    pair: Pair
    one_setpoint_minutes: float = Field(description="heating at the highest common setpoint [min]")


class LongestWall(Closed):
    """The thickest wall whose heating and cool-down fit a shift."""

    schedule: Counted
    thickness_mm: int | None = Field(description="whole ones [mm]; None when not even a thin wall fits")
    heat: Heat | None
    grown: tuple[str, ...] = Field(description="layers that grow with the wall; the others keep their thickness")
    overcured: tuple[str, ...] = Field(description="layers that would pass their limit at the setpoints ordered")


class Stages(Closed):
    """The same repair cured in one stage or in two: the fill first, then gum and reinforcement."""

    one: Heat
    first: Heat
    second: Heat = Field(description="both faces heated")
    second_from_inside: Heat | None = Field(description="inside heated alone; None when it never cures")
    one_outside: float | None = Field(description="cure of the outside face [multiples of t90]")
    two_outside: float | None = Field(description="same, of both stages together")


class PressureRow(Closed):
    """The clamp that keeps water from boiling at one setpoint, moisture by moisture."""

    setpoint_C: float = Field(description="of the pads [°C]")
    needed_bar: tuple[float, ...] = Field(description="no air trapped [bar gauge], rounded up")
    with_air_bar: tuple[float, ...] = Field(description="with a closed pocket of air in it [bar gauge], rounded up")


class HalfCured(Closed):
    """When rubber is half cured, bubbles no longer grow in it."""

    depth_mm: float = Field(description="below the outside face [mm]")
    layer: str
    temperature_C: float = Field(description="hottest until then [°C]")
    needed_bar: float = Field(description="clamp to hold water until then [bar gauge], rounded up")


class Hold(Closed):
    """The same cure with the pads held cooler until the skin is half cured."""

    hold_C: float = Field(description="what the pads are kept at first [°C]")
    until_min: float = Field(description="when the pads go on to their setpoint [min after switch-on]")
    minutes_from_switch_on: float = Field(description="heating in all [min], rounded up")
    needed_bar: float = Field(description="clamp to hold water in rubber less than half cured [bar gauge], rounded up")


class ClampAdvice(Closed):
    """The clamp against the pressure of water."""

    altitude_m: float = Field(description="of the shop above the sea [m]")
    given_bar: float = Field(description="as ordered [bar gauge]")
    water_activity: float = Field(description="as ordered [0 to 1]")
    moistures: tuple[float, ...] = Field(description="of the columns [0 to 1]")
    rows: tuple[PressureRow, ...]
    half_cured: tuple[HalfCured, ...] = Field(description="from the outside face inwards, in new rubber")
    hottest_half_cured: HalfCured = Field(description="where most pressure is needed, anywhere in new rubber")
    holds: tuple[Hold, ...]


class Kept(Closed):
    """What the slowest point has when the minutes ordered are kept all the same."""

    at_power_off: float = Field(description="[multiples of t90]")
    after_cooling: float = Field(description="[multiples of t90]")
    is_short: bool = Field(description="less than the schedule asks")


class WhatIf(Closed):
    """What comes of one thing that is otherwise than ordered."""

    name: str
    minutes_from_switch_on: float | None = Field(description="heating then needed [min]; None: it never cures")
    minutes_from_timer: float | None = Field(description="same from the timer [min]; None: it never starts or cures")
    more_minutes: float | None = Field(description="than ordered, from switch-on [min]")
    by_clock: Kept = Field(description="with the minutes ordered from switch-on")
    by_timer: Kept | None = Field(description="with the minutes ordered from the timer; None: it never starts")
    remark: str = ""


class TimerSlip(Closed):
    """Minutes on the timer learned on one kind of pad and kept with a faster one."""

    learned_on: str = Field(description="pads on which the minutes were right")
    used_with: str = Field(description="pads with which they are too few")
    minutes: float = Field(description="learned [min from the timer]")
    needed: float = Field(description="with the other pads [min from the timer]")
    kept: Kept


class Advice(Closed):
    """Advice on one cure. Minutes are of the schedule followed, where nothing else is said."""

    schedule: Literal["safe", "economy", "floor"] = Field(description="the one followed")
    minutes_from_switch_on: float = Field(description="as ordered [min]")
    minutes_from_timer: float = Field(description="as ordered [min]")
    longer: float = Field(description="times as long as under wide pads, for the edge of the injury; 1 where unknown")
    highest: HighestSetpoint | None = Field(description="None for pads that follow a programme")
    quickest_pair: QuickestPair | None = Field(description="None where it saves less than 2 %")
    sparing: tuple[Pair, ...] = Field(description="the outside pad cooler than ordered, the inside one as ordered")
    shift_hours: float = Field(description="the shift that the wall must fit [h]")
    longest: tuple[LongestWall, ...]
    stages: Stages | None = Field(description="only for new fill under or beside a reinforcement")
    clamp: ClampAdvice
    what_ifs: tuple[WhatIf, ...] = Field(description="one thing changed at a time")
    timer_slips: tuple[TimerSlip, ...] = Field(description="minutes learned on other pads")
    left_out: tuple[str, ...] = Field(description="advice that this order does not allow, with the reason")
    caution: str = Field(description="who has the last word")
