"""The cure order: all that the cure time of a hot repair is computed from."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from mendbook.terms.drift import refuse_drift
from mendbook.terms.scatter import Scatter
from mendbook.terms.within import Within

Cooling = Literal["still air", "fan", "water"]
Counting = Literal["safe", "economy"]

THICKEST = 400.0  # mm
MOST_LAYERS = 20
LEAST_LOSS = 0.5  # W/(m2 K), of a pad; 3 is a well insulated one

Conductivity = Annotated[float, Within(0.02, 20, "W/(m K)", "0.25 for filled rubber")]
Density = Annotated[float, Within(100, 8000, "kg/m3", "1120 for filled rubber")]
HeatCapacity = Annotated[float, Within(300, 4500, "J/(kg K)", "1850 for filled rubber")]
CureTime = Annotated[float, Within(0.2, 600, "min", "the t90 of the batch's cure curve, such as 12")]
CurveTemperature = Annotated[float, Within(80, 220, "°C", "the temperature of the cure curve, such as 150")]
Activation = Annotated[float, Within(20, 250, "kJ/mol", "90, or what two cure curves give")]
Multiples = Annotated[float, Within(0.5, 100, "x t90", "1 as a target, 6 as a limit")]
Thickness = Annotated[float, Within(0.1, 300, "mm", "the measured thickness, such as 45")]
Setpoint = Annotated[float, Within(80, 200, "°C", "the temperature set on the controller, such as 140")]
HeatingRate = Annotated[float, Within(0.1, 100, "°C/min", "the measured rise of the pad, such as 6")]
PadTemperature = Annotated[float, Within(-40, 200, "°C", "what the pad reads at switch-on, such as 20")]
Contact = Annotated[float, Within(0, 0.05, "m2 K/W", "5e-4 for good contact")]
PadCapacity = Annotated[float, Within(0.5, 500, "kJ/(m2 K)", "20")]
Loss = Annotated[float, Within(0, 1000, "W/(m2 K)", "10 for still air")]
Ambient = Annotated[float, Within(-40, 60, "°C", "what a thermometer in the shop reads, such as 20")]
TyreTemperature = Annotated[float, Within(-40, 150, "°C", "the coldest reading on the tyre, such as 15")]
Clamp = Annotated[float, Within(0, 20, "bar", "the gauge pressure in the bags, such as 2.0")]
Altitude = Annotated[float, Within(-500, 6000, "m", "the height of the shop above the sea")]
WaterActivity = Annotated[float, Within(0, 1, "", "1 for damp rubber, 0.5 for dry stock")]
Moment = Annotated[float, Within(0, 6000, "min", "minutes after switch-on, such as 20")]
PerKelvin = Annotated[float, Within(-0.005, 0.01, "1/K", "0.002 for 0.2 % a kelvin")]
InPlane = Annotated[float, Within(0.2, 100, "", "1 for plain rubber, 2 to 15 where steel cord lies")]
ReactionHeat = Annotated[float, Within(0, 100, "kJ/kg", "10, as a calorimeter gives it")]
Side = Annotated[float, Within(5, 3000, "mm", "a length in the plane of the wall, such as 300")]
ReleaseTemperature = Annotated[float, Within(30, 150, "°C", "100, or less")]


class Entry(BaseModel):
    """A part of an order: frozen, and closed to keys that are not in its schema."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Material(Entry):
    """What a layer is made of, as heat crossing the wall at 80 to 110 °C meets it."""

    name: str = Field(description="e.g. fill rubber")
    conductivity_W_mK: Conductivity = Field(description="through the thickness [W/(m K)]")
    density_kg_m3: Density = Field(description="density [kg/m3]")
    heat_capacity_J_kgK: HeatCapacity = Field(description="specific heat capacity [J/(kg K)]")
    in_plane_ratio: InPlane = Field(1.0, description="conductivity along the wall over that through it [-]")
    conductivity_per_K: PerKelvin = Field(0.0, description="relative change per kelvin, about 80 °C [1/K]")
    heat_capacity_per_K: PerKelvin = Field(0.0, description="relative change per kelvin, about 80 °C [1/K]")
    basis: str = Field(description="measured, from a data sheet, or from memory: say which")


class Compound(Entry):
    """How fast a rubber cures, and how much cure it bears."""

    name: str = Field(description="e.g. fill rubber")
    t90_min: CureTime = Field(description="to 90 % of the rise in torque [min], as ISO 6502 defines it")
    reference_C: CurveTemperature = Field(description="at which t90 was measured [°C]")
    activation_kJ_mol: Activation = Field(description="activation energy [kJ/mol]; 80 to 110 is usual")
    face_limit: Multiples = Field(6.0, description="most cure it bears before it reverts [multiples of t90]")
    reaction_heat_kJ_kg: ReactionHeat = Field(0.0, description="given off by the whole cure [kJ/kg]; 0 leaves it out")
    basis: str = Field(description="cure curve of the batch, data sheet, or from memory: say which")


class Layer(Entry):
    """One layer of the wall."""

    name: str = Field(description="e.g. fill, gum, casing, reinforcement")
    thickness_mm: Thickness = Field(description="thickness [mm]")
    material: Material
    compound: Compound | None = Field(None, description="left out only for a layer that was cured before")
    cured_before: bool = Field(False, description="vulcanised already: it counts for overcure only")

    @model_validator(mode="after")
    def _can_be_judged(self) -> Self:
        if self.compound is None and not self.cured_before:
            raise ValueError(
                f"nothing says how fast '{self.name}' cures. Write its compound, "
                "or 'cured_before: true' when it is vulcanised already."
            )
        return self

    @property
    def reaction_rise(self) -> float:
        """By how much the heat of its cure would warm it up if none left it [K]; 0 when it was cured before."""
        if self.compound is None or self.cured_before:
            return 0.0
        return 1e3 * self.compound.reaction_heat_kJ_kg / self.material.heat_capacity_J_kgK


class Area(Entry):
    """A rectangle in the plane of the wall. Lengths of injury and heated areas run the same way."""

    length_mm: Side = Field(description="one way, such as around the tyre [mm]")
    width_mm: Side = Field(description="across it [mm]")


class Bend(Entry):
    """A point of a pad's programme: between two of them the pad warms up or cools in a straight line."""

    at_min: Moment = Field(description="after switch-on [min]; the first is 0")
    temperature_C: PadTemperature = Field(description="what the pad reads there [°C]")


class Pad(Entry):
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


class CureOrder(Entry):
    """What is to be cured, with what, and where. The name of a field says its unit."""

    case: str = Field("", description="the case or job it belongs to")
    layers: tuple[Layer, ...] = Field(
        description="from the outside face to the inside face",
        json_schema_extra={"minItems": 1, "maxItems": MOST_LAYERS},
    )
    outside: Pad = Field(description="on the outside face")
    inside: Pad = Field(description="on the inside face")
    ambient_C: Ambient = Field(description="air in the shop [°C]")
    tyre_C: TyreTemperature | None = Field(None, description="at switch-on [°C]; ambient when left out")
    clamp_bar: Clamp = Field(
        description="pressure on the repair [bar gauge]; about 1.9 to 2.2 (28 to 32 psi): common practice"
    )
    altitude_m: Altitude = Field(0.0, description="of the shop above the sea [m]")
    water_activity: WaterActivity = Field(
        1.0, description="moisture of the rubber as a share of what it holds when saturated [0 to 1]"
    )
    release_C: ReleaseTemperature = Field(
        100.0, description="hottest point when the clamp is let go [°C]; 100: common practice, no source"
    )
    target: Multiples = Field(1.0, description="cure wanted at the slowest point [multiples of t90]")
    schedule: Counting = Field(
        "safe", description="safe: by heating alone; economy: with part of the cool-down and a margin of a quarter"
    )
    cooling: Cooling = Field("still air", description="after power-off; a fan or water takes away what coasting adds")
    injury: Area | None = Field(None, description="the new rubber in the plane of the wall; pads must reach past it")
    scatter: Scatter = Field(default_factory=Scatter, description="how far the inputs may be off")
    rationale: tuple[str, ...] = Field((), description="why the order is as it is")

    @model_validator(mode="after")
    def _can_be_worked_out(self) -> Self:
        # Counted here: with min_length pydantic calls the list too short whenever one layer has a fault.
        if not 1 <= len(self.layers) <= MOST_LAYERS:
            raise ValueError(
                f"there are {len(self.layers)} layers, not 1 to {MOST_LAYERS}. "
                "Write them from the outside face to the inside face, like ones as one."
            )
        if not (self.outside.present or self.inside.present):
            raise ValueError("no face is heated. Put a pad on the outside or the inside: 'present: true'.")
        if all(layer.cured_before for layer in self.layers):
            raise ValueError("every layer is cured already. Write 'cured_before: false' for the new rubber.")
        thickness = sum(layer.thickness_mm for layer in self.layers)
        if thickness > THICKEST:
            raise ValueError(
                f"the wall is {thickness:g} mm thick, over {THICKEST:g} mm. Check the layers: they are in mm."
            )
        if self.release_C < self.ambient_C + 5:
            raise ValueError(
                f"a wall in a shop at {self.ambient_C:g} °C does not cool to {self.release_C:g} °C. "
                f"Write release_C: {self.ambient_C + 5:g} or more; 100 is usual."
            )
        self._refuse_drift()
        return self

    def _refuse_drift(self) -> None:
        pads = [pad for pad in (self.outside, self.inside) if pad.present]
        met = [self.ambient_C, *(point.temperature_C for pad in pads for point in pad.programme)]
        met += [given for given in (self.tyre_C, *(pad.start_C for pad in pads)) if given is not None]
        hottest = max(*met, *(pad.setpoint_C for pad in pads)) + max(layer.reaction_rise for layer in self.layers)
        for made_of in (layer.material for layer in self.layers):
            changes = {"conductivity": made_of.conductivity_per_K, "heat capacity": made_of.heat_capacity_per_K}
            refuse_drift(made_of.name, changes, min(met), hottest)
