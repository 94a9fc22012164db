"""The figures that a sum is made of: one number each, or one for each draw."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from mendbook.worth.spread import Array
from mendbook.worth.streams import force_of_interest


@dataclass(frozen=True)
class Figures:
    """What repair, new tyre, retread and casing cost and last. Amounts in one currency, lives in h or km, times in h.

    What is not known and costs money counts as nothing; `given.py` says so of each.
    """

    new_price: Array
    new_life: Array
    tread_ratio: Array
    usable_tread: Array
    repair_price: Array
    early_loss: Array
    mean_life: Array
    fitting: Array
    disposal: Array
    casing_value: Array
    casing_sold_new: Array
    casing_sold_repaired: Array
    casing_sold_now: Array
    failure_cost: Array
    repair_time: Array
    lead_time: Array
    retread_time: Array
    standing_cost: Array
    retread_price: Array
    retread_life: Array
    retread_early_loss: Array
    retread_mean_life: Array
    discount_rate: Array
    use_a_year: Array
    has_spare: bool = True
    is_discounted: bool = False

    @property
    def remaining(self) -> Array:
        """Life that is left on the tread if nothing fails [h or km]."""
        return self.new_life * self.tread_ratio * self.usable_tread

    @property
    def interest(self) -> Array:
        """Force of interest [1/h or 1/km]; nothing where the sum does not look further than a year ahead."""
        if not self.is_discounted:
            return np.zeros_like(self.discount_rate)
        return force_of_interest(self.discount_rate, self.use_a_year)

    def standing(self, time: Array) -> Array:
        """Return what it costs to stand for `time` [h]; nothing while a spare runs."""
        return np.zeros_like(time) if self.has_spare else self.standing_cost * time / 24.0

    def changed(self, **figures: float | Array) -> "Figures":
        """Return these figures with some of them put otherwise."""
        arrays: dict[str, Any] = {name: np.asarray(figure, dtype=np.float64) for name, figure in figures.items()}
        return replace(self, **arrays)

    def without_spare(self) -> "Figures":
        """Return these figures with no spare at hand."""
        return replace(self, has_spare=False)

    @classmethod
    def of(cls, figures: Mapping[str, float | Array], *, has_spare: bool, is_discounted: bool) -> "Figures":
        """Return the figures called so."""
        arrays = {name: np.asarray(figure, dtype=np.float64) for name, figure in figures.items()}
        return cls(**arrays, has_spare=has_spare, is_discounted=is_discounted)
