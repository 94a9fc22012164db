"""One figure with what is known of its error, and how it is drawn from that."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from mendbook.terms.quantity import Quantity

Array = NDArray[np.float64]
Shape = Literal["exact", "peaked", "even"]


@dataclass(frozen=True)
class Spread:
    """A figure between two ends.

    value : what is reckoned with
    low, high : the ends; both the value itself where it is exact
    shape : "peaked" of a value with its error (a triangle over the ends), "even" of a range (the same everywhere)
    """

    value: float
    low: float
    high: float
    shape: Shape = "exact"

    @classmethod
    def exact(cls, value: float) -> "Spread":
        """Return a figure without error."""
        return cls(value, value, value)

    @classmethod
    def of(cls, written: Quantity) -> "Spread":
        """Return what was `written`, which is not unknown; of a range the middle is reckoned with."""
        if written.low is None or written.high is None or written.low == written.high:
            return cls.exact(_some(written.value if written.value is not None else written.low))
        if written.value is None:
            return cls((written.low + written.high) / 2, written.low, written.high, "even")
        return cls(written.value, written.low, written.high, "peaked")

    @property
    def is_exact(self) -> bool:
        """True when nothing is known of its error."""
        return self.shape == "exact"

    def drawn(self, chance: Array) -> Array:
        """Return the figure below which it lies with each `chance` [0 to 1]."""
        width = self.high - self.low
        if self.is_exact or width <= 0.0:
            return np.full_like(chance, self.value)
        if self.shape == "even":
            return self.low + width * chance
        peak = (self.value - self.low) / width
        rising = np.sqrt(chance * peak)
        falling = 1.0 - np.sqrt((1.0 - chance) * (1.0 - peak))
        return self.low + width * np.where(chance < peak, rising, falling)


def _some(value: float | None) -> float:
    if value is None:
        raise ValueError("an unknown quantity is no figure.")
    return value
