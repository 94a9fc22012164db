"""A chain of nodes whose properties change with temperature, and whose rubber gives off heat as it cures.

Temperatures are counted from 80 °C, where properties are as ordered. Between two nodes flows
G (1 + b (t1 + t2) / 2) (t1 - t2): with conductivity linear in temperature that is its exact integral (Kirchhoff's
transform), so a steady flow through a layer is exact. A node stores C t + D t^2 / 2 less the heat of reaction that it
has given off already: what is stored changes by what flows, and by nothing else.
"""

from dataclasses import dataclass
from math import log

import numpy as np

from mendbook.cure.arrays import Array, Indices
from mendbook.cure.kinetics import KELVIN
from mendbook.terms.drift import REFERENCE

TENFOLD = log(10)  # a cure of the first order has a tenth left at t90: degree = 1 - 10^-(multiples of t90)

Diagonals = tuple[Array, Array, Array]  # below, on and above the main one


@dataclass(frozen=True)
class Sites:
    """The points that give off heat as they cure."""

    nodes: Indices
    heat: Array  # that each gives off in all [J/m2]
    slope: Array  # Ea/R [K]
    offset: Array  # ln of the speed of cure at infinite temperature [ln 1/s]

    def speed(self, nodes: Array) -> Array:
        """Return the speed of cure [multiples of t90 per s]."""
        return np.asarray(np.exp(self.offset - self.slope / self._kelvin(nodes)))

    def steepness(self, nodes: Array) -> Array:
        """Return by how much that speed grows with temperature, as a share of it [1/K]."""
        return np.asarray(self.slope / self._kelvin(nodes) ** 2)

    def given(self, cured: Array) -> Array:
        """Return the heat given off [J/m2] by points `cured` so many multiples of t90."""
        return np.asarray(-self.heat * np.expm1(-TENFOLD * cured))

    def giving(self, cured: Array) -> Array:
        """Return the heat given off in a further multiple of t90 [J/m2], at the pace of now."""
        return np.asarray(TENFOLD * self.heat * np.exp(-TENFOLD * cured))

    def _kelvin(self, nodes: Array) -> Array:
        return np.asarray(nodes[self.nodes] + (REFERENCE + KELVIN))


@dataclass(frozen=True)
class Chain:
    """Nodes in a row between two ends whose temperatures are given. Temperatures in [K above 80 °C]."""

    links: Array  # conductance between neighbours, from end to end [W/(m2 K)]
    link_slope: Array  # relative change of each [1/K]
    capacity: Array  # of each node [J/(m2 K)]
    capacity_slope: Array  # its change [J/(m2 K2)]
    sites: Sites

    def flows(self, nodes: Array, ends: Array) -> Array:
        """Return what flows into each node [W/m2]."""
        chain = np.concatenate([ends[:1], nodes, ends[1:]])
        through = self.links * (1 + self.link_slope / 2 * (chain[1:] + chain[:-1])) * (chain[:-1] - chain[1:])
        return np.asarray(through[:-1] - through[1:])

    def stored(self, nodes: Array, cured: Array) -> Array:
        """Return the heat in each node less what its sites have given off [J/m2]."""
        return np.asarray(
            (self.capacity + self.capacity_slope / 2 * nodes) * nodes - self.gather(self.sites.given(cured))
        )

    def warming(self, nodes: Array, cured: Array, flows: Array, speed: Array) -> Array:
        """Return how fast each node warms up [K/s] when `flows` come in and sites cure at `speed`."""
        released = self.sites.giving(cured) * speed
        return np.asarray((flows + self.gather(released)) / (self.capacity + self.capacity_slope * nodes))

    def slopes(self, nodes: Array, cured: Array, step: float) -> Diagonals:
        """Return d(stored - step x flows)/d(nodes), where `cured` holds step x speed of cure already."""
        ahead = step * self.links[1:] * (1 + self.link_slope[1:] * nodes)
        back = step * self.links[:-1] * (1 + self.link_slope[:-1] * nodes)
        faster = step * self.sites.speed(nodes) * self.sites.steepness(nodes)
        released = self.gather(self.sites.giving(cured) * faster)
        return -ahead[:-1], self.capacity + self.capacity_slope * nodes + ahead + back - released, -back[1:]

    def gather(self, sites: Array) -> Array:
        """Return what the sites have, node by node."""
        return np.bincount(self.sites.nodes, sites, len(self.capacity)).astype(np.float64, copy=False)
