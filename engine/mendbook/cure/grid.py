"""The grid of a layered wall under pads that end: nodes across the depth, volumes along the wall.

Nodes as in the one-dimensional model. Along the wall finite volumes, rings or strips, fine at the edge of each pad
and coarser away from it; the edge of a pad is an edge of a volume.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import numpy as np
from scipy.sparse import csc_matrix, diags

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.course import Wall
from mendbook.cure.faces import FORCED

FINEST = 1 / 40  # of the unit along the wall: the width of a volume at the edge of a pad
COARSEST = 1 / 10  # of the unit
GROWTH = 0.12  # of the distance from the edge
BEYOND = 4.0  # units of bare wall beside the pads; what happens further out is not felt under them
PERFECT = 1e5  # W/(m2 K), in place of perfect contact


@dataclass(frozen=True)
class Outline:
    """How far the heated areas reach from the middle [mm]: radii of round pads, or half the breadth of strips."""

    outside_mm: float
    inside_mm: float
    is_round: bool = True


@dataclass(frozen=True)
class Flow:
    """C dT/dt = -K T + B u: what flows between nodes, and from what they meet."""

    capacity: Array  # C [J/K], of a sector of one radian or of a metre of strip
    flow: csc_matrix  # K [W/K]
    drive: Array  # B [W/K]; columns: outside pad, inside pad, shop


class Grid:
    """Nodes (rows) by volumes (columns); flattened row by row, with the pads behind them where they cool."""

    def __init__(self, wall: Wall, outline: Outline, unit: float, fineness: float, beside_W_m2K: float) -> None:
        """Lay it out.

        unit : length along the wall in which heat crosses it [m]
        fineness : of the volumes along the wall, 1 for use
        beside_W_m2K : what the bare wall beside a pad loses to the shop
        """
        self._wall = wall
        reach = [mm / 1e3 for mm in (outline.outside_mm, outline.inside_mm)]
        edges = _edges(sorted({*reach}), unit, fineness)
        self.places: Array = (edges[1:] + edges[:-1]) / 2  # of the volumes, from the middle [m]
        self.shape = (len(wall.stack.depth), len(self.places))
        self._size = np.diff(edges**2) / 2 if outline.is_round else np.diff(edges)
        self._cut = edges[1:-1] if outline.is_round else np.ones(len(edges) - 2)
        self._node: Indices = np.arange(self.shape[0] * self.shape[1]).reshape(self.shape)
        self._beside = beside_W_m2K
        self._under: list[Flags] = [
            (self.places < end) & face.heated for end, face in zip(reach, wall.faces, strict=True)
        ]
        self._capacity = np.outer(wall.stack.capacity, self._size).ravel()
        self._pairs = self._neighbours()

    def _neighbours(self) -> tuple[Array, Indices, Indices]:
        """Return what links each pair of neighbours in the wall [W/K], and the two of each pair."""
        stack, node = self._wall.stack, self._node
        element = np.diff(stack.depth)
        layers = zip(self._wall.order.layers, stack.spans, strict=True)
        ratio = np.concatenate([np.full(len(span) - 1, layer.material.in_plane_ratio) for layer, span in layers])
        along = np.zeros(self.shape[0])
        along[:-1] += stack.conductance * element**2 * ratio / 2
        along[1:] += stack.conductance * element**2 * ratio / 2
        through = np.outer(stack.conductance, self._size)
        beside = np.outer(along, self._cut / np.diff(self.places))
        links = np.concatenate([through.ravel(), beside.ravel()])
        first = np.concatenate([node[:-1].ravel(), node[:, :-1].ravel()])
        second = np.concatenate([node[1:].ravel(), node[:, 1:].ravel()])
        return links, first, second

    def _surface(self, side: int) -> tuple[Indices, float, float, Flags]:
        """Return the nodes of a face, the conductance to a pad and the loss beside it [W/(m2 K)], and where it is."""
        face = self._wall.faces[side]
        loss = self._beside if face.heated else face.conductance
        return self._node[-side], min(face.conductance, PERFECT), loss, self._under[side]

    def heating(self) -> Flow:
        """Return the flows while the pads follow their course."""
        drive = np.zeros((len(self._capacity), 3))
        for side in (0, 1):
            nodes, contact, loss, under = self._surface(side)
            drive[nodes, side] = np.where(under, contact, 0.0) * self._size
            drive[nodes, 2] = np.where(under, 0.0, loss) * self._size
        return Flow(self._capacity, _matrix(*self._pairs, drive.sum(axis=1)), drive)

    def cooling(self) -> Flow:
        """Return the flows after power-off: each pad is a row of nodes of its own, and nothing drives but the shop."""
        links, first, second = ([part] for part in self._pairs)
        forced = FORCED[self._wall.order.cooling]
        capacity, loss = [self._capacity], [np.zeros(len(self._capacity))]
        behind = len(self._capacity)
        for side in (0, 1):
            face = self._wall.faces[side]
            nodes, contact, bare, under = self._surface(side)
            loss[0][nodes] += np.where(under, 0.0, max(bare, forced)) * self._size
            own = np.arange(behind, behind + int(under.sum()))
            behind += len(own)
            links.append(contact * self._size[under])
            first.append(nodes[under])
            second.append(own)
            capacity.append(face.capacity * self._size[under])
            loss.append(face.loss * self._size[under])
        lost = np.concatenate(loss)
        drive = np.zeros((behind, 3))
        drive[:, 2] = lost
        return Flow(
            np.concatenate(capacity),
            _matrix(np.concatenate(links), np.concatenate(first), np.concatenate(second), lost),
            drive,
        )

    def with_pads(self, temperatures: Array, pads_C: Array) -> Array:
        """Return the state of a cool-down from temperatures of the wall and of both pads at power-off [°C]."""
        own = [np.full(int(under.sum()), pad) for under, pad in zip(self._under, pads_C, strict=True)]
        return np.concatenate([temperatures.ravel(), *own])


def _matrix(links: Array, first: Indices, second: Indices, lost: Array) -> csc_matrix:
    rows, columns = np.concatenate([first, second]), np.concatenate([second, first])
    between = csc_matrix((np.concatenate([links, links]), (rows, columns)), shape=(len(lost), len(lost)))
    return csc_matrix(diags(lost + np.asarray(between.sum(axis=1)).ravel()) - between)


def _edges(ends: list[float], unit: float, fineness: float) -> Array:
    """Return the edges of the volumes from the middle outwards [m]: fine at `ends`, where pads end."""
    inwards = _away(ends[0], unit, fineness)
    parts = [(ends[0] - inwards)[::-1]]
    parts += [np.linspace(a, b, 1 + ceil((b - a) / (FINEST * unit) * fineness - 1e-9))[1:] for a, b in pairwise(ends)]
    parts.append(ends[-1] + _away(BEYOND * unit, unit, fineness)[1:])
    edges = np.concatenate(parts)
    edges[0] = 0.0
    return edges


def _away(length: float, unit: float, fineness: float) -> Array:
    """Return distances from 0 to `length` [m] in steps that grow from the finest to the coarsest."""
    reach, steps = 0.0, [0.0]
    while reach < length:
        reach += min(FINEST * unit + GROWTH * reach, COARSEST * unit) / fineness
        steps.append(reach)
    return np.array(steps) * (length / reach)
