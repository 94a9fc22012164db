"""What comes in over time: hours run until a repair fails, and money that is due later."""

import numpy as np
from scipy.special import exprel

from mendbook.worth.spread import Array


def stream(rate: Array, length: Array) -> Array:
    """Return what a stream of one an hour brings over `length` [h or km] when it fades by `rate` [1/h or 1/km].

    The integral of exp(-rate t) from 0 to `length`: the hours expected under a constant chance of failure, the
    present value under a force of interest, and both at once under their sum. Exact as `rate` goes to nothing.
    """
    return np.asarray(length * exprel(-rate * length), dtype=np.float64)


def present(rate: Array, length: Array) -> Array:
    """Return what one is worth now that is due after `length` [h or km], at a force of interest `rate`."""
    return np.asarray(np.exp(-rate * length), dtype=np.float64)


def force_of_interest(discount_rate: Array, use_a_year: Array) -> Array:
    """Return the force of interest [1/h or 1/km] of a `discount_rate` a year when `use_a_year` [h or km] is run.

    ln(1 + rate) a year: a whole year later, one is worth 1 / (1 + rate), as with yearly periods.
    """
    return np.asarray(np.log1p(discount_rate) / use_a_year, dtype=np.float64)
