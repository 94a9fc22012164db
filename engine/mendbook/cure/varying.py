"""A wall whose rubber changes with temperature, or gives off heat as it cures, as a chain of nodes to march through."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from mendbook.cure.arrays import Array, Flags
from mendbook.cure.chain import Chain, Sites
from mendbook.cure.faces import Face
from mendbook.cure.kinetics import Points
from mendbook.cure.stack import Stack
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Layer

PERFECT = 1e9  # W/(m2 K), of a contact without resistance: it costs less than 1e-4 K


def varies(order: CureOrder) -> bool:
    """Return whether anything in `order` changes with temperature or gives off heat: modes do not describe that."""
    return any(
        layer.material.conductivity_per_K or layer.material.heat_capacity_per_K or layer.reaction_rise
        for layer in order.layers
    )


def hold_still(order: CureOrder) -> CureOrder:
    """Return `order` with the properties of its rubber as they are at 80 °C, and without heat of reaction."""
    if not varies(order):
        return order
    still = {"conductivity_per_K": 0.0, "heat_capacity_per_K": 0.0}
    layers = []
    for layer in order.layers:
        compound = layer.compound and layer.compound.model_copy(update={"reaction_heat_kJ_kg": 0.0})
        material = layer.material.model_copy(update=still)
        layers.append(layer.model_copy(update={"material": material, "compound": compound}))
    return order.model_copy(update={"layers": tuple(layers)})


@dataclass(frozen=True)
class Varying:
    """A wall, and what a march needs to know of it beyond its stack."""

    stack: Stack
    link_slope: Array  # relative change of each element's conductance [1/K]
    capacity_slope: Array  # change of each node's capacity [J/(m2 K2)]
    sites: Sites
    reacting: Flags  # which of the points of the wall the sites are

    def between_pads(self, faces: tuple[Face, Face]) -> Chain:
        """Return the wall while it is heated. The ends are what `faces` meet."""
        return self._chain([[face.conductance] for face in faces], self.stack.capacity, [[], []])

    def cooling(self, faces: tuple[Face, Face]) -> Chain:
        """Return the wall with its pads as nodes of their own. The ends are the air of the shop."""
        links, pads = [[face.loss] for face in faces], list[list[float]]([[], []])
        capacity = self.stack.capacity.copy()
        for end, face in enumerate(faces):
            if face.stands_apart:
                links[end].append(face.conductance)
                pads[end].append(face.capacity)
            else:
                capacity[-end] += face.capacity
        return self._chain(links, capacity, pads)

    def _chain(self, links: list[list[float]], capacity: Array, pads: list[list[float]]) -> Chain:
        """Return the wall between `links` and `pads`, each written from its end inwards."""
        return Chain(
            links=np.minimum(np.concatenate([links[0], self.stack.conductance, links[1][::-1]]), PERFECT),
            link_slope=np.pad(self.link_slope, (len(links[0]), len(links[1]))),
            capacity=np.concatenate([pads[0], capacity, pads[1]]),
            capacity_slope=np.pad(self.capacity_slope, (len(pads[0]), len(pads[1]))),
            sites=replace(self.sites, nodes=self.sites.nodes + len(pads[0])),
        )


def vary(layers: Sequence[Layer], stack: Stack, points: Points) -> Varying:
    """Return the wall of `layers`, whose cure is followed at `points`."""
    size = np.diff(stack.depth)
    link_slope, capacity_slope = np.zeros(len(size)), np.zeros(len(stack.depth))
    heat = np.zeros(len(points.nodes))
    for index, (layer, span) in enumerate(zip(layers, stack.spans, strict=True)):
        elements, made_of = slice(span.start, span.stop - 1), layer.material
        link_slope[elements] = made_of.conductivity_per_K
        share = np.zeros(len(span))  # of the layer's thickness, that a node stands for [m]
        share[:-1] += size[elements] / 2
        share[1:] += size[elements] / 2
        mass = made_of.density_kg_m3 * share
        capacity_slope[span.start : span.stop] += mass * made_of.heat_capacity_J_kgK * made_of.heat_capacity_per_K
        if layer.reaction_rise:
            heat[points.layers == index] = mass * made_of.heat_capacity_J_kgK * layer.reaction_rise
    warm = heat > 0
    sites = Sites(points.nodes[warm], heat[warm], points.slope[warm], points.offset[warm])
    return Varying(stack, link_slope, capacity_slope, sites, warm)
