"""Many walls of as many layers each, as nodes: the stack, the points of cure and the modes of `mendbook.cure`, stacked.

Walls worked out together are cut into the same number of elements, thick ones into twice as many; fewer than one wall
alone is: they are second order in space, and the tests hold what that costs.
"""

from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.kinetics import KELVIN

LEAST = 2  # elements in the thinnest layer
ELEMENTS = 28  # of a wall of up to 14 layers; 2 a layer beyond
THICK = 80.0  # mm; a thicker wall passes its release slowly, and a tenth of a degree there is a minute
THICK_ELEMENTS = 56
LEAST_DECAY = 1e-12  # 1/s; no wall is slower, but rounding may say so


@dataclass(frozen=True)
class Walls:
    """Walls as chains of nodes (rows are walls), and the points at which their cure is followed.

    An interface is a node of both its layers and so two points.
    """

    depth: Array  # of each node below the outside face [m]
    conductance: Array  # of each element [W/(m2 K)]
    capacity: Array  # of each node [J/(m2 K)]
    crossing: Array  # sum of d / sqrt(diffusivity) over the layers [s^0.5]
    nodes: Indices  # of each point
    layers: Indices  # of each point
    starts: Indices  # the first point of each layer
    must_cure: Flags  # point by point
    slope: Array  # Ea/R [K]
    offset: Array  # ln of the speed at infinite temperature [ln 1/s]

    def speed(self, temperatures: Array, rows: Indices) -> Array:
        """Return the speed of cure [multiples of t90 per s] of `rows` at temperatures of points [°C]."""
        kelvin = temperatures + KELVIN
        return np.asarray(np.exp(self.offset[rows, :, None] - self.slope[rows, :, None] / kelvin))


def elements_of(orders: OrderColumns) -> Indices:
    """Return into how many elements each wall of `orders` is cut."""
    return np.where(orders.thickness.sum(axis=1) > THICK / 1000, THICK_ELEMENTS, ELEMENTS)


def build_walls(orders: OrderColumns, elements: int = ELEMENTS) -> Walls:
    """Return the walls of `orders`, all of which have as many layers as there are places for."""
    rows, layers = orders.thickness.shape
    crossing = orders.thickness * np.sqrt(orders.heat / orders.conductivity)
    counts = _share_out(crossing, max(elements, LEAST * layers))
    at = np.arange(counts[0].sum())
    last = np.cumsum(counts, axis=1)
    element_layer = (at >= last[:, :, None]).sum(axis=1)
    size = np.take_along_axis(orders.thickness / counts, element_layer, axis=1)
    half = size * np.take_along_axis(orders.heat, element_layer, axis=1) / 2
    edge = np.zeros((rows, 1))
    ends = last + np.arange(1, layers + 1)  # each layer has one point more than elements
    point = np.arange(len(at) + layers)
    point_layer = (point >= ends[:, :, None]).sum(axis=1)
    return Walls(
        depth=np.concatenate([edge, np.cumsum(size, axis=1)], axis=1),
        conductance=np.take_along_axis(orders.conductivity, element_layer, axis=1) / size,
        capacity=np.concatenate([half, edge], axis=1) + np.concatenate([edge, half], axis=1),
        crossing=crossing.sum(axis=1),
        nodes=point - point_layer,
        layers=point_layer,
        starts=np.concatenate([np.zeros((rows, 1), dtype=np.int64), ends[:, :-1]], axis=1),
        must_cure=np.take_along_axis(orders.must_cure, point_layer, axis=1),
        slope=np.take_along_axis(orders.slope, point_layer, axis=1),
        offset=np.take_along_axis(orders.offset, point_layer, axis=1),
    )


def _share_out(crossing: Array, elements: int) -> Indices:
    """Return how many of `elements` each layer gets: by its crossing time, 3 at the least."""
    wanted = np.maximum(elements * crossing / crossing.sum(axis=1, keepdims=True) - LEAST, 0.0)
    spare = elements - LEAST * crossing.shape[1]
    given = spare * wanted / np.maximum(wanted.sum(axis=1, keepdims=True), 1e-9)
    whole = np.floor(given).astype(np.int64)
    rank = np.argsort(np.argsort(whole - given, axis=1, kind="stable"), axis=1)
    whole += rank < (spare - whole.sum(axis=1, keepdims=True))
    return np.asarray(LEAST + whole)


@dataclass(frozen=True)
class Modes:
    """The modes of many chains (rows), as `mendbook.cure.modes` has them for one."""

    decay: Array  # [wall, mode], slowest first [1/s]
    shapes: Array  # [wall, node, mode]
    weights: Array  # [wall, mode, node]
    drive: Array  # [wall, mode, face]


def find_modes(capacity: Array, links: Array, exchange: Array) -> Modes:
    """Return the modes of chains of `capacity` [J/(m2 K)], `links` and `exchange` with both faces [W/(m2 K)]."""
    scale = 1 / np.sqrt(capacity)
    diagonal = exchange.sum(axis=2)
    diagonal[:, :-1] += links
    diagonal[:, 1:] += links
    node = np.arange(capacity.shape[1])
    operator = np.zeros((*capacity.shape, len(node)))
    operator[:, node, node] = diagonal * scale**2
    operator[:, node[1:], node[:-1]] = -links * scale[:, :-1] * scale[:, 1:]  # eigh reads the lower triangle only
    decay, vectors = np.linalg.eigh(operator)
    shapes = vectors * scale[:, :, None]
    return Modes(
        decay=np.maximum(decay, LEAST_DECAY),
        shapes=shapes,
        weights=np.swapaxes(vectors / scale[:, :, None], 1, 2),
        drive=np.swapaxes(shapes, 1, 2) @ exchange,
    )
