"""A running cure against a truth worked out by lines: other properties than ordered, noise on every sensor."""

from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mendbook.cure import compute
from mendbook.cure.live import Record, read_state
from mendbook.cure.live.history import History, Pads
from mendbook.terms.cure_pad import Area
from mendbook.terms.cure_state import CureState
from tests.cure.lines import LoggedLines
from tests.cure.live.logs import RAMP, Truth, cooling, truth
from tests.cure.walls import order, pad, through

SENSORS = (56, 15)  # mm: at the edge of the reinforcement, and a quarter deep
CUT = (*RAMP, *cooling(60, 85), (95.0, 140.0))
OFF = (*RAMP, *cooling(176, 340))


def state_at(real: Truth, minutes: float, seed: int = 1, depths: tuple[float, ...] = SENSORS) -> CureState:
    return read_state(real.book, real.log(minutes, seed, depths))


def total(state: CureState) -> float:
    assert state.as_now
    return state.minutes_logged + state.as_now.minutes


def test_cure_under_logged_pads_is_that_of_the_lines() -> None:
    """Another grid and another way through time; second order in space, so a tenth of a per cent is left."""
    book = order(through(60), pad())
    times = np.array([0, 1200, 4000, 4600, 5000, 9000], dtype=float)
    pads = np.array([[20, 140, 140, 90, 140, 140], [20, 130, 145, 100, 120, 140]], dtype=float)
    fine = np.arange(0, 9001, 20.0)
    rows = np.array([np.interp(fine, times, row) for row in pads])
    ours = History(book, Pads(fine, rows))
    lines = LoggedLines(book, 2.0, times, pads)
    temperatures, cure = lines.run(np.array([0.0, 9000.0]))
    for depth in (5, 15, 30, 45, 57):
        assert ours.at_depth(depth / 1e3, np.array([9000.0]))[0] == pytest.approx(
            lines.at_depth(temperatures, depth)[-1], abs=0.05
        )
    assert ours.least_cure() == pytest.approx(cure[lines.must, -1].min(), rel=3e-3)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_minutes_still_needed_converge(seed: int) -> None:
    """By the order alone the cure would be a tenth short; the sensors find that out in three quarters of an hour."""
    real = truth()
    needed = real.needed_min
    alone = total(state_at(real, 45, seed, ()))
    assert alone < 0.91 * needed
    assert total(state_at(real, 30, seed)) == pytest.approx(needed, rel=0.04)
    for minutes in (45, 60, 90, 150):
        assert total(state_at(real, minutes, seed)) == pytest.approx(needed, rel=0.015)


@pytest.mark.parametrize("minutes", [15, 30, 45, 60, 120])
def test_the_truth_lies_within_the_posterior(minutes: float) -> None:
    real = truth()
    inside = 0
    for seed in range(8):
        state = state_at(real, minutes, seed)
        assert state.estimate
        off = (state.estimate.diffusivity_ratio - 0.857) / state.estimate.diffusivity_sd
        assert abs(off) < 3
        assert state.estimate.contact_low < 2.0 < state.estimate.contact_high
        assert state.as_now
        assert state.as_now.low is not None
        assert state.as_now.high is not None
        inside += state.as_now.low <= real.needed_min - minutes <= state.as_now.high
    assert inside >= 6  # of 8, where 7.2 are expected


def test_a_sensor_narrows_the_band_as_time_goes_on() -> None:
    widths = [
        now.high - now.low
        for minutes in (5, 15, 30, 45, 90)
        if (now := state_at(truth(), minutes).as_now) and now.low is not None and now.high is not None
    ]
    assert len(widths) == 5
    assert widths == sorted(widths, reverse=True)


def test_without_sensors_inside_nothing_is_told_of_the_wall() -> None:
    state = state_at(truth(), 90, depths=())
    assert state.estimate is None
    assert state.as_now
    assert state.as_now.low is None
    assert any("No sensor inside" in note for note in state.notes)


def test_a_power_cut_is_told_with_what_it_costs() -> None:
    kept, cut = truth(), truth(outside=CUT, inside=CUT)
    for minutes in (75, 84):
        during = state_at(cut, minutes)
        assert during.phase == "power cut"
        assert during.as_now is None
        assert during.at_setpoint
        assert not during.may_release
    after = state_at(cut, 120)
    assert after.phase == "heating"
    [told] = after.power_cuts
    assert told.from_min == pytest.approx(60, abs=3)
    assert told.to_min == pytest.approx(92, abs=3)
    assert told.costs_min == pytest.approx(cut.needed_min - kept.needed_min, abs=1)
    assert total(after) == pytest.approx(cut.needed_min, rel=0.015)
    assert [fault.kind for fault in after.faults] == ["power cut"]


def test_release_waits_for_the_hottest_point_of_the_truth() -> None:
    real = truth(outside=OFF, inside=OFF, minutes=335)
    hottest = real.temperatures.max(axis=0)
    # When the truth falls below 100 °C for good [min].
    cool = real.times[np.flatnonzero(hottest > 100)[-1]] / 60
    cooling_down = state_at(real, 220)
    assert cooling_down.phase == "cooling"
    assert cooling_down.faults == ()
    assert cooling_down.minutes_to_release is not None
    for minutes in (200.0, 240.0, cool - 3):
        assert not state_at(real, minutes).may_release
    for minutes in (cool + 3, 330):
        ready = state_at(real, minutes)
        assert ready.may_release
        assert ready.phase == "ready"


def test_a_cure_that_was_cut_short_is_never_released() -> None:
    early = (*RAMP, *cooling(90, 340))
    state = state_at(truth(outside=early, inside=early, minutes=300), 300)
    assert state.hottest_C < 90
    assert state.phase == "power cut"
    assert not state.may_release
    assert "Or it was switched off before it was due" in state.faults[0].said


def test_the_economy_schedule_switches_off_sooner() -> None:
    safe, economy = (state_at(truth(schedule=name), 90) for name in ("safe", "economy"))
    assert economy.schedule == "economy"
    assert economy.target == 1.25
    assert total(economy) < 0.9 * total(safe)


def test_pads_that_end_near_the_edge_take_longer() -> None:
    """The factor of the sheet holds for the whole of the heating, not for what is left of it."""
    real = truth()
    heated = real.book.outside.model_copy(update={"heated": Area(length_mm=330, width_mm=260)})
    narrow = real.book.model_copy(
        update={"outside": heated, "inside": heated, "injury": Area(length_mm=200, width_mm=120)}
    )
    sheet = compute(narrow)
    assert sheet.reach
    assert sheet.reach.factor > 1.01
    log = real.log(90, depths=SENSORS)
    wide, edge = read_state(real.book, log), read_state(narrow, log)
    assert total(edge) == pytest.approx(sheet.reach.factor * total(wide), rel=2e-3)
    assert any("the edge of the injury" in note for note in edge.notes)
    done = read_state(narrow, real.log(total(wide) + 0.5, depths=SENSORS))
    assert total(done) == pytest.approx(total(edge), rel=0.015)


def test_what_changes_with_temperature_is_left_out_and_told() -> None:
    real = truth()
    first, *rest = real.book.layers
    warmer = first.model_copy(update={"material": first.material.model_copy(update={"heat_capacity_per_K": 0.002})})
    varied = real.book.model_copy(update={"layers": (warmer, *rest)})
    log = real.log(60, depths=SENSORS)
    assert total(read_state(varied, log)) == total(read_state(real.book, log))
    assert any("change with temperature are left out" in note for note in read_state(varied, log).notes)


def test_one_line_is_enough_to_begin_with() -> None:
    state = read_state(truth().book, truth().log(0, depths=SENSORS))
    assert state.phase == "waiting"
    assert state.minutes_logged == 0
    assert state.faults == ()


def test_a_coarse_log_gives_the_same_answer() -> None:
    real = truth()
    fine, coarse = (read_state(real.book, real.log(90, depths=SENSORS, every=every)) for every in (10.0, 120.0))
    assert total(coarse) == pytest.approx(total(fine), rel=0.015)


CLEAN = {
    "60 mm": truth(),
    "a good wall, 30 mm": truth(30, minutes=85, diffusivity=1.1, contact=0.5),
    "100 mm": truth(100, minutes=340, diffusivity=0.9, contact=1.0),
    "cooling": truth(outside=OFF, inside=OFF, minutes=335),
    "unequal pads": truth(inside=((0, 20), (18.33, 130)), setpoints=(140.0, 130.0)),
}


def check_clean(name: str, share: float, seed: int, every: float, noisy: bool) -> None:
    real = CLEAN[name]
    thickness = sum(layer.thickness_mm for layer in real.book.layers)
    record: Record = real.log(
        share * float(real.times[-1]) / 60, seed, (thickness - 4, thickness / 4), noisy=noisy, every=every
    )
    assert read_state(real.book, record).faults == ()


clean = given(
    name=st.sampled_from(list(CLEAN)),
    share=st.floats(0.0, 1.0),
    seed=st.integers(0, 10_000),
    every=st.sampled_from([10.0, 30.0, 60.0]),
    noisy=st.booleans(),
)


@settings(max_examples=25, deadline=None)
@example(name="cooling", share=1.0, seed=1315, every=10.0, noisy=True)  # a pad that flickers as it falls
@example(name="cooling", share=0.545, seed=0, every=60.0, noisy=True)  # one pad has fallen further than the other
@clean
def test_nothing_is_found_in_a_clean_log(**log: Any) -> None:
    check_clean(**log)


@pytest.mark.long
@settings(max_examples=600, deadline=None)
@clean
def test_nothing_is_found_in_a_clean_log_long(**log: Any) -> None:
    check_clean(**log)
