"""How long repairs hold, learnt from follow-ups: by class and zone, with what so few of them can tell.

A repair that still runs, or was removed for another reason, held at least so long (it is censored). That a tyre was
removed is taken to say nothing of its repair; where repairs about to fail are removed, the curve is too good.
"""

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from mendbook.record.entry import Unit
from mendbook.record.outcomes import Outcome

Array = NDArray[Any]

LEVEL = 0.95  # share of intervals that hold what they are about
FEWEST_REPAIRS = 10  # below either, house default, a curve would say more than is known
FEWEST_LOSSES = 3
EARLY: dict[Unit, float] = {"h": 24.0, "km": 500.0}  # the first shifts; house default
ALL_ZONES = ""


@dataclass(frozen=True)
class Interval:
    """A figure and between what it lies, at LEVEL."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Step:
    """The share of repairs that hold beyond `at` [unit of the group].

    at_risk : repairs that were known to run so far; None for low and high where no interval can be told
    """

    at: float
    at_risk: int
    lost: int
    share: float
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Early:
    """How many of the repairs whose first shifts are known were lost in them."""

    before: float
    known: int
    lost: int
    chance: Interval


@dataclass(frozen=True)
class Group:
    """Repairs of one class in one zone, or in all zones together, counted in one unit.

    ran : all of them together [unit]
    curve : Kaplan and Meier's, a step for each failure; empty where they are too few
    median : how long half of them hold [unit]; None where the curve does not come down so far
    mean_life : of those that were not lost early, as if the rate of failing stayed the same [unit]; None as the curve
    """

    klass: str
    zone: str
    unit: Unit
    repairs: int
    lost: int
    ran: float
    early: Early | None
    curve: tuple[Step, ...]
    median: float | None
    mean_life: Interval | None

    @property
    def is_too_few(self) -> bool:
        """True when a curve would say more than is known."""
        return self.repairs < FEWEST_REPAIRS or self.lost < FEWEST_LOSSES

    def at(self, ran: float) -> Step | Literal["beyond"] | None:
        """Return the share that holds `ran` [unit], "beyond" past all that is known, None where too few to say."""
        if self.is_too_few:
            return None
        if ran > self.curve[-1].at:
            return "beyond"
        before = [step for step in self.curve if step.at <= ran]
        return before[-1] if before else Step(0.0, self.repairs, 0, 1.0, None, None)


def learn(outcomes: Sequence[Outcome], early: dict[Unit, float] | None = None) -> list[Group]:
    """Return a group for each class, unit and zone, and one for all zones of a class where it has several.

    early : before what a loss counts as early [unit]; EARLY where it is not given
    """
    limits = EARLY | (early or {})
    kinds = sorted({(one.klass, one.unit) for one in outcomes})
    groups = []
    for klass, unit in kinds:
        same = [one for one in outcomes if (one.klass, one.unit) == (klass, unit)]
        zones = sorted({one.zone for one in same})
        if len(zones) > 1:
            groups.append(_group(klass, ALL_ZONES, unit, same, limits[unit]))
        groups += [_group(klass, zone, unit, [one for one in same if one.zone == zone], limits[unit]) for zone in zones]
    return groups


def _group(klass: str, zone: str, unit: Unit, outcomes: Sequence[Outcome], early: float) -> Group:
    ran = np.array([one.ran for one in outcomes])
    is_lost = np.array([one.is_lost for one in outcomes])
    lost = int(is_lost.sum())
    is_told = len(outcomes) >= FEWEST_REPAIRS and lost >= FEWEST_LOSSES
    curve = kaplan_meier(ran, is_lost) if is_told else ()
    return Group(
        klass=klass,
        zone=zone,
        unit=unit,
        repairs=len(outcomes),
        lost=lost,
        ran=float(ran.sum()),
        early=_early(ran, is_lost, early),
        curve=curve,
        median=next((step.at for step in curve if step.share <= 0.5), None),
        mean_life=_mean_life(ran, is_lost, early) if is_told else None,
    )


def kaplan_meier(ran: Array, is_lost: Array) -> tuple[Step, ...]:
    """Return the steps of the curve: one for each time of failing, and one for the last time anything is known of.

    Intervals are of the logarithm of the logarithm (Greenwood's variance), which keeps them between 0 and 1.
    """
    found = stats.ecdf(stats.CensoredData.right_censored(ran, ~is_lost)).sf
    with warnings.catch_warnings(), np.errstate(divide="ignore", invalid="ignore"):
        warnings.simplefilter("ignore", RuntimeWarning)  # where none can be told, at 0 and 1, the ends become None
        interval: Any = found.confidence_interval(LEVEL, method="log-log")
    steps = []
    ends_of = zip(interval.low.probabilities, interval.high.probabilities, strict=True)
    for at, share, (low, high) in zip(found.quantiles, found.probabilities, ends_of, strict=True):
        lost = int((is_lost & (ran == at)).sum())
        if lost or at == found.quantiles[-1]:
            ends = (float(low), float(high)) if np.isfinite(low) and np.isfinite(high) else (None, None)
            steps.append(Step(float(at), int((ran >= at).sum()), lost, float(share), *ends))
    return tuple(steps)


def _early(ran: Array, is_lost: Array, before: float) -> Early | None:
    is_early = is_lost & (ran <= before)
    lost, known = int(is_early.sum()), int((is_early | (ran >= before)).sum())
    return Early(before, known, lost, jeffreys(lost, known)) if known else None


def jeffreys(lost: int, known: int) -> Interval:
    """Return the chance of a loss by Jeffreys' rule: Beta(lost + 1/2, kept + 1/2); none or all are lost: from 0, to 1.

    Brown, Cai and DasGupta, Interval estimation for a binomial proportion, 2001 (from memory).
    """
    belief = stats.beta(lost + 0.5, known - lost + 0.5)
    low, high = belief.ppf([(1 - LEVEL) / 2, (1 + LEVEL) / 2])
    return Interval(lost / known, 0.0 if lost == 0 else float(low), 1.0 if lost == known else float(high))


def _mean_life(ran: Array, is_lost: Array, before: float) -> Interval | None:
    """Return the mean life after the first shifts: time run over losses, ends by the rate's Gamma(losses + 1/2)."""
    later = ran > before
    lost, time = int((is_lost & later).sum()), float((ran[later] - before).sum())
    if lost < FEWEST_LOSSES:
        return None
    rates = stats.gamma(lost + 0.5).ppf([(1 + LEVEL) / 2, (1 - LEVEL) / 2]) / time
    return Interval(time / lost, float(1 / rates[0]), float(1 / rates[1]))
