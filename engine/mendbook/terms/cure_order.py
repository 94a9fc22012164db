"""The cure order: all that the cure time of a hot repair is computed from."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Literal, Self

from pydantic import Field, model_validator

from mendbook.terms.closed import Closed
from mendbook.terms.cure_figures import (
    Altitude,
    Ambient,
    Clamp,
    Multiples,
    ReleaseTemperature,
    TyreTemperature,
    WaterActivity,
)
from mendbook.terms.cure_pad import Area, Pad
from mendbook.terms.cure_wall import Layer
from mendbook.terms.drift import refuse_drift
from mendbook.terms.scatter import Scatter

Cooling = Literal["still air", "fan", "water"]
Counting = Literal["safe", "economy"]

THICKEST = 400.0  # mm
MOST_LAYERS = 20


class CureOrder(Closed):
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
