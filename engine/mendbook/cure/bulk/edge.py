"""Columns near the edge of the heated areas, of many walls: what `mendbook.cure.edge` does for one."""

from dataclasses import dataclass, fields

import numpy as np

from mendbook.cure.arrays import Array, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.bulk.heating import Heating
from mendbook.cure.lacking import AGES, at_age, lack, missing_share, respond

MODES = 6  # half as many as one wall alone has; the minutes of 800 repairs were the same to the tenth


@dataclass(frozen=True)
class EdgeHeating(Heating):
    """The heating of columns near the edge."""

    lacking: Array  # [wall, mode, age]

    def temperatures(self, rows: Indices, leg: Indices, elapsed: Array) -> Array:
        """Return point temperatures of `rows`; `elapsed` [s] after the bend `leg` has a column a moment."""
        times = self.inputs.bends[rows, leg][:, None] + elapsed
        lacking = self.point_shapes[rows][:, :, :MODES] @ at_age(self.lacking[rows], times)
        return np.asarray(super().temperatures(rows, leg, elapsed) - lacking)


def near_edge(heating: Heating, orders: OrderColumns) -> EdgeHeating:
    """Return the same `heating` of `orders`, of columns at the corner of their injuries."""
    spread = np.sqrt(4 * orders.spread[:, None] * AGES)
    decay = heating.decay[:, :MODES]
    lacking = np.zeros((*decay.shape, len(AGES)))
    for face in range(orders.sides.shape[1]):
        those = np.flatnonzero(orders.heated[:, face])
        if len(those):
            response = respond(missing_share(orders.sides[those, face], spread[those]), decay[those])
            start = heating.inputs.readings[those, 0, face] - orders.ambient[those]
            bends, slopes = heating.inputs.bends[those], heating.inputs.slopes[those, :, face]
            lacking[those] += lack(response, heating.drive[those, :MODES, face], start, bends, slopes)
    of_wall = {field.name: getattr(heating, field.name) for field in fields(Heating)}
    return EdgeHeating(**of_wall, lacking=lacking)
