"""The search for the highest figure that will do."""

from collections.abc import Callable
from math import floor


def highest(fits: Callable[[float], bool], low: float, high: float, step: float, stride: float) -> float | None:
    """Return the highest of `low`, `low + step`, ... up to `high` that fits and whose next one does not.

    It comes down from the top by about `stride` at a time until one fits, then halves what lies above. None when
    none was found. Where all that fits lies below all that does not, that is the highest of all.
    """
    top = floor((high - low) / step + 1e-9)
    rungs = max(1, round(stride / step))
    good, bad = top, top + 1
    while good >= 0 and not fits(low + good * step):
        if good == 0:
            return None
        good, bad = max(good - rungs, 0), good
    if good < 0:
        return None
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if fits(low + middle * step) else (good, middle)
    return low + good * step
