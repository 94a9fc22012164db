"""The same wall by another road: cell-centred finite volumes, the pads as states, scipy's Radau for the time.

Nothing here is shared with the engine but the order.
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import lil_matrix

from mendbook.terms.cure_order import CureOrder

GAS, KELVIN = 8.314462618, 273.15


class Lines:
    """An order as ordinary differential equations. Both faces must have pads with contact resistance."""

    def __init__(self, order: CureOrder, cells_per_mm: float) -> None:
        self.order = order
        counts = [max(6, round(layer.thickness_mm * cells_per_mm)) for layer in order.layers]

        def spread(values: Sequence[float]) -> np.ndarray:
            return np.repeat(np.array(values, dtype=float), counts)

        layers = order.layers
        self.conductivity = spread([layer.material.conductivity_W_mK for layer in layers])
        self.conductivity_per_K = spread([layer.material.conductivity_per_K for layer in layers])
        self.heat_capacity_per_K = spread([layer.material.heat_capacity_per_K for layer in layers])
        self.size = size = spread([layer.thickness_mm / 1e3 / n for layer, n in zip(layers, counts, strict=True)])
        heat = spread([layer.material.density_kg_m3 * layer.material.heat_capacity_J_kgK for layer in layers])
        pads = (order.outside, order.inside)
        self.capacity = size * heat
        self.depth = np.cumsum(size) - size / 2
        self.must = spread([not layer.cured_before for layer in layers]).astype(bool)
        self.slope = spread([1e3 * layer.compound.activation_kJ_mol / GAS for layer in layers if layer.compound])
        self.kelvin = spread([layer.compound.reference_C + KELVIN for layer in layers if layer.compound])
        self.t90 = spread([layer.compound.t90_min * 60 for layer in layers if layer.compound])
        self.reaction = size * spread(
            [
                0 if layer.cured_before or layer.compound is None
                else 1e3 * layer.compound.reaction_heat_kJ_kg * layer.material.density_kg_m3
                for layer in layers
            ]
        )  # fmt: skip
        self.pads = pads

    def pad(self, side: int, time: float) -> float:
        given = self.pads[side]
        start = self.order.ambient_C if given.start_C is None else given.start_C
        return min(given.setpoint_C, start + (given.heating_rate_C_min or 0) / 60 * time)

    def cure_speed(self, wall: np.ndarray) -> np.ndarray:
        return np.asarray(np.exp(-self.slope * (1 / (wall + KELVIN) - 1 / self.kelvin)) / self.t90)

    def flow_between(self, chain: np.ndarray) -> np.ndarray:
        """Return the heat through every face of a cell; half a cell conducts as its own temperature says."""
        half = self.size / 2 / self.conductivity / (1 + self.conductivity_per_K * (chain[1:-1] - 80))
        contact = [pad.contact_resistance_m2K_W for pad in self.pads]
        resistance = np.concatenate([[contact[0] + half[0]], half[1:] + half[:-1], [contact[1] + half[-1]]])
        return np.asarray((chain[:-1] - chain[1:]) / resistance)

    def warming(self, flow: np.ndarray, wall: np.ndarray, cured: np.ndarray) -> np.ndarray:
        """Return [K/s] of each cell; a tenth of the heat of reaction is left at t90, and so on."""
        given = self.reaction * np.log(10) * 10**-cured * self.cure_speed(wall)
        return np.asarray((flow[:-1] - flow[1:] + given) / self.capacity / (1 + self.heat_capacity_per_K * (wall - 80)))

    def heating(self, time: float, state: np.ndarray) -> np.ndarray:
        wall, cured = np.split(state, 2)
        flow = self.flow_between(np.concatenate([[self.pad(0, time)], wall, [self.pad(1, time)]]))
        return np.concatenate([self.warming(flow, wall, cured), self.cure_speed(wall)])

    def cooling(self, _: float, state: np.ndarray) -> np.ndarray:
        cells = len(self.capacity)
        chain, wall, cured = state[: cells + 2], state[1 : cells + 1], state[cells + 2 :]
        flow = self.flow_between(chain)
        loss = [p.loss_W_m2K * (chain[end] - self.order.ambient_C) for p, end in zip(self.pads, (0, -1), strict=True)]
        stored = [p.heat_capacity_kJ_m2K * 1e3 for p in self.pads]
        return np.concatenate(
            [
                [(-flow[0] - loss[0]) / stored[0]],
                self.warming(flow, wall, cured),
                [(flow[-1] - loss[1]) / stored[1]],
                self.cure_speed(wall),
            ]
        )

    def pattern(self, chain: int, first: int) -> lil_matrix:
        """Return where the Jacobian may differ from zero: a chain of temperatures, then the cure of each cell."""
        cells = len(self.capacity)
        found = lil_matrix((chain + cells, chain + cells))
        for shift in (-1, 0, 1):
            found.setdiag(1, shift)
        found[chain - 1, chain] = found[chain, chain - 1] = 0
        found[chain:, chain:] = 0
        found[np.arange(chain, chain + cells), np.arange(first, first + cells)] = 1
        if self.reaction.any():
            found[np.arange(first, first + cells), np.arange(chain, chain + cells)] = 1
        return found

    def heat(self, power_off: float, rtol: float = 1e-7) -> np.ndarray:
        """Return temperatures and cure of all cells after heating for `power_off` [s]."""
        cells = len(self.capacity)
        state = np.concatenate([np.full(cells, self.order.ambient_C), np.zeros(cells)])
        rates = [
            (given.setpoint_C - self.pad(side, 0), given.heating_rate_C_min) for side, given in enumerate(self.pads)
        ]
        bends = [60 * rise / rate for rise, rate in rates if rate]
        stops = [0.0, *sorted({bend for bend in bends if bend < power_off}), power_off]
        for start, end in pairwise(stops):
            solved = solve_ivp(
                self.heating, (start, end), state, method="Radau", rtol=rtol, atol=rtol,
                jac_sparsity=self.pattern(cells, 0), t_eval=[end],
            )  # fmt: skip
            state = solved.y[:, -1]
        return state

    def cool(self, state: np.ndarray, power_off: float, seconds: float, rtol: float = 1e-7) -> np.ndarray:
        """Return pads, temperatures and cure after cooling for `seconds` more."""
        cells = len(self.capacity)
        pads = [self.pad(side, power_off) for side in (0, 1)]
        start = np.concatenate([[pads[0]], state[:cells], [pads[1]], state[cells:]])
        solved = solve_ivp(
            self.cooling, (0, seconds), start, method="Radau", rtol=rtol, atol=rtol,
            jac_sparsity=self.pattern(cells + 2, 1), t_eval=[seconds],
        )  # fmt: skip
        return solved.y[:, -1]


class LoggedLines(Lines):
    """The same wall under pads of any course: pad temperatures in straight lines between given times."""

    def __init__(self, order: CureOrder, cells_per_mm: float, times: np.ndarray, pads: np.ndarray) -> None:
        super().__init__(order, cells_per_mm)
        self.times, self.readings = times, pads

    def pad(self, side: int, time: float) -> float:
        return float(np.interp(time, self.times, self.readings[side]))

    def run(self, at: np.ndarray, rtol: float = 1e-6) -> tuple[np.ndarray, np.ndarray]:
        """Return temperatures and cure of all cells (rows) at the times `at` (columns), from the first of them on."""
        cells = len(self.capacity)
        start = self.order.ambient_C if self.order.tyre_C is None else self.order.tyre_C
        state = np.concatenate([np.full(cells, start), np.zeros(cells)])
        columns = [state[:, None]]
        stops = [at[0], *(bend for bend in self.times if at[0] < bend < at[-1]), at[-1]]
        for a, b in pairwise(stops):
            wanted = at[(at > a) & (at <= b)]
            solved = solve_ivp(
                self.heating, (a, b), state, method="Radau", rtol=rtol, atol=rtol,
                jac_sparsity=self.pattern(cells, 0), t_eval=np.unique([*wanted, b]),
            )  # fmt: skip
            state = solved.y[:, -1]
            columns.append(solved.y[:, : len(wanted)])
        found = np.concatenate(columns, axis=1)
        return found[:cells], found[cells:]

    def at_depth(self, temperatures: np.ndarray, depth_mm: float) -> np.ndarray:
        """Return the course of temperature at a depth, in a straight line between the middles of cells."""
        return np.array([np.interp(depth_mm / 1e3, self.depth, column) for column in temperatures.T])
