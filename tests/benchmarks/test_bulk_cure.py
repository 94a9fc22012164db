"""How many cures a second, against one by one, and how far they are from a fine grid. Run with -m benchmark -s.

On a busy machine the seconds of the processor say more than those of the clock: both are printed.
"""

import resource
from time import perf_counter, process_time

import numpy as np
import pytest

from mendbook.cure import NeverCuredError, compute
from mendbook.cure.bulk import columns_of, compute_columns, compute_many
from mendbook.cure.course import Wall
from mendbook.cure.schedules import plan_courses
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import ScheduleName
from tests.cure.bulk.drawing import draw_orders


def exact_minutes(asked: CureOrder) -> float:
    names: tuple[ScheduleName, ...] = ("safe",)
    if asked.schedule == "economy" and asked.cooling == "still air":
        names = ("economy", "safe")  # economy is followed where it saves
    try:
        return next(iter(plan_courses(Wall(asked, elements=192), names).values())).power_off / 60
    except NeverCuredError:
        return np.nan


@pytest.mark.benchmark
def test_a_thousand_different_cures_take_less_than_a_second() -> None:
    orders = draw_orders(4000, seed=1)
    compute_many(orders[:500])
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    rounds = []
    for _ in range(3):
        clock, busy = perf_counter(), process_time()
        compute_many(orders)
        rounds.append((process_time() - busy, perf_counter() - clock))
    busy, clock = min(rounds)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    start = process_time()
    columns = columns_of(orders)
    reading = process_time() - start

    start = process_time()
    for asked in orders[:200]:
        try:
            compute(asked, beside=False)
        except NeverCuredError:
            continue
    alone = (process_time() - start) / 200
    print(
        f"\n{len(orders)} different orders: {len(orders) / busy:.0f} a second of one processor "
        f"({len(orders) / clock:.0f} by the clock), {alone * len(orders) / busy:.1f} times as fast as one by one "
        f"({alone * 1e3:.2f} ms each); {reading / busy:.0%} of it makes columns; "
        f"memory {before:.0f} -> {memory:.0f} MB"
    )
    assert len(compute_columns(columns)) == len(orders)
    assert len(orders) / busy > 1000
    assert memory - before < 150


@pytest.mark.benchmark
def test_minutes_are_within_their_bounds_of_a_fine_grid() -> None:
    orders = draw_orders(600, seed=5)
    exact = np.array([exact_minutes(asked) for asked in orders])
    found = compute_many(orders).minutes_from_switch_on
    assert np.array_equal(np.isnan(found), np.isnan(exact))
    known = ~np.isnan(exact)
    unrounded = (found[known] - 0.05) / exact[known] - 1
    spread = ", ".join(f"{q:g} %: {100 * np.percentile(unrounded, q):+.3f} %" for q in (0, 1, 50, 99, 100))
    print(f"\nerror of {known.sum()} minutes, but for rounding: {spread}")
    assert (found[known] >= exact[known] * 0.995).all()
    assert (found[known] <= exact[known] * 1.01 + 0.1).all()
