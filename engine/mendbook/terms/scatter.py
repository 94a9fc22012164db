"""How far the inputs of a cure order may be off: one standard deviation each."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from typing import Annotated

from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.terms.within import Within

Share = Annotated[float, Within(0, 0.5, "", "0.08 for 8 %")]


class Scatter(Closed):
    """One standard deviation of every input. Defaults are from memory of the open literature, or house defaults.

    An input that was measured takes the error of the measurement.
    """

    thickness_mm: Annotated[float, Within(0, 20, "mm", "1.5")] = Field(
        1.5, description="of the wall [mm]; or thickness_share of it, whichever is more; house default"
    )
    thickness_share: Share = Field(0.02, description="of the wall; house default")
    conductivity_share: Share = Field(0.08, description="of every layer together; from memory")
    heat_capacity_share: Share = Field(0.05, description="density times heat capacity, every layer; from memory")
    t90_share: Share = Field(0.10, description="of every compound together; from memory")
    activation_kJ_mol: Annotated[float, Within(0, 30, "kJ/mol", "4")] = Field(
        4.0, description="activation energy, t90 at its own temperature being known [kJ/mol]; from memory"
    )
    pad_C: Annotated[float, Within(0, 20, "°C", "2")] = Field(
        2.0, description="of each pad against what it reads [°C]; from memory"
    )
    contact_factor: Annotated[float, Within(1, 10, "", "2 for half to twice")] = Field(
        2.0, description="of the contact resistance, times or over; from memory"
    )
    pad_heat_share: Share = Field(0.3, description="heat capacity of the pads; from memory")
    loss_share: Share = Field(0.3, description="heat lost from the backs of the pads; from memory")
