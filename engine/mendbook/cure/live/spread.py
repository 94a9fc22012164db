"""How sure the minutes still needed are: what the sensors leave open of diffusivity and contact, taken as linear."""

from collections.abc import Callable
from math import exp

import numpy as np

from mendbook.cure.faces import Face
from mendbook.cure.live.estimate import NINETY, Fit
from mendbook.cure.live.forecast import Forecast, forecast
from mendbook.cure.live.history import History, scaled


def spread(
    fitted: Fit, going_on: Forecast, faces: Callable[[History], tuple[Face, Face]]
) -> tuple[float | None, float | None]:
    """Return the heating that 5 % of the cases need less than, and that 5 % need more than [s].

    Each of both ratios is moved by one standard deviation, to the slow side; None where so the cure never ends.
    """
    deviations = np.sqrt(np.diag(fitted.covariance)[:2])
    slopes = []
    for index, step in enumerate(deviations.tolist()):
        slower = [exp(-step), 1.0] if index == 0 else [1.0, exp(step)]
        history = History(scaled(fitted.order, slower[0], slower[1]), fitted.history.pads)
        other = forecast(history, faces(history))
        if other is None:
            return None, None
        slopes.append((other.seconds - going_on.seconds) / (-step if index == 0 else step))
    slope = np.array(slopes)
    deviation = float(np.sqrt(slope @ fitted.covariance[:2, :2] @ slope))
    return max(0.0, going_on.seconds - NINETY * deviation), going_on.seconds + NINETY * deviation
