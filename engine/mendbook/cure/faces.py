"""What each face of the wall meets: a pad that warms up to its setpoint, or the air of the shop."""

from dataclasses import dataclass
from math import inf

from mendbook.terms.cure_order import Pad

BELOW_SETPOINT = 20.0  # K; the timer starts this far below the setpoint: common practice, no source


@dataclass(frozen=True)
class Face:
    """One face. A bare face meets the air: a ramp that stands still, and no heat capacity."""

    heated: bool
    conductance: float  # from the rubber to what it meets [W/(m2 K)]; inf for perfect contact
    start: float  # temperature at switch-on [°C]
    final: float  # temperature held [°C]
    rate: float  # [K/s]
    capacity: float  # of the pad [J/(m2 K)]
    loss: float  # from the back of the pad, or from the bare face, to the shop [W/(m2 K)]

    @property
    def ramp_end(self) -> float:
        """When the pad reaches its setpoint [s after switch-on]."""
        return (self.final - self.start) / self.rate if self.rate else 0.0

    @property
    def timer_start(self) -> float:
        """When the pad reads its setpoint less 20 K [s after switch-on]; 0 for a bare face."""
        return max(0.0, self.final - BELOW_SETPOINT - self.start) / self.rate if self.rate else 0.0

    def temperature(self, time: float) -> float:
        """Return what the rubber meets at `time` [s after switch-on], in [°C]."""
        return self.start + self.rate * time if time < self.ramp_end else self.final


def meet(pad: Pad, ambient_C: float) -> Face:
    """Return the face under `pad` in a shop at `ambient_C` [°C]."""
    if not pad.present:
        return Face(False, pad.loss_W_m2K, ambient_C, ambient_C, 0.0, 0.0, pad.loss_W_m2K)
    resistance = pad.contact_resistance_m2K_W
    start = ambient_C if pad.start_C is None else pad.start_C
    preheated = pad.heating_rate_C_min is None or start >= pad.setpoint_C
    return Face(
        heated=True,
        conductance=1 / resistance if resistance else inf,
        start=pad.setpoint_C if preheated else start,
        final=pad.setpoint_C,
        rate=0.0 if preheated else (pad.heating_rate_C_min or 0.0) / 60,
        capacity=pad.heat_capacity_kJ_m2K * 1e3,
        loss=pad.loss_W_m2K,
    )
