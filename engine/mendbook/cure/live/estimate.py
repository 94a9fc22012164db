"""Diffusivity and contact told from interior sensors: Gauss-Newton with priors.

Minimised is  sum ((reading - model) / sd)^2 + sum (parameter / sd of its prior)^2  over the logarithms of the two
ratios and the depth error of every sensor; the posterior is taken as normal about the minimum.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import exp, log

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.live.history import History, Pads, scaled
from mendbook.cure.live.record import Channel, noise
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_state import Estimate

DIFFUSIVITY_SD = 0.10  # of the logarithm; from memory
CONTACT_SD = log(2)
DEPTH_SD = 0.5e-3  # m; how well the depth of a sensor is known; house default
MINUTE = 60.0  # s; readings are averaged over so long: what the model gets wrong does not change faster
MODEL_SD = 0.3  # K; of a minute's mean, for what the model leaves out; house default
NOISE = 0.3  # K; at least, of a reading
NINETY = 1.645  # standard deviations: 5 % of a normal scatter lie beyond on each side
STEP = 0.02  # of a logarithm, for slopes
ROUNDS = 6
CLOSE = 1e-3  # of a logarithm: a tenth of a per cent, hardly a fifth of what is known in the end


@dataclass(frozen=True)
class Block:
    """The readings of one sensor as means over a minute."""

    name: str
    depth: float  # [m]
    times: Array  # [s]
    means: Array  # [°C]
    sd: Array  # [K]


@dataclass(frozen=True)
class Fit:
    """What the sensors tell. Parameters: ln of diffusivity ratio, ln of contact ratio, depth errors [m]."""

    order: CureOrder  # as scaled
    history: History
    blocks: tuple[Block, ...]
    parameters: Array = field(default_factory=lambda: np.zeros(2))
    covariance: Array = field(default_factory=lambda: np.diag([DIFFUSIVITY_SD**2, CONTACT_SD**2]))
    cost: float = 0.0

    @property
    def diffusivity(self) -> float:
        """Ratio to that of the order."""
        return exp(self.parameters[0])

    @property
    def contact(self) -> float:
        """Ratio to that of the order."""
        return exp(self.parameters[1])

    def residuals(self, block: Block) -> Array:
        """Return the minute's means of one sensor less the model, its depth as told [K]."""
        return np.asarray(block.means - self.history.at_depth(block.depth, block.times))

    @property
    def most_shifted(self) -> float:
        """The largest depth error told [standard deviations of what is expected]."""
        return float(np.abs(self.parameters[2:]).max(initial=0.0)) / DEPTH_SD

    @property
    def misfit(self) -> float:
        """Root mean square of the residuals [K]; 0 without sensors."""
        if not self.blocks:
            return 0.0
        return float(np.sqrt(np.mean(np.concatenate([self.residuals(block) for block in self.blocks]) ** 2)))


def blocks_of(times: Array, sensors: Sequence[Channel]) -> tuple[Block, ...]:
    """Return the readings of `sensors` as means over a minute; sensors without a reading are left out."""
    found = []
    for sensor in sensors:
        known = sensor.known
        if sensor.depth is None or not known.any():
            continue
        bins = np.floor(times[known] / MINUTE).astype(int)
        bins -= bins[0]
        counts = np.bincount(bins)
        filled = counts > 0
        n = counts[filled]
        when = np.bincount(bins, weights=times[known])[filled] / n
        means = np.bincount(bins, weights=sensor.readings[known])[filled] / n
        single = max(NOISE, noise(sensor.readings[known]))
        found.append(Block(sensor.name, sensor.depth, when, means, np.sqrt(single**2 / n + MODEL_SD**2)))
    return tuple(found)


def fit(order: CureOrder, pads: Pads, blocks: tuple[Block, ...]) -> Fit:
    """Return what `blocks` tell of the wall of `order` under `pads`; without blocks, the order as it is."""
    if not blocks:
        return Fit(order, History(order, pads), ())
    prior = np.array([DIFFUSIVITY_SD, CONTACT_SD, *([DEPTH_SD] * len(blocks))])
    parameters = np.zeros(len(prior))
    seen = _look(order, pads, blocks, parameters)
    covariance = np.diag(prior**2)
    for _ in range(ROUNDS):
        slopes = _slopes(order, pads, blocks, parameters, seen)
        information = slopes.T @ slopes + np.diag(prior**-2)
        covariance = np.linalg.inv(information)
        change = covariance @ (slopes.T @ seen.misfit - parameters / prior**2)
        change[:2] = np.clip(change[:2], -1.0, 1.0)
        parameters = parameters + change
        seen = _look(order, pads, blocks, parameters)
        if np.abs(change[:2]).max() < CLOSE:
            break
    cost = float(seen.misfit @ seen.misfit + np.sum((parameters / prior) ** 2))
    placed = tuple(
        Block(block.name, block.depth + shift, block.times, block.means, block.sd)
        for block, shift in zip(blocks, parameters[2:], strict=True)
    )
    return Fit(seen.history.order, seen.history, placed, parameters, covariance, cost)


def tell(fitted: Fit) -> Estimate | None:
    """Return what a fit tells, as a state says it; None where nothing was told."""
    if not fitted.blocks:
        return None
    spread = NINETY * float(np.sqrt(fitted.covariance[1, 1]))
    return Estimate(
        diffusivity_ratio=round(fitted.diffusivity, 3),
        diffusivity_sd=round(fitted.diffusivity * float(np.sqrt(fitted.covariance[0, 0])), 3),
        contact_ratio=round(fitted.contact, 2),
        contact_low=round(fitted.contact * exp(-spread), 2),
        contact_high=round(fitted.contact * exp(spread), 2),
        sensors=tuple(block.name for block in fitted.blocks),
        misfit_K=round(fitted.misfit, 2),
    )


@dataclass(frozen=True)
class _Look:
    history: History
    misfit: Array  # readings less model, in standard deviations


def _look(order: CureOrder, pads: Pads, blocks: tuple[Block, ...], parameters: Array) -> _Look:
    history = History(scaled(order, exp(parameters[0]), exp(parameters[1])), pads)
    shifts = parameters[2:]
    misfit = [
        (block.means - history.at_depth(block.depth + shift, block.times)) / block.sd
        for block, shift in zip(blocks, shifts, strict=True)
    ]
    return _Look(history, np.concatenate(misfit))


def _slopes(order: CureOrder, pads: Pads, blocks: tuple[Block, ...], parameters: Array, seen: _Look) -> Array:
    """Return how the model changes with each parameter, in standard deviations of the readings (rows)."""
    columns = []
    for index in (0, 1):
        moved = parameters.copy()
        moved[index] += STEP
        columns.append((seen.misfit - _look(order, pads, blocks, moved).misfit) / STEP)
    first = 0
    for block, shift in zip(blocks, parameters[2:], strict=True):
        beyond, before = (seen.history.at_depth(block.depth + shift + step, block.times) for step in (5e-4, -5e-4))
        column = np.zeros(len(seen.misfit))
        column[first : first + len(block.times)] = (beyond - before) / 1e-3 / block.sd
        first += len(block.times)
        columns.append(column)
    return np.stack(columns, axis=1)
