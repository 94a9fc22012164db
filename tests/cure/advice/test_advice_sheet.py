"""Advice as a whole: of any order, the same every time, and with the last word left to others."""

from typing import Any

import pytest

from mendbook.cure import NeverCuredError, PadTooSmallError, compute
from mendbook.cure.advice import advise
from mendbook.terms.cure_advice import Advice
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Area, Pad
from tests.cure.walls import INSULATED, beside, fill, order, pad, step, through, varied

BENDS: Any = [{"at_min": 0, "temperature_C": 20}, {"at_min": 20, "temperature_C": 140}]
PROGRAMMED = Pad(programme=BENDS)


def test_a_usual_order_gets_all_of_it() -> None:
    wanted = order(through(80), pad(), clamp_bar=2.7)
    advice, sheet = advise(wanted), compute(wanted)
    assert advice.schedule == sheet.schedule
    assert advice.minutes_from_switch_on == sheet.minutes_from_switch_on
    assert advice.minutes_from_timer == sheet.minutes_from_timer
    assert advice.highest is not None
    assert advice.quickest_pair is not None
    assert advice.stages is not None
    assert len(advice.sparing) == len(advice.longest) == 2
    assert len(advice.what_ifs) == 13
    assert advice.left_out == ()
    assert "Local codes" in advice.caution
    assert "makers" in advice.caution
    assert "win over it" in advice.caution


@pytest.mark.parametrize(
    ("wanted", "left_out"),
    [
        (order(beside(60), pad(), schedule="economy"), []),
        (order(through(60), step(), cooling="water"), []),
        (order(through(60), pad(130, 3), step(150)), []),
        (order(through(40), PROGRAMMED), ["Other setpoints"]),
        (order((fill(30),), pad(), INSULATED, water_activity=0), ["Two setpoints", "Two stages"]),
        (order((fill(30),), INSULATED, PROGRAMMED, altitude_m=3000), ["Other", "Two setpoints", "Two stages"]),
        (order((fill(2),), pad(165), ambient_C=40, release_C=45), ["Two stages"]),
    ],
)
def test_any_order_gets_what_it_allows(wanted: CureOrder, left_out: list[str]) -> None:
    advice = advise(wanted, 6)
    assert advice.shift_hours == 6
    assert [reason.startswith(begin) for reason, begin in zip(advice.left_out, left_out, strict=True)] == [
        True for _ in left_out
    ]
    assert advice.what_ifs
    assert Advice.model_validate_json(advice.model_dump_json()) == advice


def test_the_same_order_gets_the_same_advice() -> None:
    wanted = order(beside(60), pad(), schedule="economy")
    assert advise(wanted, 6) == advise(wanted, 6)


@pytest.mark.long
def test_properties_that_vary_are_heeded() -> None:
    warm = order((varied(30, -0.001, 0.002, 10),), pad())
    advice = advise(warm)
    assert advice.minutes_from_switch_on == compute(warm).minutes_from_switch_on
    assert advice.minutes_from_switch_on != compute(order((fill(30),), pad())).minutes_from_switch_on


def under_small_pads(size: float) -> CureOrder:
    area = Area(length_mm=size, width_mm=size)
    return order(through(80), pad(heated=area), injury=Area(length_mm=200, width_mm=200))


def test_the_edge_of_the_injury_is_heeded() -> None:
    small, wide = under_small_pads(320), order(through(80), pad())
    advice, beside = advise(small), advise(wide)
    assert advice.minutes_from_switch_on == compute(small).minutes_from_switch_on
    assert 1.05 < advice.longer < 1.3
    assert beside.longer == 1
    # A wall for a shift is asked of pads that reach far enough.
    assert advice.longest == beside.longest
    for one, other in zip(advice.what_ifs, beside.what_ifs, strict=True):
        if other.minutes_from_switch_on is None:
            assert one.minutes_from_switch_on is None
        else:
            assert one.minutes_from_switch_on == pytest.approx(advice.longer * other.minutes_from_switch_on, rel=0.02)
        assert one.by_clock.is_short == other.by_clock.is_short
        assert one.by_clock.at_power_off == pytest.approx(other.by_clock.at_power_off, abs=0.03)
    assert advice.highest is not None
    assert beside.highest is not None
    assert advice.highest.setpoint_C is not None
    assert beside.highest.setpoint_C is not None
    assert advice.highest.setpoint_C < beside.highest.setpoint_C


def test_a_pad_too_small_gets_no_advice() -> None:
    with pytest.raises(PadTooSmallError):
        advise(under_small_pads(210))


def test_what_never_cures_gets_no_advice() -> None:
    with pytest.raises(NeverCuredError):
        advise(order((fill(60),), pad(), pad(present=False)))
