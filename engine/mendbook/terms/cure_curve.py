"""What cure curves tell: the figures of each curve, how fast the batch cures, and its compound for a cure order."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Literal

from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.terms.cure_wall import Compound

CurveKind = Literal["plateau", "peak", "marching"]
How = Literal["given", "two curves", "least squares"]


class CureCurve(Closed):
    """The figures of one cure curve, as ISO 6502 defines them (from memory). Times run from closing the die."""

    name: str = Field(description="the file it came from")
    digest: str = Field(description="SHA-256 of that file, empty when there was none")
    temperature_C: float = Field(description="of the dies [°C]")
    readings: int = Field(description="how many the curve has")
    ended_min: float = Field(description="last reading [min]")
    kind: CurveKind = Field(description="levels off; falls after a peak (reversion); or still creeps up at the end")
    minimum_dNm: float = Field(description="ML, least torque before the rise [dN m]")
    minimum_at_min: float = Field(description="when [min]")
    maximum_dNm: float = Field(
        description="MH, greatest torque [dN m]: of the plateau, of the peak, or of a marching curve at its end"
    )
    maximum_at_min: float = Field(description="when [min]")
    scorch_1_min: float | None = Field(description="t_s1, to 1 dN m above ML [min]; None where it rises less")
    scorch_2_min: float | None = Field(description="t_s2, to 2 dN m above ML [min]; None where it rises less")
    t10_min: float = Field(description="to ML and 10 % of the rise to MH [min]")
    t50_min: float = Field(description="to 50 % of the rise [min]")
    t90_min: float = Field(description="to 90 % of the rise [min]")
    t90_stopped_sooner_min: float = Field(description="t90 had the test ended a fifth sooner [min]")
    fall_share: float = Field(description="reversion: fall from MH to the last reading [share of the rise]")
    bears: float | None = Field(
        description="when torque has fallen from MH by 5 % of the rise [multiples of t90]; None when it never has"
    )
    noise_share: float = Field(description="scatter of the readings, one standard deviation [share of the rise]")
    warnings: tuple[str, ...] = Field(description="what to know before these figures are used")


class Kinetics(Closed):
    """How t90 depends on temperature: t90(T) = t90 exp(Ea/R (1/T - 1/reference))."""

    t90_min: float = Field(description="at the reference temperature [min]")
    t90_error_min: float | None = Field(description="standard error [min]; None from fewer than three curves")
    reference_C: float = Field(description="the lowest temperature tested [°C]")
    activation_kJ_mol: float = Field(description="activation energy [kJ/mol]")
    activation_error_kJ_mol: float | None = Field(description="standard error [kJ/mol]; None from fewer than three")
    thermometer_error_kJ_mol: float | None = Field(
        description="what 0.3 °C of error in each test does to the activation energy [kJ/mol]; None at one temperature"
    )
    how: How = Field(description="where the activation energy comes from")
    residuals: tuple[float, ...] = Field(description="t90 measured over t90 fitted, less 1, curve by curve")


class CurveReport(Closed):
    """All that a batch's cure curves tell."""

    curves: tuple[CureCurve, ...]
    kinetics: Kinetics
    compound: Compound | None = Field(description="for a cure order; None when the fit makes no sense")
    warnings: tuple[str, ...] = Field(description="of the batch as a whole")
    notes: tuple[str, ...] = Field(description="what the figures count and leave out")
