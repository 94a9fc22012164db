"""The best choice of jobs within hours at the bench and under the kit, by a solver, and the greedy one beside it.

First the same with parts of jobs allowed, which is quick and gives a bound. From its prices of an hour at the bench and
under each kit follows which jobs no best choice can do without, or can have: those are settled, and branch and bound
has the few in between (reduced-cost fixing, as any text on integer programming has it; from memory).
"""

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, OptimizeResult, linprog, milp

from mendbook.terms.week import Job

SECONDS = 20.0  # of the solver; it says how far it came
TINY = 1e-6

Numbers = NDArray[np.float64]
Flags = NDArray[np.bool_]


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

    HiGHS, through scipy.optimize. The bound holds whether or not the solver came to an end.
    """
    if not jobs:
        return Choice((), 0.0, 0.0, is_proven=True)
    values = np.array([job.value for job in jobs])
    needs, limits = _limits(jobs, bench_hours, kit_hours)
    relaxed = linprog(-values, A_ub=needs, b_ub=limits, bounds=(0.0, 1.0), method="highs")
    bound = -float(relaxed.fun or 0.0)
    by_hours, by_price = _fill(values / np.maximum(needs[0], TINY), needs, limits), _rounded(relaxed, needs, limits)
    best = max(by_hours, by_price, key=lambda chosen: float(values[chosen].sum()))
    slack = bound - float(values[best].sum()) + TINY
    is_in, is_out = -relaxed.upper.marginals > slack, relaxed.lower.marginals > slack
    is_open = ~(is_in | is_out)
    found, left_bound, is_proven = _branch(values[is_open], needs[:, is_open], limits - needs[:, is_in].sum(axis=1))
    if found is not None:
        settled = is_in.copy()
        settled[is_open] = found
        if values[settled].sum() > values[best].sum() or is_proven:
            best = settled
    bound = min(bound, float(values[is_in].sum()) + left_bound)
    value = float(values[best].sum())
    return Choice(tuple(best.tolist()), value, max(bound, value), is_proven)


def choose_greedily(jobs: Sequence[Job], bench_hours: float, kit_hours: Mapping[str, float]) -> tuple[bool, ...]:
    """Return the choice of a person who goes down the list by value per bench hour and takes what still fits."""
    if not jobs:
        return ()
    needs, limits = _limits(jobs, bench_hours, kit_hours)
    return tuple(_fill(np.array([job.value_an_hour for job in jobs]), needs, limits).tolist())


def _fill(rates: Numbers, needs: Numbers, limits: Numbers) -> Flags:
    """Return what is taken down the list by `rates`, as long as it fits."""
    chosen, left = np.zeros(len(rates), dtype=bool), limits.copy()
    for place in np.argsort(-rates, kind="stable"):
        if np.all(needs[:, place] <= left + 1e-9):
            left -= needs[:, place]
            chosen[place] = True
    return chosen


def _rounded(relaxed: OptimizeResult, needs: Numbers, limits: Numbers) -> Flags:
    """Return the whole jobs of a choice that has parts, filled up by the share that it took of each."""
    return _fill(np.asarray(relaxed.x), needs, limits)


def _branch(values: Numbers, needs: Numbers, limits: Numbers) -> tuple[Flags | None, float, bool]:
    """Return the best choice among what is open, a bound on it, and whether it is proven to be the best."""
    if not len(values):
        return np.zeros(0, dtype=bool), 0.0, True
    with _silence():
        found = milp(
            -values,
            integrality=np.ones(len(values), dtype=np.int64),
            bounds=Bounds(0.0, 1.0),
            constraints=LinearConstraint(needs, -np.inf, limits),
            options={"time_limit": SECONDS, "mip_rel_gap": 0.0},
        )
    bound = float(values.sum()) if found.mip_dual_bound is None else -float(found.mip_dual_bound)
    return None if found.x is None else np.asarray(found.x) > 0.5, bound, found.status == 0


@contextmanager
def _silence() -> Iterator[None]:
    """Keep what the solver says to itself off standard output, where data may go: now and then it prints a line."""
    sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:  # there is no standard output to keep clean
        yield
        return
    with Path(os.devnull).open("w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        try:
            yield
        finally:
            os.dup2(kept, 1)
            os.close(kept)


def _limits(jobs: Sequence[Job], bench_hours: float, kit_hours: Mapping[str, float]) -> tuple[Numbers, Numbers]:
    rows = [[job.bench_hours for job in jobs]]
    rows += [[job.kit_hours.get(kit, 0.0) for job in jobs] for kit in kit_hours]
    return np.array(rows, dtype=np.float64), np.array([bench_hours, *kit_hours.values()], dtype=np.float64)
