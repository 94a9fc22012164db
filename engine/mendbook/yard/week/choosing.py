"""The best choice of jobs within hours at the bench and under the kit, by a solver, and the greedy one beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from mendbook.terms.week import Job

SECONDS = 20.0  # of the solver; it says how far it came
TINY = 1e-9


@dataclass(frozen=True)
class Choice:
    """Which jobs are chosen, what they are worth, and what no choice can exceed."""

    chosen: tuple[bool, ...]
    value: float
    bound: float
    is_proven: bool

    @property
    def gap(self) -> float:
        """The share by which the bound lies above the choice."""
        return max(0.0, self.bound - self.value) / self.bound if self.bound > 0.0 else 0.0


def choose(jobs: Sequence[Job], bench_hours: float, kit_hours: Mapping[str, float]) -> Choice:
    """Return the most valuable choice of `jobs` within `bench_hours` [h] and `kit_hours` [h by kit].

    HiGHS, through scipy.optimize.milp: branch and bound, with a bound that holds whether or not it came to an end.
    """
    values = np.array([job.value for job in jobs])
    if not jobs:
        return Choice((), 0.0, 0.0, True)
    needs, limits = _limits(jobs, bench_hours, kit_hours)
    found = milp(
        -values,
        integrality=np.ones(len(jobs), dtype=np.int64),
        bounds=Bounds(0.0, 1.0),
        constraints=LinearConstraint(needs, -np.inf, limits),
        options={"time_limit": SECONDS, "mip_rel_gap": 0.0},
    )
    greedy = choose_greedily(jobs, bench_hours, kit_hours)
    bound = float(values.sum()) if found.mip_dual_bound is None else -float(found.mip_dual_bound)
    if found.x is None:
        return Choice(greedy, _worth(values, greedy), bound, is_proven=False)
    chosen = tuple(bool(taken > 0.5) for taken in found.x)
    return Choice(chosen, _worth(values, chosen), bound, is_proven=found.status == 0)


def choose_greedily(jobs: Sequence[Job], bench_hours: float, kit_hours: Mapping[str, float]) -> tuple[bool, ...]:
    """Return the choice of a person who goes down the list by value per bench hour and takes what still fits."""
    needs, left = _limits(jobs, bench_hours, kit_hours)
    chosen = [False] * len(jobs)
    for place in sorted(range(len(jobs)), key=lambda place: -jobs[place].value_an_hour):
        if np.all(needs[:, place] <= left + TINY):
            left = left - needs[:, place]
            chosen[place] = True
    return tuple(chosen)


def _limits(
    jobs: Sequence[Job], bench_hours: float, kit_hours: Mapping[str, float]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    rows = [[job.bench_hours for job in jobs]]
    rows += [[job.kit_hours.get(kit, 0.0) for job in jobs] for kit in kit_hours]
    return np.array(rows, dtype=np.float64), np.array([bench_hours, *kit_hours.values()], dtype=np.float64)


def _worth(values: NDArray[np.float64], chosen: Sequence[bool]) -> float:
    return float(values[np.array(chosen, dtype=bool)].sum())
