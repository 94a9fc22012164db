"""Heat flow in a chain of nodes, exact in time: C dT/dt = -K T + B u(t), solved in the chain's own modes.

With u piecewise linear each mode has the closed solution
    y(t) = y0 exp(-z t) + (b u0) p1 + (b du) p2,    p1 = (1 - exp(-z t))/z,    p2 = (t - p1)/z,
so there is no step and no step error: any moment is as good as any other.
"""

import numpy as np

from mendbook.cure.arrays import Array

SMALL = 1e-6  # of z t: below it the series of p1 and p2 are exact to rounding


class Modes:
    """The modes of a chain: eigenvectors of C^-1/2 K C^-1/2, with C diagonal and K tridiagonal."""

    def __init__(self, capacity: Array, links: Array, exchange: Array) -> None:
        """Build them from the chain.

        capacity : of each node [J/(m2 K)], above zero
        links : conductance between neighbours [W/(m2 K)]
        exchange : conductance from each node (rows) to each input (columns) [W/(m2 K)]
        """
        scale = 1 / np.sqrt(capacity)
        diagonal = exchange.sum(axis=1)
        diagonal[:-1] += links
        diagonal[1:] += links
        row = np.arange(1, len(scale))
        operator = np.diag(diagonal * scale**2)
        operator[row, row - 1] = -links * scale[:-1] * scale[1:]  # eigh reads the lower triangle only
        decay, vectors = np.linalg.eigh(operator)
        self.decay: Array = np.maximum(decay, 0.0)  # z of each mode [1/s], slowest first
        self.shapes: Array = vectors * scale[:, None]
        self._weights: Array = (vectors / scale[:, None]).T
        self.drive: Array = self.shapes.T @ exchange

    def amplitudes(self, temperatures: Array) -> Array:
        """Return the amplitude of every mode in a profile of node temperatures."""
        return np.asarray(self._weights @ temperatures)

    def temperatures(self, amplitudes: Array) -> Array:
        """Return node temperatures from amplitudes, one column a moment."""
        return np.asarray(self.shapes @ amplitudes)

    def evolve(self, amplitudes: Array, inputs: Array, slopes: Array, times: Array) -> Array:
        """Return the amplitudes `times` [s] later, one column each, while inputs run on in straight lines."""
        left, first, second = _responses(self.decay[:, None] * times)
        return np.asarray(
            amplitudes[:, None] * left
            + (self.drive @ inputs)[:, None] * (first * times)
            + (self.drive @ slopes)[:, None] * (second * times**2)
        )

    def follow(self, amplitudes: Array, inputs: Array, times: Array) -> Array:
        """Return the amplitudes at all of `times` [s], one column each, from `amplitudes` at the first of them.

        Inputs (rows) run in straight lines between their values at `times` (columns).
        """
        steps = np.diff(times)
        left, first, second = _responses(steps[:, None] * self.decay)
        driven = (self.drive @ inputs).T
        gains = driven[:-1] * (first * steps[:, None]) + np.diff(driven, axis=0) * (second * steps[:, None])
        found = np.empty((len(times), len(self.decay)))
        found[0] = amplitudes
        for step in range(len(steps)):
            found[step + 1] = found[step] * left[step] + gains[step]
        return found.T


def _responses(elapsed: Array) -> tuple[Array, Array, Array]:
    """Return exp(-zt), p1/t and p2/t^2 for `elapsed` zt."""
    near = elapsed < SMALL
    safe = np.where(near, 1.0, elapsed)
    first = np.where(near, 1 - elapsed / 2, -np.expm1(-safe) / safe)
    second = np.where(near, 0.5 - elapsed / 6, (1 - first) / safe)
    return np.exp(-elapsed), first, second
