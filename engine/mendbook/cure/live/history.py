"""The wall as it was: logged pads as what the faces met, exact between readings, and the cure that came of it."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.course import Begun, Wall
from mendbook.cure.faces import Face, meet
from mendbook.cure.heating import Heating
from mendbook.cure.kinetics import follow_points
from mendbook.cure.stack import build_stack
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_wall import Layer


@dataclass(frozen=True)
class Pads:
    """What both faces met, in straight lines between `times`."""

    times: Array  # [s after the first line]
    readings: Array  # [°C], outside and inside as rows
    longer: float = 1.0  # heating that the edge of the injury takes under them, over that of the middle

    def last(self, side: int, seconds: float) -> float:
        """Return the mean of one pad over the last `seconds` [°C]."""
        late = self.times >= self.times[-1] - seconds
        return float(self.readings[side, late].mean())

    def slope(self, side: int, seconds: float) -> float:
        """Return how fast one pad warmed up over the last `seconds` [K/s]; 0 where there is one time alone."""
        late = self.times >= self.times[-1] - seconds
        if late.sum() < 2:
            return 0.0
        times = self.times[late] - self.times[-1]
        return float(np.polyfit(times, self.readings[side, late], 1)[0])


class History:
    """Temperatures and cure of every point of a wall at the times of `pads`."""

    def __init__(self, order: CureOrder, pads: Pads) -> None:
        """Follow the wall of `order`, whose properties stay as they are, from its first temperature on."""
        self.order, self.pads = order, pads
        stack, times = build_stack(order.layers), tuple(pads.times.tolist())
        faces = [
            replace(meet(pad, order.ambient_C, order.cooling), times=times, readings=tuple(readings.tolist()))
            for pad, readings in zip((order.outside, order.inside), pads.readings, strict=True)
        ]
        tyre = order.ambient_C if order.tyre_C is None else order.tyre_C
        cold = Begun(
            faces=(faces[0], faces[1]),
            profile=np.full(len(stack.depth), float(tyre)),
            cure=np.zeros(len(follow_points(order.layers, stack).nodes)),
        )
        self.faces, self.wall = cold.faces, Wall(order, begun=cold)
        heating = self.wall.heating
        assert isinstance(heating, Heating)
        self.temperatures = heating.temperatures_at_bends()

    @cached_property
    def cure(self) -> Array:
        """Cure of every point (rows) by every time (columns) [multiples of t90]; trapezium rule."""
        speed = self.wall.points.speed(self.temperatures)
        gains = (speed[:, 1:] + speed[:, :-1]) / 2 * np.diff(self.pads.times)
        return np.concatenate([np.zeros((len(speed), 1)), np.cumsum(gains, axis=1)], axis=1)

    def at_depth(self, depth: float, times: Array) -> Array:
        """Return the temperature [°C] at `depth` [m] and `times` [s]."""
        stack = self.wall.stack
        node = int(np.clip(np.searchsorted(stack.depth, depth), 1, len(stack.depth) - 1))
        share = (depth - stack.depth[node - 1]) / (stack.depth[node] - stack.depth[node - 1])
        course = (1 - share) * self.temperatures[node - 1] + share * self.temperatures[node]
        return np.asarray(np.interp(times, self.pads.times, course))

    def begun(self, faces: tuple[Face, Face], index: int = -1) -> Begun:
        """Return where the cure stands at the time `index`, with `faces` from there on."""
        return Begun(faces, self.temperatures[:, index], self.cure[:, index])

    def least_cure(self, index: int = -1) -> float:
        """Return the cure of the slowest point that must cure [multiples of t90]."""
        return float(self.cure[self.wall.points.must_cure, index].min())


def scaled(order: CureOrder, diffusivity: float, contact: float) -> CureOrder:
    """Return `order` with its diffusivity and its contact resistances so many times as large.

    Density and heat capacity stay: under pads of known temperature nothing but the diffusivity can be told.
    """

    def layer(given: Layer) -> Layer:
        through = given.material.conductivity_W_mK * diffusivity
        return given.model_copy(update={"material": given.material.model_copy(update={"conductivity_W_mK": through})})

    def pad(given: Pad) -> Pad:
        return given.model_copy(update={"contact_resistance_m2K_W": given.contact_resistance_m2K_W * contact})

    return order.model_copy(
        update={
            "layers": tuple(layer(given) for given in order.layers),
            "outside": pad(order.outside),
            "inside": pad(order.inside),
        }
    )
