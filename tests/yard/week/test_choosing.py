"""The choice held against every choice there is, and against the list worked down from its top."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.terms.week import Job
from mendbook.yard.week.choosing import choose, choose_greedily


def job(tag: str, value: float, hours: float, **kit: float) -> Job:
    return Job(tag=tag, repairs=("spot",), value=value, labour_hours=hours, watching_hours=0.0, kit_hours=kit)


@st.composite
def benches(draw: st.DrawFn) -> tuple[list[Job], float, dict[str, float]]:
    number = draw(st.integers(0, 9))
    jobs = [
        job(f"T{place}", draw(st.integers(1, 100)), draw(st.integers(1, 20)), pads=draw(st.integers(0, 10)),
            press=draw(st.integers(0, 4)))
        for place in range(number)
    ]  # fmt: skip
    return jobs, draw(st.integers(0, 60)), {"pads": draw(st.integers(0, 25)), "press": draw(st.integers(0, 8))}


def fits(jobs: list[Job], chosen: tuple[bool, ...], hours: float, kit: dict[str, float]) -> bool:
    taken = [one for one, is_chosen in zip(jobs, chosen, strict=True) if is_chosen]
    return sum(one.bench_hours for one in taken) <= hours and all(
        sum(one.kit_hours.get(name, 0.0) for one in taken) <= limit for name, limit in kit.items()
    )


@settings(max_examples=25)
@given(benches())
def test_no_other_choice_is_worth_more(bench: tuple[list[Job], float, dict[str, float]]) -> None:
    jobs, hours, kit = bench
    best = choose(jobs, hours, kit)
    values = [
        sum(one.value for one, is_chosen in zip(jobs, chosen, strict=True) if is_chosen)
        for chosen in product((False, True), repeat=len(jobs))
        if fits(jobs, chosen, hours, kit)
    ]
    greedy = choose_greedily(jobs, hours, kit)
    assert fits(jobs, best.chosen, hours, kit)
    assert fits(jobs, greedy, hours, kit)
    assert best.value == pytest.approx(max(values))
    assert best.is_proven
    assert best.bound == pytest.approx(best.value)
    assert sum(one.value for one, taken in zip(jobs, greedy, strict=True) if taken) <= best.value + 1e-9


def test_the_list_from_its_top_is_not_the_best() -> None:
    jobs = [job("small", 60.0, 5.0), job("large", 100.0, 10.0)]
    assert choose_greedily(jobs, 10.0, {}) == (True, False)
    assert choose(jobs, 10.0, {}).chosen == (False, True)


def test_a_kit_that_is_taken_leaves_a_job_for_another_week() -> None:
    jobs = [job("first", 100.0, 2.0, pads=10.0), job("second", 90.0, 2.0, pads=10.0), job("third", 10.0, 2.0)]
    assert choose(jobs, 40.0, {"pads": 12.0}).chosen == (True, False, True)
    assert choose(jobs, 40.0, {}).chosen == (True, True, True)


def test_a_large_yard_is_chosen_from_within_its_bound() -> None:
    rng = np.random.default_rng(3)
    jobs = [
        job(f"T{place}", float(value), float(hours), pads=float(cure))
        for place, (value, hours, cure) in enumerate(
            zip(rng.gamma(2.0, 800.0, 800), rng.uniform(1.0, 20.0, 800), rng.uniform(0.5, 18.0, 800), strict=True)
        )
    ]
    best = choose(jobs, 60.0, {"pads": 80.0})
    greedy = sum(
        one.value for one, taken in zip(jobs, choose_greedily(jobs, 60.0, {"pads": 80.0}), strict=True) if taken
    )
    assert greedy <= best.value <= best.bound + 1e-6
    assert best.gap < 0.01
