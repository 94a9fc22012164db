"""The answers to many orders, a column each."""
# ruff: noqa: N815 - the name of a field ends in its unit, and units are written with capitals

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from mendbook.cure.arrays import Array, Flags, Indices


@dataclass(frozen=True)
class CureTable:
    """The cures of many orders (rows), rounded as on a cure sheet.

    A row that never cures has a reason, and NaN for every figure but `reached`, target, timer and clamp. A cure that
    is not known, for want of a compound, is NaN, and its flag is true.
    """

    minutes_from_switch_on: Array  # heating [min], rounded up
    timer_starts_at_min: Array  # after switch-on [min], rounded down
    minutes_from_timer: Array  # heating left then [min]
    minutes_to_release: Array  # from power-off [min], rounded up
    safe_minutes: Array  # heating of the safe schedule [min], rounded up, whichever is followed
    economy: Flags  # the schedule followed is the economy one, else the safe one
    target: Array  # as that schedule counts it [multiples of t90]
    slowest_layer: Indices  # 0 is the outermost
    slowest_depth_mm: Array
    slowest_temperature_C: Array  # at power-off
    slowest_peak_C: Array
    reached: Array  # by the slowest point, as the schedule counts it; of what never cures, after 72 h of heating
    layer_least: Array  # [order, layer], cool-down included, as is all cure below [multiples of t90]
    layer_most: Array
    layer_limit: Array
    layer_ok: Flags
    outside: Array
    outside_ok: Flags
    inside: Array
    inside_ok: Flags
    clamp_needed_bar: Array  # against bubbles [bar gauge], rounded up
    clamp_ok: Flags
    reason: NDArray[np.object_]  # why it never cures; '' for what does

    def __len__(self) -> int:
        """Return how many orders there are."""
        return len(self.target)

    @property
    def cures(self) -> Flags:
        """Which orders have a cure time."""
        return np.asarray(self.reason == "")

    def take(self, rows: Indices) -> "CureTable":
        """Return the answers in `rows`."""
        return CureTable(**{field.name: getattr(self, field.name)[rows] for field in fields(self)})

    def put(self, rows: Indices, answers: "CureTable") -> None:
        """Write `answers` into `rows` of a table that is being filled; they may have fewer layers."""
        for field in fields(self):
            part = getattr(answers, field.name)
            column = getattr(self, field.name)
            if part.ndim == 2:
                column[rows, : part.shape[1]] = part
            else:
                column[rows] = part

    def seal(self) -> "CureTable":
        """Return the table, never to be written again."""
        for field in fields(self):
            getattr(self, field.name).flags.writeable = False
        return replace(self)


def blank_table(rows: int, layers: int) -> CureTable:
    """Return a table to be filled."""
    made = {
        "economy": np.zeros(rows, dtype=bool),
        "slowest_layer": np.zeros(rows, dtype=np.int64),
        "reason": np.full(rows, "", dtype=object),
    }
    for field in fields(CureTable):
        if field.name not in made:
            shape = (rows, layers) if field.name.startswith("layer_") else (rows,)
            made[field.name] = np.ones(shape, bool) if field.name.endswith("_ok") else np.full(shape, np.nan)
    return CureTable(**made)
