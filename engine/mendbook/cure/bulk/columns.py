"""Cure orders as columns: one row an order, padded to the most layers and to the most bends of a pad."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from math import inf, log

import numpy as np

from mendbook.cure.arrays import Array, Flags, Indices
from mendbook.cure.faces import Face, meet
from mendbook.cure.kinetics import GAS_CONSTANT, KELVIN
from mendbook.cure.reach import corner_of
from mendbook.cure.sideways import look_along
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Layer

NEVER = -inf  # ln of the speed of what does not cure
FACES = 2


@dataclass(frozen=True)
class OrderColumns:
    """Cure orders as arrays; rows are orders. `columns_of` makes them, and a table of a whole yard may, too.

    Layers run from the outside face to the inside face, and where an order has fewer than others the places after
    the last are filled with zeros. Faces are outside and inside. A pad's course runs in straight lines from bend to
    bend, and where it has fewer bends than others it repeats the last.
    """

    layers: Indices  # in each order, 1 to 20
    thickness: Array  # of each layer [m]
    conductivity: Array  # [W/(m K)]
    heat: Array  # density times specific heat capacity [J/(m3 K)]
    slope: Array  # Ea/R of each layer's compound [K]
    offset: Array  # ln of its speed at infinite temperature [ln 1/s]; NEVER where there is no compound
    limit: Array  # most cure that it bears [multiples of t90]; inf where there is no compound
    must_cure: Flags  # not vulcanised before
    heated: Flags  # faces with a pad
    conductance: Array  # from each face to what it meets [W/(m2 K)]; inf for perfect contact
    capacity: Array  # of each pad [J/(m2 K)]
    loss: Array  # from its back, or from a bare face, while it cools [W/(m2 K)]
    times: Array  # of the bends of each face [s after switch-on], from 0 on
    readings: Array  # there [°C]
    setpoint: Array  # of the hotter pad [°C]
    ambient: Array  # [°C]
    tyre: Array  # at switch-on [°C]
    clamp: Array  # [bar gauge]
    altitude: Array  # [m]
    water_activity: Array  # [0 to 1]
    release: Array  # temperature at which the clamp is let go [°C]
    target: Array  # cure wanted at the slowest point [multiples of t90]
    sides: Array  # [order, face, 4], from the corner of the injury to the edges of what is heated [m]; inf: no edge
    spread: Array  # diffusivity along the wall [m2/s]
    economy: Flags  # the economy schedule is ordered, and followed where the wall cools in still air
    forced: Flags  # a fan or water cools it

    def __len__(self) -> int:
        """Return how many orders there are."""
        return len(self.layers)

    def take(self, rows: Indices) -> "OrderColumns":
        """Return the orders in `rows`."""
        return OrderColumns(**{field.name: getattr(self, field.name)[rows] for field in fields(self)})

    def cut(self, layers: int) -> "OrderColumns":
        """Return the same orders, none of which has more than `layers` layers, without places beyond."""
        per_layer = ("thickness", "conductivity", "heat", "slope", "offset", "limit", "must_cure")
        columns = {field.name: getattr(self, field.name) for field in fields(self)}
        return OrderColumns(**columns | {name: columns[name][:, :layers] for name in per_layer})

    @property
    def has_edge(self) -> Flags:
        """Whether the edge of the injury is told, to be cured as its middle is."""
        return np.asarray(np.isfinite(self.sides).any(axis=(1, 2)))

    def first_alike(self) -> Indices:
        """Return for each order the row of the first that is the same to the last bit."""
        flat = [np.reshape(getattr(self, field.name), (len(self), -1)).astype(float) for field in fields(self)]
        table = np.concatenate(flat, axis=1)
        first: dict[bytes, int] = {}
        return np.array([first.setdefault(line.tobytes(), row) for row, line in enumerate(table)], dtype=np.int64)


def columns_of(orders: Sequence[CureOrder]) -> OrderColumns:
    """Return `orders` as columns, one row each.

    Heat of reaction and properties that change have no place in them.
    """
    walls = [order.layers for order in orders]
    met = [
        tuple(meet(pad, order.ambient_C, order.cooling) for pad in (order.outside, order.inside)) for order in orders
    ]
    layers = np.array([len(wall) for wall in walls], dtype=np.int64)
    in_layers = np.zeros((len(orders), max(layers, default=0), 6))
    if len(orders):
        in_layers[np.arange(in_layers.shape[1]) < layers[:, None]] = [_layer(layer) for wall in walls for layer in wall]
    in_faces = np.array([[_face(face) for face in faces] for faces in met]).reshape(len(orders), FACES, 4)
    bends = max((len(face.times) for faces in met for face in faces), default=1)
    courses = np.array(
        [[(_filled(face.times, bends), _filled(face.readings, bends)) for face in faces] for faces in met]
    ).reshape(len(orders), FACES, 2, bends)
    in_order = np.array([_order(order) for order in orders]).reshape(len(orders), 8)
    return OrderColumns(
        layers=layers,
        thickness=in_layers[..., 0],
        conductivity=in_layers[..., 1],
        heat=in_layers[..., 2],
        slope=in_layers[..., 3],
        offset=in_layers[..., 4],
        limit=in_layers[..., 5],
        must_cure=_must_cure(walls, in_layers.shape[1]),
        heated=in_faces[..., 0] > 0,
        conductance=in_faces[..., 1],
        capacity=in_faces[..., 2],
        loss=in_faces[..., 3],
        times=courses[:, :, 0],
        readings=courses[:, :, 1],
        setpoint=in_order[:, 0],
        ambient=in_order[:, 1],
        tyre=in_order[:, 2],
        clamp=in_order[:, 3],
        altitude=in_order[:, 4],
        water_activity=in_order[:, 5],
        release=in_order[:, 6],
        target=in_order[:, 7],
        sides=np.array([_sides(order) for order in orders]).reshape(len(orders), FACES, 4),
        spread=np.array([look_along(order).diffusivity for order in orders]),
        economy=np.array([order.schedule == "economy" for order in orders], dtype=bool),
        forced=np.array([order.cooling != "still air" for order in orders], dtype=bool),
    )


def _layer(layer: Layer) -> tuple[float, ...]:
    made_of, cure = layer.material, layer.compound
    body = (layer.thickness_mm / 1e3, made_of.conductivity_W_mK, made_of.density_kg_m3 * made_of.heat_capacity_J_kgK)
    if cure is None:
        return (*body, 0.0, NEVER, inf)
    slope = cure.activation_kJ_mol * 1e3 / GAS_CONSTANT
    return (*body, slope, slope / (cure.reference_C + KELVIN) - log(60 * cure.t90_min), cure.face_limit)


def _must_cure(walls: Sequence[Sequence[Layer]], layers: int) -> Flags:
    return np.array(
        [[not layer.cured_before for layer in wall] + [False] * (layers - len(wall)) for wall in walls], dtype=bool
    ).reshape(len(walls), layers)


def _face(face: Face) -> tuple[float, ...]:
    return (float(face.heated), face.conductance, face.capacity, face.loss)


def _sides(order: CureOrder) -> tuple[tuple[float, ...], ...]:
    patches = corner_of(order)
    return ((inf,) * 4,) * FACES if patches is None else tuple((*p.sides[0], *p.sides[1]) for p in patches)


def _filled(course: tuple[float, ...], bends: int) -> tuple[float, ...]:
    return course + course[-1:] * (bends - len(course))


def _order(order: CureOrder) -> tuple[float, ...]:
    setpoint = max(pad.setpoint_C for pad in (order.outside, order.inside) if pad.present)
    return (
        setpoint, order.ambient_C, order.ambient_C if order.tyre_C is None else order.tyre_C, order.clamp_bar,
        order.altitude_m, order.water_activity, order.release_C, order.target,
    )  # fmt: skip
