"""Closed solutions of heat conduction, written out independently of the engine.

Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., sections 3.3-3.4 and 3.10-3.11 (formulae from memory).
Distances are in half thicknesses from the middle, times in Fourier numbers of the half thickness.
"""

import numpy as np
from scipy.optimize import brentq

TERMS = 200


def step_share(place: float, fourier: float) -> float:
    """Return (T - Ts) / (T0 - Ts) in a slab whose faces are suddenly held at Ts."""
    n = np.arange(TERMS)
    root = (2 * n + 1) * np.pi / 2
    return float(np.sum(2 * (-1.0) ** n / root * np.cos(root * place) * np.exp(-(root**2) * fourier)))


def mean_share(fourier: float) -> float:
    """Return the same, averaged over the slab."""
    root = (2 * np.arange(TERMS) + 1) * np.pi / 2
    return float(np.sum(2 / root**2 * np.exp(-(root**2) * fourier)))


def contact_roots(biot: float, count: int = 60) -> np.ndarray:
    """Return the roots of z tan z = Bi."""
    return np.array(
        [
            brentq(lambda z: z * np.sin(z) - biot * np.cos(z), n * np.pi, n * np.pi + np.pi / 2, xtol=1e-14)
            for n in range(count)
        ]
    )


def contact_share(place: float, fourier: float, biot: float) -> float:
    """Return (T - Ts) / (T0 - Ts) in a slab that meets Ts through a resistance."""
    root = contact_roots(biot)
    weight = 4 * np.sin(root) / (2 * root + np.sin(2 * root))
    return float(np.sum(weight * np.cos(root * place) * np.exp(-(root**2) * fourier)))


def ramp_lag(place: float, fourier: float) -> float:
    """Return how far the slab lags behind faces that rise by 1 per unit of Fourier number (Duhamel)."""
    n = np.arange(TERMS)
    root = (2 * n + 1) * np.pi / 2
    return float(np.sum(2 * (-1.0) ** n / root**3 * np.cos(root * place) * (1 - np.exp(-(root**2) * fourier))))
