"""A rectangular pad on both faces of a wall of one rubber, in three dimensions: a quarter of half the wall.

Nothing here is of the engine: volumes all round with their faces as resistances, backward differences of second order
in time. Filled rubber, pads at 6 °C/min to 140 °C, 20 °C around, 10 W/(m2 K) lost beside the pad.
"""

import numpy as np
from scipy.sparse import csc_matrix, diags
from scipy.sparse.linalg import splu

CONDUCTIVITY, HEAT = 0.25, 1120 * 1850.0
SETPOINT, AMBIENT, RAMP, CONTACT, BESIDE = 140.0, 20.0, 0.1, 5e-4, 10.0
T90, SLOPE = 720.0, 90e3 / 8.314462618
DEEP, STEPS = 8, 90  # volumes through half the wall; steps of about the time that a wide pad takes


class Block:
    """A quarter of half a wall under a quarter of a pad. Lengths in [m]."""

    def __init__(self, thickness: float, pad: tuple[float, float]) -> None:
        """Lay it out for a wall of `thickness` under a pad of two sides."""
        self.half, self.pad = thickness / 2, (pad[0] / 2, pad[1] / 2)
        self.edges = [self._edges(side) for side in self.pad]

    def _edges(self, side: float) -> np.ndarray:
        """Return the edges of volumes one way: fine near the pad's, which is one of them."""
        inwards = np.concatenate([np.arange(13) / 8, np.arange(2, 40, 0.5)]) * self.half
        inwards = np.append(inwards[inwards < side - self.half / 16], side)
        outwards = np.array([1, 2, 3.5, 5.5, 8.5, 13, 24]) / 8 * self.half
        return np.concatenate([side - inwards[::-1], side + outwards])

    def place_near(self, injury: tuple[float, float]) -> tuple[int, int]:
        """Return the volume that is nearest to the corner of an injury of two sides in the middle of the pad."""
        one, other = (int(abs(middle - side / 2).argmin()) for middle, side in zip(self.middles, injury, strict=True))
        return one, other

    @property
    def middles(self) -> list[np.ndarray]:
        """The middles of the volumes, one array for either way."""
        return [(edges[1:] + edges[:-1]) / 2 for edges in self.edges]

    def slower(self, place: tuple[int, int]) -> float:
        """Return the time in which the middle of the wall at `place` cures over that under a pad without edges."""
        under = (self.middles[0][:, None] < self.pad[0]) & (self.middles[1][None, :] < self.pad[1])
        there = self._cures([np.diff(edges) for edges in self.edges], under, place)
        return there / self._cures([np.ones(1), np.ones(1)], np.ones((1, 1), dtype=bool), (0, 0))

    def _cures(self, across: list[np.ndarray], under: np.ndarray, place: tuple[int, int]) -> float:
        sizes = [np.full(DEEP, self.half / DEEP), *across]
        volume = np.einsum("i,j,k->ijk", *sizes)
        node = np.arange(volume.size).reshape(volume.shape)
        flow = csc_matrix((volume.size, volume.size))
        for way, size in enumerate(sizes):
            first, second = np.delete(node, -1, way).ravel(), np.delete(node, 0, way).ravel()
            wide = size.reshape([-1 if one == way else 1 for one in range(3)])
            area = np.delete(volume / wide, -1, way)
            gap = (np.delete(wide, 0, way) + np.delete(wide, -1, way)) / 2
            link = (CONDUCTIVITY * area / gap).ravel()
            rows, columns = np.concatenate([first, second]), np.concatenate([second, first])
            between = csc_matrix((np.concatenate([link, link]), (rows, columns)), flow.shape)
            flow = flow + diags(np.asarray(between.sum(axis=1)).ravel()) - between
        rubber = sizes[0][0] / 2 / CONDUCTIVITY
        to_pad, to_air = np.zeros(volume.shape), np.zeros(volume.shape)
        to_pad[-1] = np.outer(*across) * np.where(under, 1 / (CONTACT + rubber), 0)
        to_air[-1] = np.outer(*across) * np.where(under, 0, 1 / (1 / BESIDE + rubber))
        pads, air = to_pad.ravel(), to_air.ravel()
        flow, capacity = flow + diags(pads + air), HEAT * volume.ravel()

        ramp = (SETPOINT - AMBIENT) / RAMP
        about = ramp / 2 + 0.85 * self.half**2 * HEAT / CONDUCTIVITY + 1800
        step = ramp / round(ramp * STEPS / about)
        solve = splu((diags(1.5 * capacity) + step * flow).tocsc(), permc_spec="MMD_AT_PLUS_A").solve
        older = now = np.full(volume.size, AMBIENT)
        cured, speed, time = 0.0, 0.0, 0.0
        while cured < 1:
            time += step
            met = pads * min(SETPOINT, AMBIENT + RAMP * time) + air * AMBIENT
            older, now = now, solve(capacity * (2 * now - older / 2) + step * met)
            one, two = now[node[0][place]], now[node[1][place]]
            middle = (9 * one - two) / 8  # a parabola that is level in the middle of the wall
            before, speed = speed, float(np.exp(-SLOPE * (1 / (middle + 273.15) - 1 / 423.15)) / T90)
            gain = (before + speed) / 2 * step
            cured += gain
        return time - step * (cured - 1) / gain
