"""Cure curves with known answers: written out as formulas, with or without scatter."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from mendbook.cure.readings import Readings

Values = NDArray[np.float64]
Formula = Callable[[Values], Values]

GAS = 8.314462618  # J/(mol K)


def readings(formula: Formula, end: float = 30, count: int = 181, noise: float = 0.0, at: float = 150) -> Readings:
    """Return `count` readings of `formula` up to `end` [min], with scatter of `noise` [dN m]."""
    time = np.linspace(0, end, count)
    scatter = noise * np.random.default_rng(7).normal(size=count)
    return Readings(time, formula(time) + scatter, float(at), f"{at:g} °C")


def sigmoid(least: float = 2.4, rise: float = 13.0, half: float = 5.0, power: float = 5.0) -> Formula:
    """Return least + rise x^p/(1 + x^p), x = t/half: t(share) = half (share/(1 - share))^(1/p)."""

    def torque(time: Values) -> Values:
        x = (time / half) ** power
        return np.asarray(least + rise * x / (1 + x))

    return torque


def first_order(rate: float, least: float = 2.4, rise: float = 13.0) -> Formula:
    """Return a first-order cure of `rate` [1/min]: t90 = ln 10 / rate."""
    return lambda time: np.asarray(least + rise * -np.expm1(-rate * time))


def nth_order(rate: float, order: float, least: float = 2.4, rise: float = 13.0) -> Formula:
    """Return a cure of `order` below 1: (1 - share)^(1 - order) = 1 - (1 - order) rate t, over in finite time."""
    rest = 1 - order
    return lambda time: np.asarray(least + rise * (1 - np.maximum(0, 1 - rest * rate * time) ** (1 / rest)))


def rate_at(celsius: float, per_second: float, joules: float) -> float:
    """Return A exp(-Ea/RT) [1/min]."""
    return float(60 * per_second * np.exp(-joules / GAS / (celsius + 273.15)))
