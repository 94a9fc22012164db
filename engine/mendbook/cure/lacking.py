"""What the modes of walls lack near the edge of a pad, for one wall or for many: leading axes are walls.

The missing share of a Gaussian runs straight from one age of heat to the next; the decay of the modes is exact.
"""

from functools import cache
from math import erf

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.schedules import LONGEST

MODES = 12  # heat along the wall is slow: the fast modes have gone before it matters
STEPS = 320  # ages at which the response to heat of that age is tabulated, closer to each other when young
AGES = LONGEST * np.linspace(0, 1, STEPS + 1) ** 3  # [s]


@cache
def _table() -> tuple[Array, Array]:
    places = np.linspace(0, 6, 6001)
    return places, np.array([erf(place) for place in places])


def _erf(values: Array) -> Array:
    """Return the error function, to 1e-7. That of scipy would cost a triage a tenth of a second to load."""
    return np.asarray(np.sign(values) * np.interp(np.abs(values), *_table()))


def missing_share(sides: Array, spread: Array) -> Array:
    """Return the share of a Gaussian round a column that lies outside a heated area.

    sides : [.., 4], distances to its edges [m], two and two opposite
    spread : [.., age], sqrt(4 a t) [m]
    """
    narrow = np.maximum(spread, 1e-9)
    near = [_erf(sides[..., side, None] / narrow) for side in range(4)]
    return np.asarray(1 - (near[0] + near[1]) / 2 * (near[2] + near[3]) / 2)


Response = tuple[Array, Array]  # what each mode lacks at each of AGES after a step of heat, and after a ramp


def lack(response: Response, drive: Array, start: Array, bends: Array, slopes: Array) -> Array:
    """Return what each mode lacks at each of AGES after switch-on, [.., mode, age].

    response : to the heat that one pad gives
    drive : of the modes by that face
    start : of the pad at switch-on, above the shop [K]
    bends, slopes : of its course [s], and from each on [K/s]
    """
    after_step, after_ramp = response
    given = start[..., None, None] * after_step
    slope = np.zeros_like(start)
    for bend in range(bends.shape[-1]):
        since = np.maximum(AGES - bends[..., bend, None], 0.0)
        given = given + (slopes[..., bend] - slope)[..., None, None] * at_age(after_ramp, since)
        slope = slopes[..., bend]
    return np.asarray(drive[..., None] * given)


def at_age(table: Array, ages: Array) -> Array:
    """Return `table` [.., mode, age] at other `ages` [.., moment] in [s]."""
    before = np.minimum(np.searchsorted(AGES[1:], ages), STEPS - 1)
    share = ((ages - AGES[before]) / (AGES[before + 1] - AGES[before]))[..., None, :]
    young = np.take_along_axis(table, before[..., None, :], axis=-1)
    old = np.take_along_axis(table, before[..., None, :] + 1, axis=-1)
    return np.asarray(young * (1 - share) + old * share)


def respond(missing: Array, decay: Array) -> Response:
    """Return what modes of `decay` [1/s] lack: integrals of the share that is `missing` at each of AGES."""
    decay, missing, step = decay[..., None], missing[..., None, :], np.diff(AGES)
    faded = np.maximum(decay * step, 1e-9)
    even = -np.expm1(-faded) / faded
    rising = (even - np.exp(-faded)) / faded
    gains = np.exp(-decay * AGES[:-1]) * step * (missing[..., :-1] * even + np.diff(missing) * rising)
    after_step = _add_up(gains)
    return after_step, _add_up((after_step[..., 1:] + after_step[..., :-1]) / 2 * step)


def _add_up(gains: Array) -> Array:
    return np.concatenate([np.zeros((*gains.shape[:-1], 1)), np.cumsum(gains, axis=-1)], axis=-1)
