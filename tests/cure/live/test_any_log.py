"""Whatever a logger writes, there is a state and a report: drawn logs with every kind of nonsense in them."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.card.live_report import live_display, live_line, live_report
from mendbook.card.printing import as_text
from mendbook.cure.live import Channel, Record, read_state
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Bend, Pad
from mendbook.terms.cure_state import CureState
from tests.cure.walls import INSULATED, beside, fill, ideal, order, pad, step, through

PROGRAMME = Pad(
    programme=tuple(
        Bend(at_min=at, temperature_C=value) for at, value in ((0, 20), (15, 120), (60, 120), (80, 145), (200, 110))
    )
)
ORDERS = [
    order(through(60), pad()),
    order(through(30), step()),
    order(through(60), ideal()),
    order((fill(40),), pad(), INSULATED),
    order((fill(40),), pad(), Pad(present=False)),
    order(through(60), PROGRAMME),
    order(through(60), pad(), schedule="economy"),
    order(beside(80), pad(), cooling="fan"),
    order(through(20), pad(), schedule="economy", ambient_C=-10, release_C=60, altitude_m=3000),
]


def column(name: str, times: np.ndarray, chance: np.random.Generator, depth: float | None = None) -> Channel:
    """Return a pad or sensor that warms up, may cool down again, and may be out of its mind."""
    course = np.minimum(20 + chance.choice([2, 6, 20]) / 60 * times, chance.choice([90, 140, 150]))
    if chance.random() < 0.5:
        off = times[-1] * chance.random()
        course = np.where(times > off, 20 + (course - 20) * np.exp(-(times - off).clip(0) / 3000), course)
    readings = course + chance.normal(0, chance.choice([0, 0.5, 3, 20]), len(times))
    count = len(times)
    match int(chance.integers(12)):
        case 0:
            readings = 1.8 * readings + 32
        case 1:
            readings[chance.random(count) < 0.3] = np.nan
        case 2:
            readings[:] = np.nan
        case 3:
            readings[:] = chance.choice([0, 1372, -999, 50])
        case 4:
            readings[count // 3 :] = readings[count // 3]
        case 5:
            readings = chance.normal(0, 500, count)
    return Channel(name, readings, depth)


def check_state(
    wanted: CureOrder, seed: int, count: int, every: float, has_inside: bool, has_pressure: bool, torn: bool
) -> None:
    chance = np.random.default_rng(seed)
    times = np.cumsum(np.concatenate([[0], chance.uniform(0.5, 1.5, count - 1) * every]))
    if torn:
        times[count // 2 + 1 :] += chance.uniform(0, 20_000)
    thickness = sum(layer.thickness_mm for layer in wanted.layers) / 1e3
    record = Record(
        times,
        column("outside", times, chance),
        column("inside", times, chance) if has_inside else None,
        tuple(
            column(f"sensor {place}", times, chance, float(chance.choice([0, 1, chance.random()])) * thickness)
            for place in range(chance.integers(4))
        ),
        column("pressure", times, chance) if has_pressure else None,
    )
    state = read_state(wanted, record)
    assert CureState.model_validate_json(state.model_dump_json()) == state
    assert not state.may_release or state.hottest_C <= wanted.release_C
    assert all(np.isfinite([depth.cure for depth in state.depths]))
    for width in (40, 100):
        assert as_text(live_report(state, width), width)
        assert as_text(live_display(state, width, "told"), width)
    assert "\n" not in live_line(state)


drawn = given(
    wanted=st.sampled_from(ORDERS),
    seed=st.integers(0, 10**6),
    count=st.sampled_from([1, 2, 3, 5, 8, 20, 120]),
    every=st.sampled_from([1.0, 5.0, 30.0, 60.0, 300.0]),
    has_inside=st.booleans(),
    has_pressure=st.booleans(),
    torn=st.booleans(),
)


@settings(max_examples=12, deadline=None)
@drawn
def test_there_is_always_a_state(**log: Any) -> None:
    check_state(**log)


@pytest.mark.long
@settings(max_examples=300, deadline=None)
@drawn
def test_there_is_always_a_state_long(**log: Any) -> None:
    check_state(**log)
