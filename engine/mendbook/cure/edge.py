"""A column of the wall near the edge of the heated areas, worked out in the modes of a wall without edges.

Were the wall beside a pad as well coupled to the shop as it is to the pad, heat would spread along the wall and
through it independently: a pad would give a column what a wide one gives, weighted with the share of a Gaussian round
the column that lies under the pad, and the Gaussian widens with the square root of the time since the heat went in
(products of solutions: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., 1.15, from memory). Bare wall loses
less than that, so that the column is never colder than this says (maximum principle). How much warmer it is was found
in two dimensions (`disc`): as if each pad reached a little further, which `FURTHER` puts on the safe side.
"""

from dataclasses import dataclass

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.cooling import CoolDown, Cooling
from mendbook.cure.course import Wall
from mendbook.cure.heating import Heating
from mendbook.cure.lacking import AGES, MODES, at_age, lack, missing_share, respond
from mendbook.cure.sideways import Sideways, look_along
from mendbook.terms.cure_order import CureOrder

BESIDE = 10.0  # W/(m2 K) that bare wall beside a pad loses at the least: still air; 5 to 30, from memory
FURTHER = 0.13  # of the unit along the wall, for a loss that is as good as conduction to the slowest depth
FALL = 0.65  # power of the ratio of loss and conduction with which it grows less
FURTHEST = 0.3
ELEMENTS = 24  # across the wall: the ratio of two times needs fewer than a time
LATE = 40  # ages in a cool-down


@dataclass(frozen=True)
class Patch:
    """Where a column stands under one heated area: distances to its four edges [m], two and two opposite."""

    sides: tuple[tuple[float, float], tuple[float, float]]

    def missing(self, spread: Array) -> Array:
        """Return the share of a Gaussian round the column outside the area; `spread` [m]: sqrt(4 a t)."""
        return missing_share(np.array(self.sides).ravel(), spread)


def further(order: CureOrder, way: Sideways) -> float:
    """Return how much further a pad seems to reach because the wall beside it is not as cold as could be [m]."""
    loss = beside_loss(order)
    ratio = loss * way.way_mm / 1e3 / way.through
    return float(min(FURTHER * ratio**-FALL, FURTHEST) * way.unit_mm / 1e3)


def beside_loss(order: CureOrder) -> float:
    """Return what the bare wall beside the pads loses to the shop [W/(m2 K)]."""
    return max(BESIDE, *(pad.loss_W_m2K for pad in (order.outside, order.inside)))


class EdgeWall(Wall):
    """The column of an order under two patches, each the stand under one heated area; its properties hold still."""

    def __init__(self, order: CureOrder, patches: tuple[Patch, Patch], elements: int = ELEMENTS) -> None:
        super().__init__(order, elements)
        self.heating = EdgeHeating(self, patches)


class EdgeHeating(Heating):
    """The heating of a column near the edge."""

    def __init__(self, wall: Wall, patches: tuple[Patch, Patch]) -> None:
        super().__init__(wall.stack, wall.faces, wall.begun.profile)
        self._lack = Lack(wall, self, patches)

    def without_edge(self, times: Array) -> Array:
        """Return the temperature of every node (rows) at `times` under pads without edges."""
        return super().temperatures(times)

    def temperatures(self, times: Array) -> Array:
        """Return the temperature of every node (rows) at `times`, one column each."""
        return self.without_edge(times) - self._lack.heating(times)

    def let_cool(self, power_off: float, cool_down: CoolDown) -> Cooling:
        """Return the cool-down that begins `power_off` [s after switch-on]."""
        wide = self.without_edge(np.array([power_off]))[:, 0]
        return EdgeCooling(cool_down, cool_down.chain(wide, self.met(power_off)), self._lack, power_off)


class EdgeCooling(Cooling):
    """The cool-down of a column near the edge: what it lacks goes on spreading."""

    def __init__(self, cool_down: CoolDown, state: Array, lack: "Lack", power_off: float) -> None:
        super().__init__(cool_down, state)
        self._lacking = lack.cooling(cool_down, power_off)

    def at_moments(self) -> Array:
        """Return wall temperatures at the moments of the cool-down."""
        return super().at_moments() - self._lacking


class Lack:
    """What a column near the edge lacks in temperature against a wall without edges [K]."""

    def __init__(self, wall: Wall, heating: Heating, patches: tuple[Patch, Patch]) -> None:
        self._wall, self._patches = wall, patches
        self._modes, self._free = heating.modes, heating.free
        spread = np.sqrt(4 * look_along(wall.order).diffusivity * AGES)
        self._missing = {patch: patch.missing(spread) for patch in patches}  # at each of AGES
        decay = self._modes.decay[:MODES]
        responses = {patch: respond(missing, decay) for patch, missing in self._missing.items()}
        self._table = np.zeros((len(decay), len(AGES)))
        for side, (face, patch) in enumerate(zip(wall.faces, patches, strict=True)):
            if face.heated:
                start = np.array(face.readings[0] - wall.order.ambient_C)
                slopes = np.array([face.slope(bend) for bend in face.times])
                drive = self._modes.drive[:MODES, side]
                self._table += lack(responses[patch], drive, start, np.array(face.times), slopes)

    def heating(self, times: Array) -> Array:
        """Return what every node lacks (rows) at `times` [s after switch-on] while the pads heat."""
        lacking = np.zeros((len(self._wall.stack.depth), len(times)))
        lacking[self._free] = self._modes.shapes[:, :MODES] @ at_age(self._table, times)
        return lacking

    def cooling(self, cool_down: CoolDown, power_off: float) -> Array:
        """Return what every node lacks (rows) at the moments of `cool_down` that begins `power_off` [s].

        What is missing when heat has an age of `power_off` spreads on, and fades as the wall cools with its pads.
        """
        places = np.linspace(0, 1, LATE + 1)
        ages, weights = power_off * places**2, 2 * power_off * places / LATE
        weights[-1] /= 2
        decay = np.exp(-self._modes.decay[:MODES, None] * ages) * weights
        moments = cool_down.moments
        wall = np.zeros((len(self._wall.stack.depth), len(moments)))
        pads = np.zeros((2, len(moments)))
        for side, (face, patch) in enumerate(zip(self._wall.faces, self._patches, strict=True)):
            if not face.heated:
                continue
            given = face.temperatures(power_off - ages) - self._wall.order.ambient_C
            missing = np.interp(ages[:, None] + moments, AGES, self._missing[patch])
            modes = self._modes.drive[:MODES, side, None] * ((decay * given) @ missing)
            wall[self._free] += self._modes.shapes[:, :MODES] @ modes
            pads[side] = given[0] * np.interp(moments, AGES, self._missing[patch])
        return cool_down.fade(cool_down.modes.amplitudes(cool_down.chain(wall, pads)))
