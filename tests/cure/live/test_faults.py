"""Each fault put into a clean log is found, named, and bent back towards the truth or to the safe side of it."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from mendbook.cure.live import Record, read_state
from mendbook.terms.cure_state import CureState, Fault
from tests.cure.live.logs import RAMP, Truth, alter, channel, cooling, truth, without

SENSORS = (56, 15)
REAL = truth()
LOG = REAL.log(90, 3, SENSORS, every=30.0)


def total(state: CureState) -> float:
    assert state.as_now
    return state.minutes_logged + state.as_now.minutes


def only(state: CureState, kind: str, where: str = "") -> Fault:
    assert {fault.kind for fault in state.faults} == {kind}
    found = [fault for fault in state.faults if where in fault.where]
    assert found
    return found[0]


def held(readings: np.ndarray) -> np.ndarray:
    return np.full_like(readings, readings[0])


def spiked(readings: np.ndarray) -> np.ndarray:
    return np.concatenate([readings[:5], [readings[5] + 45, readings[6] - 30], readings[7:]])


def ramped(by: float) -> Callable[[np.ndarray], np.ndarray]:
    return lambda readings: readings + np.linspace(0, by, len(readings))


@pytest.mark.parametrize(
    ("name", "start", "end", "change", "kind"),
    [
        ("15 mm", 40, 60, held, "stuck"),
        ("56 mm", 70, 90, held, "stuck"),
        ("inside pad", 40, 60, held, "stuck"),
        ("15 mm", 40, 60, spiked, "spike"),
        ("outside pad", 40, 60, spiked, "spike"),
        ("15 mm", 60, 90, lambda x: np.full_like(x, 1372), "impossible reading"),
        ("inside pad", 60, 90, lambda x: np.full_like(x, -200), "impossible reading"),
        ("15 mm", 40, 60, lambda x: np.full_like(x, np.nan), "gap"),
        ("outside pad", 0, 90, lambda x: 1.8 * x + 32, "wrong unit"),
        ("outside pad", 0, 90, lambda x: (x - 32) / 1.8, "wrong unit"),
        ("15 mm", 0, 90, lambda x: 1.8 * x + 32, "wrong unit"),
        ("pressure", 0, 90, lambda x: x / 0.0689476, "wrong unit"),
        ("pressure", 0, 90, lambda x: 100 * x, "wrong unit"),
        ("15 mm", 50, 90, ramped(-12), "drift"),
        ("15 mm", 50, 90, ramped(12), "drift"),
        ("56 mm", 50, 90, ramped(-8), "drift"),
        ("15 mm", 50, 90, lambda x: 0.1 * x + 20, "drift"),  # fallen out of its hole
    ],
)
def test_a_fault_of_one_column_is_found_and_does_not_move_the_answer(
    name: str, start: float, end: float, change: Callable[[np.ndarray], np.ndarray], kind: str
) -> None:
    state = read_state(REAL.book, alter(LOG, name, start, end, change))
    fault = only(state, kind, name)
    assert fault.where == name
    assert fault.readings > 0
    assert fault.from_min == pytest.approx(start, abs=12)
    assert fault.done
    assert total(state) == pytest.approx(REAL.needed_min, rel=0.02)


def test_a_sensor_in_fahrenheit_is_told_early() -> None:
    early = alter(REAL.log(12, 3, SENSORS), "outside pad", 0, 12, lambda x: 1.8 * x + 32)
    only(read_state(REAL.book, early), "wrong unit")


def test_a_pad_that_is_hot_when_the_log_begins_is_no_pad_in_fahrenheit() -> None:
    """Eight minutes in, a pad reads 68 °C, which is what 20 °C is in °F: by and by it must be seen to be right."""
    late = without(LOG, 0, 7.95)
    late = replace(late, times=late.times - late.times[0])
    state = read_state(REAL.book, late)
    only(state, "late start")
    assert total(state) == pytest.approx(REAL.needed_min - 8, rel=0.02)


def test_a_log_that_begins_an_hour_late_counts_none_of_that_hour() -> None:
    late = without(REAL.log(150, 3, SENSORS), 0, 59.95)
    late = replace(late, times=late.times - late.times[0])
    state = read_state(REAL.book, late)
    only(state, "late start")
    assert state.estimate is None
    assert total(state) > REAL.needed_min - 60 + 20


@pytest.mark.parametrize(("one", "other"), [("56 mm", "15 mm")])
def test_swapped_sensors_are_read_the_other_way_round(one: str, other: str) -> None:
    turned = LOG.swap(
        channel(LOG, one).read_as(channel(LOG, other).readings), channel(LOG, other).read_as(channel(LOG, one).readings)
    )
    state = read_state(REAL.book, turned)
    only(state, "swapped")
    assert total(state) == pytest.approx(REAL.needed_min, rel=0.015)


def turned_pads(log: Record) -> Record:
    assert log.outside
    assert log.inside
    return log.swap(log.outside.read_as(log.inside.readings), log.inside.read_as(log.outside.readings))


def test_swapped_pads_are_told_by_their_setpoints() -> None:
    real = truth(inside=((0, 20), (17.5, 125)), setpoints=(140.0, 125.0))
    state = read_state(real.book, turned_pads(real.log(90, 3)))
    only(state, "swapped")


def test_swapped_pads_are_told_by_the_sensors_where_the_setpoints_are_one() -> None:
    real = truth(inside=((0, 20), (40, 120)))
    state = read_state(real.book, turned_pads(real.log(90, 3, SENSORS)))
    assert [fault.where for fault in state.faults if fault.kind == "swapped"] == ["outside pad, inside pad"]
    assert state.estimate
    assert state.estimate.diffusivity_ratio == pytest.approx(0.857, abs=0.03)


def test_a_gap_of_the_log_is_told() -> None:
    state = read_state(REAL.book, without(LOG, 40, 52))
    fault = only(state, "gap")
    assert (fault.from_min, fault.to_min) == (39.5, 52.5)
    assert total(state) == pytest.approx(REAL.needed_min, rel=0.015)


def test_across_a_long_gap_the_lower_end_counts() -> None:
    """Without sensors inside: on the safe side, for nobody saw the pads."""
    whole, torn = REAL.log(90, 3), without(REAL.log(90, 3), 5, 40)
    assert total(read_state(REAL.book, torn)) > total(read_state(REAL.book, whole)) + 10


def test_a_single_sensor_that_drifts_leaves_the_longest_of_the_times() -> None:
    """Drifting cold it could be right, drifting hot it could not: neither may shorten the cure."""
    log = REAL.log(90, 3, (15,))
    for by in (-15, 15):
        state = read_state(REAL.book, alter(log, "15 mm", 50, 90, ramped(by)))
        fault = only(state, "drift")
        assert "No other sensor can say" in fault.done
        assert total(state) > 0.99 * REAL.needed_min


def test_a_wall_far_from_its_order_is_told_and_the_longer_time_counts() -> None:
    real = truth(diffusivity=0.6, minutes=260)
    state = read_state(real.book, real.log(120, 3, (56, 30, 15)))
    only(state, "unusual wall")
    assert total(state) == pytest.approx(real.needed_min, rel=0.02)


@pytest.mark.parametrize(
    ("start", "end", "by", "meaning"),
    [
        (20, 35, -0.9, "bubbles may have formed"),
        (80, 85, -0.4, "It still held down the water"),
    ],
)
def test_a_pressure_drop_is_told_with_what_it_means(start: float, end: float, by: float, meaning: str) -> None:
    state = read_state(REAL.book, alter(LOG, "pressure", start, end, lambda x: x + by))
    fault = only(state, "pressure drop")
    assert f"for {end - start:.0f} min" in fault.said
    assert meaning in fault.done
    assert total(state) == pytest.approx(REAL.needed_min, rel=0.015)


def test_pressure_that_falls_once_all_is_cured_past_half_does_no_harm() -> None:
    late = alter(REAL.log(185, 3, SENSORS), "pressure", 178, 182, lambda x: x - 1)
    fault = only(read_state(REAL.book, late), "pressure drop")
    assert "holds bubbles down by itself" in fault.done


def test_pressure_that_never_came_is_told() -> None:
    state = read_state(REAL.book, alter(LOG, "pressure", 0, 90, lambda x: 0.1 * x))
    assert only(state, "pressure drop").from_min < 20


def test_pressure_may_be_let_go_once_the_clamp_may() -> None:
    off = (*RAMP, *cooling(176, 340))
    real = truth(outside=off, inside=off, minutes=335)
    log = alter(real.log(330, 3, SENSORS), "pressure", 290, 330, lambda x: 0 * x)
    assert read_state(real.book, log).faults == ()
    early = alter(real.log(330, 3, SENSORS), "pressure", 240, 330, lambda x: 0 * x)
    only(read_state(real.book, early), "pressure drop")


def pads_of(outside: tuple[tuple[float, float], ...]) -> tuple[Truth, CureState]:
    real = truth(outside=outside)
    return real, read_state(real.book, real.log(90, 3, SENSORS, every=30.0))


def test_a_pad_that_never_reaches_its_setpoint_is_told() -> None:
    _, state = pads_of(((0, 20), (17, 122)))
    fault = only(state, "pad off setpoint", "outside")
    assert "18 °C below its setpoint" in fault.said


def test_a_pad_that_runs_too_hot_is_told() -> None:
    _, state = pads_of(((0, 20), (25, 155)))
    assert "above its setpoint" in only(state, "pad off setpoint", "outside").said


def test_a_slow_pad_is_told() -> None:
    _, state = pads_of(((0, 20), (48, 140)))
    assert "2.5 °C/min, and 6 were ordered" in only(state, "slow pad", "outside").said


def test_a_pad_that_fails_alone_is_no_power_cut() -> None:
    _, state = pads_of((*RAMP, *cooling(60, 200)))
    assert only(state, "pad failed").where == "outside pad"
    assert state.power_cuts == ()
    assert state.as_now
    assert state.at_setpoint
    assert state.as_now.minutes > state.at_setpoint.minutes


def test_a_pad_that_never_heats_is_told() -> None:
    _, state = pads_of(((0, 20), (90, 20)))
    assert only(state, "pad failed").where == "outside pad"


@pytest.mark.parametrize("missing", ["outside", "inside"])
def test_a_pad_that_is_not_in_the_log_is_never_taken_for_hotter_than_the_other(missing: str) -> None:
    cut = (*RAMP, *cooling(60, 85), (95.0, 140.0))
    real = truth(outside=cut, inside=cut)
    log = replace(real.log(120, 3), **{missing: None})
    state = read_state(real.book, log)
    assert {fault.kind for fault in state.faults} == {"missing sensor", "power cut"}
    whole = read_state(real.book, real.log(120, 3))
    assert total(state) == pytest.approx(total(whole), rel=0.01)
