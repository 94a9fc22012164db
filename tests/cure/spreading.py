"""Exact temperatures under a pad that ends, where the wall beside it is as well coupled as the wall under it.

Then depth and breadth are independent: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., 1.15 (products of
solutions) and 3.11 (slab with radiation at its surfaces), from memory.
"""

from collections.abc import Callable
from math import cos, erfc, exp, pi, sin, sqrt, tan

from scipy.integrate import quad
from scipy.optimize import brentq

TERMS = 30

Inside = Callable[[float], float]


def beside_straight_edge(distance: float) -> Inside:
    """Return the share of a Gaussian of spread sqrt(4 a t) inside a straight edge `distance` [m] away."""
    return lambda spread: erfc(-distance / spread) / 2


def middle_of_round_pad(radius: float) -> Inside:
    """Return the share of the Gaussian within `radius` [m]."""
    return lambda spread: 1 - exp(-((radius / spread) ** 2))


def warmed(depth: float, half: float, film: float, k: float, alpha: float, time: float, inside: Inside,
           along: float | None = None) -> float:  # fmt: skip
    """Return the share of the step of a preheated pad that has arrived at `time` [s]: 0 to 1.

    depth : from the middle of a wall of twice `half` [m]
    film : conductance at both faces, under the pad and beside it [W/(m2 K)]
    alpha, along : diffusivity through the wall and along it [m2/s]
    """
    biot = film * half / k
    # Inside the pad the series of what is still missing converges, beside it that of what has arrived.
    is_inside = inside(1e-9) > 0.5
    total = 0.0
    for n in range(TERMS):
        root = brentq(lambda z: z * tan(z) - biot, n * pi + 1e-12, n * pi + pi / 2 - 1e-12)
        decay = alpha * (root / half) ** 2
        weight = 4 * sin(root) / (2 * root + sin(2 * root)) * cos(root * depth / half)

        # with v = sqrt of age the integrand has no singularity
        def given(v: float, z: float = decay) -> float:
            share = inside(sqrt(4 * (along or alpha)) * max(v, 1e-9))
            return exp(-z * v * v) * (1 - share if is_inside else share) * 2 * v

        end = min(sqrt(time), 6 / sqrt(decay))
        part = decay * quad(given, 0, end, epsabs=1e-13, epsrel=1e-10, limit=200)[0]
        total += weight * (part + exp(-decay * time) if is_inside else part)
    return 1 - total if is_inside else total
