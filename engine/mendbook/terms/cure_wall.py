"""The wall of a cure: its layers, what they are made of, and how fast they cure."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Self

from pydantic import Field, model_validator

from mendbook.terms.closed import Closed
from mendbook.terms.cure_figures import (
    Activation,
    Conductivity,
    CureTime,
    CurveTemperature,
    Density,
    HeatCapacity,
    InPlane,
    Multiples,
    PerKelvin,
    ReactionHeat,
    Thickness,
)


class Material(Closed):
    """What a layer is made of, as heat crossing the wall at 80 to 110 °C meets it."""

    name: str = Field(description="e.g. fill rubber")
    conductivity_W_mK: Conductivity = Field(description="through the thickness [W/(m K)]")
    density_kg_m3: Density = Field(description="density [kg/m3]")
    heat_capacity_J_kgK: HeatCapacity = Field(description="specific heat capacity [J/(kg K)]")
    in_plane_ratio: InPlane = Field(1.0, description="conductivity along the wall over that through it [-]")
    conductivity_per_K: PerKelvin = Field(0.0, description="relative change per kelvin, about 80 °C [1/K]")
    heat_capacity_per_K: PerKelvin = Field(0.0, description="relative change per kelvin, about 80 °C [1/K]")
    basis: str = Field(description="measured, from a data sheet, or from memory: say which")


class Compound(Closed):
    """How fast a rubber cures, and how much cure it bears."""

    name: str = Field(description="e.g. fill rubber")
    t90_min: CureTime = Field(description="to 90 % of the rise in torque [min], as ISO 6502 defines it")
    reference_C: CurveTemperature = Field(description="at which t90 was measured [°C]")
    activation_kJ_mol: Activation = Field(description="activation energy [kJ/mol]; 80 to 110 is usual")
    face_limit: Multiples = Field(6.0, description="most cure it bears before it reverts [multiples of t90]")
    reaction_heat_kJ_kg: ReactionHeat = Field(0.0, description="given off by the whole cure [kJ/kg]; 0 leaves it out")
    basis: str = Field(description="cure curve of the batch, data sheet, or from memory: say which")


class Layer(Closed):
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
