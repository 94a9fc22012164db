"""How fast rubber cures: the cure equivalent after Arrhenius (ISO 11346 gives the method; formula from memory).

E = integral of exp(-(Ea/R)(1/T - 1/Tref)) dt is the time at Tref that would cure as much. Cure is counted here
in multiples of t90: E / t90(Tref), so that compounds with different curves can stand side by side.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

import numpy as np

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.stack import Stack
from mendbook.terms.cure_wall import Layer

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018
KELVIN = 273.15


def rate_ratio(activation_kJ_mol: float, from_C: float, to_C: float) -> float:
    """Return how many times faster rubber cures at `to_C` than at `from_C` [°C]; Arrhenius."""
    slope = activation_kJ_mol * 1e3 / GAS_CONSTANT
    return exp(slope * (1 / (from_C + KELVIN) - 1 / (to_C + KELVIN)))


def activation_energy(ratio: float, from_C: float, to_C: float) -> float:
    """Return the activation energy [kJ/mol] of a cure `ratio` times faster at `to_C` than at `from_C` [°C]."""
    return log(ratio) * GAS_CONSTANT / (1 / (from_C + KELVIN) - 1 / (to_C + KELVIN)) / 1e3


@dataclass(frozen=True)
class Points:
    """The points at which cure is followed: every node of every layer that has a compound."""

    nodes: Indices
    layers: Indices  # index of the layer of each point
    must_cure: Flags  # False in rubber that was cured before
    slope: Array  # Ea/R [K]
    offset: Array  # ln of the speed at infinite temperature [ln 1/s]

    def speed(self, temperatures: Array) -> Array:
        """Return the speed of cure [multiples of t90 per s] at node temperatures [°C], one column a moment."""
        kelvin = temperatures[self.nodes] + KELVIN
        return np.asarray(np.exp(self.offset[:, None] - self.slope[:, None] / kelvin))


def follow_points(layers: Sequence[Layer], stack: Stack) -> Points:
    """Return the points of `layers` to follow in `stack`."""
    found = [
        (node, index, not layer.cured_before, slope, slope / (cure.reference_C + KELVIN) - log(60 * cure.t90_min))
        for index, (layer, span) in enumerate(zip(layers, stack.spans, strict=True))
        if (cure := layer.compound) is not None
        for slope in (cure.activation_kJ_mol * 1e3 / GAS_CONSTANT,)
        for node in span
    ]
    nodes, places, must_cure, slopes, offsets = (np.array(column) for column in zip(*found, strict=True))
    return Points(nodes, places, must_cure, slopes, offsets)
