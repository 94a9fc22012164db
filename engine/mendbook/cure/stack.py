"""The wall as a chain of nodes: vertex-centred finite volumes, lumped capacity.

Nodes lie on both faces and on every interface, so the slowest point is never half a cell away. Elements are
shared out by the time heat takes to cross each layer, d / sqrt(diffusivity).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.terms.cure_wall import Layer

ELEMENTS = 48  # second order in space: 0.01 % of the cure time of an 80 mm wall
LEAST = 3  # elements in the thinnest layer


@dataclass(frozen=True)
class Stack:
    """Nodes of a wall from the outside face (0) to the inside face."""

    depth: Array  # of each node below the outside face [m]
    conductance: Array  # of each element [W/(m2 K)]
    capacity: Array  # of each node [J/(m2 K)]
    spans: tuple[range, ...]  # nodes of each layer; an interface belongs to both its layers
    crossing: float  # sum of d / sqrt(diffusivity) over the layers [s^0.5]


def build_stack(layers: Sequence[Layer], elements: int = ELEMENTS) -> Stack:
    """Return the chain of nodes of `layers` in about `elements` elements, never fewer than 3 a layer."""
    thickness = np.array([layer.thickness_mm for layer in layers]) / 1e3
    conductivity = np.array([layer.material.conductivity_W_mK for layer in layers])
    heat = np.array([layer.material.density_kg_m3 * layer.material.heat_capacity_J_kgK for layer in layers])
    crossing = thickness * np.sqrt(heat / conductivity)
    counts = np.maximum(LEAST, np.rint(elements * crossing / crossing.sum())).astype(int)

    size = np.repeat(thickness / counts, counts)
    element_capacity = size * np.repeat(heat, counts)
    capacity = np.zeros(len(size) + 1)
    capacity[:-1] += element_capacity / 2
    capacity[1:] += element_capacity / 2
    last = np.cumsum(counts).tolist()
    return Stack(
        depth=np.concatenate([[0.0], np.cumsum(size)]),
        conductance=np.repeat(conductivity, counts) / size,
        capacity=capacity,
        spans=tuple(range(end - count, end + 1) for end, count in zip(last, counts.tolist(), strict=True)),
        crossing=float(crossing.sum()),
    )
