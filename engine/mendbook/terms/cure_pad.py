"""The pads of a cure: how hot, how fast, how large."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from itertools import pairwise
from typing import Self

from pydantic import Field, model_validator

from mendbook.terms.closed import Closed
from mendbook.terms.cure_figures import Contact, HeatingRate, Loss, Moment, PadCapacity, PadTemperature, Setpoint, Side

LEAST_LOSS = 0.5  # W/(m2 K), of a pad; 3 is a well insulated one


class Area(Closed):
    """A rectangle in the plane of the wall. Lengths of injury and heated areas run the same way."""

    length_mm: Side = Field(description="one way, such as around the tyre [mm]")
    width_mm: Side = Field(description="across it [mm]")


class Bend(Closed):
    """A point of a pad's programme: between two of them the pad warms up or cools in a straight line."""

    at_min: Moment = Field(description="after switch-on [min]; the first is 0")
    temperature_C: PadTemperature = Field(description="what the pad reads there [°C]")


class Pad(Closed):
    """A heated pad on one face, or the bare face where there is none."""

    present: bool = Field(True, description="false: no pad here, and the bare face loses heat to the shop")
    setpoint_C: Setpoint = Field(
        140.0, description="temperature held [°C]; 140: common practice, no source; the highest of a programme"
    )
    heating_rate_C_min: HeatingRate | None = Field(
        None, description="rise of the pad [°C/min]; left out only when it is preheated to its setpoint"
    )
    start_C: PadTemperature | None = Field(
        None, description="pad at switch-on [°C]; ambient when left out, the setpoint when preheated"
    )
    contact_resistance_m2K_W: Contact = Field(
        5e-4, description="between pad and rubber [m2 K/W]; 1e-4 to 5e-3, from memory"
    )
    heat_capacity_kJ_m2K: PadCapacity = Field(
        20.0, description="of the pad, as it cools [kJ/(m2 K)]; 8 to 40, from memory"
    )
    loss_W_m2K: Loss = Field(
        10.0,
        description="from the back of the pad, or from the bare face, to the shop [W/(m2 K)]; "
        "5 to 30 in air, from memory; 0 on a bare face means insulated",
    )

    programme: tuple[Bend, ...] = Field(
        (), description="course of the pad from switch-on to power-off, in place of rate and start; it holds the last"
    )
    heated: Area | None = Field(None, description="the area that gets hot, without a rim that stays cooler")

    @model_validator(mode="before")
    @classmethod
    def _takes_the_setpoint_of_its_programme(cls, written: object) -> object:
        """Read the highest point of a programme as its setpoint: nobody need write it twice."""
        if not isinstance(written, dict) or "setpoint_C" in written or not written.get("programme"):
            return written
        points = [point.temperature_C if isinstance(point, Bend) else point for point in written["programme"]]
        read = [point.get("temperature_C") if isinstance(point, dict) else point for point in points]
        figures = [figure for figure in read if isinstance(figure, int | float)]
        return {**written, "setpoint_C": max(figures)} if len(figures) == len(read) else written

    @model_validator(mode="after")
    def _can_heat_and_cool(self) -> Self:
        if not self.present:
            return self
        if self.loss_W_m2K < LEAST_LOSS:
            raise ValueError("a pad that loses no heat never cools. Write loss_W_m2K: 3 if it is insulated.")
        if self.programme:
            self._check_programme()
            return self
        preheated = f"start_C: {self.setpoint_C:g} for a preheated pad."
        if self.start_C is not None and self.start_C > self.setpoint_C:
            raise ValueError(
                f"the pad starts at {self.start_C:g} °C, above its setpoint of {self.setpoint_C:g} °C. "
                f"Write {preheated}"
            )
        if self.heating_rate_C_min is None and self.start_C != self.setpoint_C:
            raise ValueError(
                f"nothing says how fast the pad heats. Write heating_rate_C_min, such as 6, or {preheated}"
            )
        return self

    def _check_programme(self) -> None:
        times = [point.at_min for point in self.programme]
        if self.heating_rate_C_min is not None or self.start_C is not None:
            raise ValueError("a programme says by itself where the pad starts and how fast it heats. Leave those out.")
        if times[0] != 0:
            raise ValueError(f"the programme begins {times[0]:g} min after switch-on. Begin it with at_min: 0.")
        if late := [later for earlier, later in pairwise(times) if later <= earlier]:
            raise ValueError(f"the programme goes back to {late[0]:g} min. Write its points in the order of time.")
        highest = max(point.temperature_C for point in self.programme)
        if highest != self.setpoint_C:
            raise ValueError(
                f"the programme reaches {highest:g} °C, and setpoint_C says {self.setpoint_C:g}. Leave setpoint_C out."
            )
