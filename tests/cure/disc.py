"""A round pad on a wide wall in two dimensions: how much later does rubber under the rim of the pad cure?

Depth from the middle (0) to the face (H), radius from the axis outwards; the same on the other half. Nodes across
the depth, cells along the radius so that the pad's edge is a cell's edge. TR-BDF2 in time, one factorisation.
Filled rubber, pads at 6 °C/min to 140 °C, 20 °C around, 10 W/(m2 K) lost beside the pad.
"""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_matrix, diags
from scipy.sparse.linalg import splu

CONDUCTIVITY, HEAT = 0.25, 1120 * 1850.0
SETPOINT, AMBIENT, RAMP = 140.0, 20.0, 0.1
CONTACT, BESIDE = 5e-4, 10.0
ACTIVATION, T90 = 90e3 / 8.314462618, 12.0
DEPTHS, PER_H, STEPS, BEYOND = 20, 12, 160, 4

GAMMA = 2 - np.sqrt(2)


def cure_speed(temperature: np.ndarray) -> np.ndarray:
    return np.exp(-ACTIVATION * (1 / (temperature + 273.15) - 1 / 423.15)) / (60 * T90)


@dataclass(frozen=True)
class Disc:
    """What was found: cure in multiples of t90 by time, depth and radius; radii in H."""

    times: np.ndarray
    cure: np.ndarray
    radii: np.ndarray
    pad: float

    def at(self, time: float) -> np.ndarray:
        """Return the cure of all points at `time`, interpolated in its logarithm."""
        after = int(np.clip(np.searchsorted(self.times, time), 1, len(self.times) - 1))
        share = (time - self.times[after - 1]) / (self.times[after] - self.times[after - 1])
        low, high = (np.log(np.maximum(self.cure[i], 1e-30)) for i in (after - 1, after))
        return np.asarray(np.exp((1 - share) * low + share * high))

    def centre_time(self) -> float:
        """Return when the middle of the wall under the middle of the pad has cured [s]."""
        centre = self.cure[:, 0, 0]
        after = int(np.argmax(centre >= 1))
        low, high = np.log(centre[after - 1]), np.log(centre[after])
        return float(self.times[after - 1] - low / (high - low) * (self.times[after] - self.times[after - 1]))

    def edge(self, share: float = 0.95) -> float:
        """Return how far inside the pad's edge the slowest depth has `share` of the centre's cure [H]."""
        slowest = self.at(self.centre_time()).min(axis=0)
        under = slowest[self.radii < self.pad]
        last = int(np.flatnonzero(under >= share * under[0])[-1])
        part = (under[last] - share * under[0]) / (under[last] - under[last + 1])
        return float(self.pad - self.radii[last] - part * (self.radii[last + 1] - self.radii[last]))


def cure_under_disc(thickness_mm: float, pad: float) -> Disc:
    """Return the cure under a round pad of radius `pad` [half thicknesses] on both faces of a wall."""
    half = thickness_mm / 2e3
    edges = np.arange(round(pad * PER_H) + BEYOND * PER_H + 1) * half / PER_H
    rings = np.diff(edges**2) / 2
    under = len(rings) - BEYOND * PER_H
    depth = half / DEPTHS
    slice_ = np.full(DEPTHS + 1, depth)
    slice_[[0, -1]] /= 2

    node = np.arange((DEPTHS + 1) * len(rings)).reshape(DEPTHS + 1, -1)
    across = np.broadcast_to(CONDUCTIVITY / depth * rings, (DEPTHS, len(rings)))
    along = np.outer(slice_, CONDUCTIVITY * edges[1:-1] / (half / PER_H))
    first = np.concatenate([node[:-1].ravel(), node[:, :-1].ravel()])
    second = np.concatenate([node[1:].ravel(), node[:, 1:].ravel()])
    link = np.concatenate([across.ravel(), along.ravel()])
    flow = csc_matrix(
        (
            np.concatenate([link, link, -link, -link]),
            (np.concatenate([first, second, first, second]), np.concatenate([first, second, second, first])),
        )
    )
    to_pad, to_air = np.zeros(node.size), np.zeros(node.size)
    to_pad[node[-1, :under]] = rings[:under] / CONTACT
    to_air[node[-1, under:]] = rings[under:] * BESIDE
    flow = flow + diags(to_pad + to_air)
    capacity = HEAT * np.outer(slice_, rings).ravel()

    def source(time: float) -> np.ndarray:
        return to_pad * min(SETPOINT, AMBIENT + RAMP * time) + to_air * AMBIENT

    guess = (SETPOINT - AMBIENT) / RAMP / 2 + 0.85 * half**2 * HEAT / CONDUCTIVITY + 1200
    step = guess / STEPS
    solve = splu((diags(capacity) + GAMMA * step / 2 * flow).tocsc()).solve
    a, b, c = 1 / (GAMMA * (2 - GAMMA)), (1 - GAMMA) ** 2 / (GAMMA * (2 - GAMMA)), (1 - GAMMA) / (2 - GAMMA)

    time, temperature = 0.0, np.full(node.size, AMBIENT)
    times, cure = [time], [np.zeros(node.size)]
    speed = cure_speed(temperature)
    while cure[-1][0] < 1.3 and time < 5 * guess:
        between = solve(
            capacity * temperature
            - GAMMA * step / 2 * (flow @ temperature)
            + GAMMA * step / 2 * (source(time) + source(time + GAMMA * step))
        )
        temperature = solve(capacity * (a * between - b * temperature) + c * step * source(time + step))
        before, speed = speed, cure_speed(temperature)
        time += step
        times.append(time)
        cure.append(cure[-1] + (before + speed) / 2 * step)
    radii = (edges[1:] + edges[:-1]) / 2 / half
    return Disc(np.array(times), np.array(cure).reshape(len(times), *node.shape), radii, pad)
