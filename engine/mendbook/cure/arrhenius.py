"""From t90 at one or more temperatures to t90 at one, with its activation energy: ln t90 against 1/T.

Arrhenius; ISO 11346 gives the method (formula from memory). The line is that of least squares, every curve alike.
"""

from collections.abc import Sequence
from math import exp, log, sqrt

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.kinetics import GAS_CONSTANT, KELVIN
from mendbook.terms.cure_curve import How, Kinetics

THERMOMETER = 0.3  # K; what ISO 6502 allows a die to be off, from memory
KILO = 1e3


def fit(cured: Sequence[tuple[float, float]], activation_kJ_mol: float) -> Kinetics:
    """Return the kinetics behind pairs of temperature [°C] and t90 [min], at the lowest temperature among them.

    At one temperature the activation energy is the one given [kJ/mol], and t90 the geometric mean. Two curves give
    the line exactly; more give it by least squares, with standard errors. Raises ValueError when there is no pair.
    """
    if not cured:
        raise ValueError("there is no curve. Give at least one.")
    reference = min(temperature for temperature, _ in cured)
    kelvin = np.array([temperature for temperature, _ in cured]) + KELVIN
    place = 1 / kelvin - 1 / (reference + KELVIN)  # 1/K
    level = np.array([log(t90) for _, t90 in cured])
    centred = place - place.mean()
    spread = float(centred @ centred)
    free = len(cured) - 2
    how: How
    if spread == 0:
        slope, how = activation_kJ_mol * KILO / GAS_CONSTANT, "given"
    else:
        slope, how = float(centred @ level) / spread, "least squares" if free else "two curves"
    start = float(level.mean() - slope * place.mean())
    off = level - start - slope * place
    slope_error = start_error = None
    if spread and free:
        scatter = sqrt(float(off @ off) / free)
        slope_error = scatter / sqrt(spread)
        start_error = scatter * sqrt(1 / len(cured) + float(place.mean()) ** 2 / spread)
    activation = slope * GAS_CONSTANT / KILO
    return Kinetics(
        t90_min=round(exp(start), 4),
        t90_error_min=None if start_error is None else round(exp(start) * start_error, 4),
        reference_C=reference,
        activation_kJ_mol=round(activation, 4),
        activation_error_kJ_mol=None if slope_error is None else round(slope_error * GAS_CONSTANT / KILO, 4),
        thermometer_error_kJ_mol=None if spread == 0 else round(_thermometer_error(kelvin, activation), 4),
        how=how,
        residuals=tuple(round(exp(one) - 1, 5) for one in off.tolist()),
    )


def _thermometer_error(kelvin: Array, activation: float) -> float:
    """Return the error of the activation energy [kJ/mol] when each temperature is off by 0.3 K, one by one."""
    centred = 1 / kelvin - (1 / kelvin).mean()
    each = activation * KILO / GAS_CONSTANT / kelvin**2 * THERMOMETER  # of ln t90
    slope = sqrt(float(centred**2 @ each**2)) / float(centred @ centred)
    return slope * GAS_CONSTANT / KILO
