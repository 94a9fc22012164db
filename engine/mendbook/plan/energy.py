"""Electrical power and energy of the repairs, and whether a circuit carries them."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from mendbook.plan.catalogue import Circuit, Kit
from mendbook.terms.cure_sheet import CureSheet

HELD = 0.45  # share of the time that a pad at its setpoint draws power; house default


@dataclass(frozen=True)
class Load:
    """One repair: what its pads draw [W], and its cures."""

    injury: str
    power: float
    cures: tuple[CureSheet, ...]

    @property
    def energy(self) -> float:
        """Energy of its cures [kWh]."""
        return sum(energy(self.power, c.timer_starts_at_min / 60, c.minutes_from_timer / 60) for c in self.cures)


def energy(power: float, warm: float, hold: float) -> float:
    """Return the energy [kWh] of pads of `power` [W] that heat up for `warm` [h] and hold for `hold` [h]."""
    return power / 1000 * (warm + HELD * hold)


def power_words(loads: Sequence[Load], circuit: Circuit | None, kit: Kit) -> str:
    """Return what is said of power and energy, nothing where nothing is heated."""
    loads = [load for load in loads if load.power]
    if not loads:
        return ""
    share, most, total = kit.used_circuit_share, max(load.power for load in loads), sum(load.power for load in loads)
    kwh = sum(load.energy for load in loads)
    used = f"{100 * share:.0f} %"
    drawn = f"{most:.0f} W, about {kwh:.1f} kWh" if len(loads) == 1 else _several(most, total, kwh)
    if circuit is None:
        needed = ceil(round(most / share, 6))
        return (
            f"{drawn}; a circuit of at least {needed} W carries it "
            f"(no more than {used} of one is loaded: house default)"
        )
    usable = share * circuit.power
    if most > usable:
        return f"{drawn}; more than {circuit.id} carries, {usable:.0f} W"
    enough = ", enough for all at once" if total <= usable and len(loads) > 1 else ""
    return f"{drawn}; {circuit.id} carries up to {usable:.0f} W{enough} ({used} of its rating: house default)"


def overload(power: float, circuit: Circuit | None, kit: Kit) -> str:
    """Return what is lacking when `circuit` does not carry pads of `power` [W], nothing when it does."""
    if circuit is None or power <= kit.used_circuit_share * circuit.power:
        return ""
    usable, serves = kit.used_circuit_share * circuit.power, _least(kit, power)
    needed = power / kit.used_circuit_share
    would = f"'{serves.id}' would serve" if serves else f"a circuit of {needed:.0f} W or more would serve"
    return f"circuit: {circuit.id} carries {usable:.0f} W, and the pads draw {power:.0f} W; {would}"


def _several(most: float, total: float, kwh: float) -> str:
    return f"{most:.0f} W one repair after the other, {total:.0f} W all at once, about {kwh:.1f} kWh"


def _least(kit: Kit, power: float) -> Circuit | None:
    carrying = (circuit for circuit in kit.circuits if kit.used_circuit_share * circuit.power >= power)
    return min(carrying, key=lambda circuit: circuit.power, default=None)
