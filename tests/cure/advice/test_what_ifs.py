"""Other days and other pads. Figures without another source were computed once by an earlier program of our own."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import compute
from mendbook.cure.advice.situations import meet_with
from mendbook.cure.advice.what_ifs import on_a_day, preheated, shop_and_pads, slowed, timer_slips
from mendbook.cure.course import Wall, follow
from mendbook.cure.words import preheating_slip
from mendbook.terms.cure_advice import WhatIf
from mendbook.terms.cure_order import CureOrder
from tests.cure.walls import INSULATED, order, pad, step, through


def what_ifs(wanted: CureOrder) -> dict[str, WhatIf]:
    return {one.name: one for one in shop_and_pads(wanted, compute(wanted))}


@pytest.mark.parametrize(
    ("thickness", "slow", "ordered", "hot", "one_slow"),
    [(30, 49.2, 54.4, 59.9, 40), (60, 129.8, 140.6, 147.0, 120), (100, 293.0, 305.4, 312.0, 283),
     (150, 565.0, 577.9, 584.5, 555)],
)  # fmt: skip
def test_minutes_from_the_timer(thickness: float, slow: float, ordered: float, hot: float, one_slow: float) -> None:
    """At 6 °C/min, a third of it, from preheated pads, and with one slow pad."""
    wanted = order(through(thickness), pad())
    found = what_ifs(wanted)
    assert compute(wanted).minutes_from_timer == pytest.approx(ordered, abs=0.35)
    assert found["slow pads, a third as fast"].minutes_from_timer == pytest.approx(slow, abs=0.35)
    assert found["preheated pads"].minutes_from_timer == pytest.approx(hot, abs=0.35)
    assert found["preheated pads"].minutes_from_timer == found["preheated pads"].minutes_from_switch_on
    (name,) = (name for name in found if name.startswith("one slow pad"))
    assert found[name].minutes_from_timer == pytest.approx(one_slow, abs=0.9)


@pytest.mark.parametrize(
    ("thickness", "cold", "warm", "poor"), [(30, 74.2, 67.7, 6.6), (60, 164.9, 148.9, 4.8), (150, 634.1, 549.9, 2.3)]
)
def test_minutes_from_switching_on(thickness: float, cold: float, warm: float, poor: float) -> None:
    """At 5 and 35 °C, and by how many per cent poor contact lengthens it."""
    wanted = order(through(thickness), pad())
    found, minutes = what_ifs(wanted), compute(wanted).minutes_from_switch_on
    assert found["cold day, 5 °C"].minutes_from_switch_on == pytest.approx(cold, abs=0.2)
    assert found["warm day, 35 °C"].minutes_from_switch_on == pytest.approx(warm, abs=0.2)
    longer = found["poor contact, ten times worse"].minutes_from_switch_on
    assert longer is not None
    assert 100 * (longer / minutes - 1) == pytest.approx(poor, abs=0.25)


@settings(max_examples=10, deadline=None)
@given(
    st.floats(20, 150), st.floats(120, 150), st.floats(6, 34), st.floats(1, 12), st.sampled_from(["safe", "economy"])
)
def test_each_is_what_its_own_order_gives(
    thickness: float, setpoint: float, ambient: float, rate: float, schedule: str
) -> None:
    wanted = order(through(thickness), pad(setpoint, rate), ambient_C=ambient, schedule=schedule)
    ordered = compute(wanted)
    slower = max(ambient, 5.0)
    orders = {
        "cold day, 5 °C": order(through(thickness), pad(setpoint, rate), ambient_C=5, schedule=schedule),
        "warm day, 35 °C": order(through(thickness), pad(setpoint, rate), ambient_C=35, schedule=schedule),
        "preheated pads": order(through(thickness), step(setpoint), ambient_C=ambient, schedule=schedule),
        "slow pads, a third as fast": order(
            through(thickness), pad(setpoint, rate / 3), ambient_C=slower, schedule=schedule
        ),
        "poor contact, ten times worse": order(
            through(thickness), pad(setpoint, rate, contact_resistance_m2K_W=5e-3), ambient_C=ambient, schedule=schedule
        ),
    }
    found = what_ifs(wanted)
    for name, changed in orders.items():
        sheet, told = compute(changed), found[name]
        assert told.minutes_from_switch_on == pytest.approx(sheet.minutes_from_switch_on, abs=0.101)
        assert told.minutes_from_timer == pytest.approx(sheet.minutes_from_timer, abs=0.101)
        assert told.more_minutes == pytest.approx(
            sheet.minutes_from_switch_on - ordered.minutes_from_switch_on, abs=0.101
        )
        wall = Wall(changed)
        kept = follow(wall, 60 * ordered.minutes_from_switch_on)
        assert told.by_clock.at_power_off == pytest.approx(kept.at_power_off[wall.points.must_cure].min(), abs=1e-3)
        assert told.by_clock.after_cooling == pytest.approx(kept.after_cooling[wall.points.must_cure].min(), abs=1e-3)
        assert told.by_timer is not None
        timed = follow(wall, wall.timer_start + 60 * ordered.minutes_from_timer)
        assert told.by_timer.at_power_off == pytest.approx(timed.at_power_off[wall.points.must_cure].min(), abs=1e-3)
        if abs(sheet.minutes_from_switch_on - ordered.minutes_from_switch_on) > 0.1:
            assert told.by_clock.is_short == (sheet.minutes_from_switch_on > ordered.minutes_from_switch_on)


def test_a_cold_day_runs_short_by_the_clock_and_by_the_timer() -> None:
    cold, warm = (what_ifs(order(through(60), pad()))[day] for day in ("cold day, 5 °C", "warm day, 35 °C"))
    assert cold.by_timer is not None
    assert cold.by_clock.is_short
    assert cold.by_timer.is_short
    assert cold.by_clock.at_power_off < cold.by_timer.at_power_off < 1
    assert not warm.by_clock.is_short


def test_what_is_so_already_is_not_asked() -> None:
    assert not any("cold day" in name for name in what_ifs(order(through(30), pad(), ambient_C=5)))
    assert not any("warm day" in name for name in what_ifs(order(through(30), pad(), ambient_C=40)))
    assert not any("pads" in name or "slow pad" in name for name in what_ifs(order(through(30), step())))
    assert not any("one slow pad" in name for name in what_ifs(order(through(30), pad(), INSULATED)))


def test_perfect_contact_is_made_poor_too() -> None:
    perfect = what_ifs(order(through(30), pad(contact_resistance_m2K_W=0)))["poor contact, ten times worse"]
    good = what_ifs(order(through(30), pad()))["poor contact, ten times worse"]
    assert perfect.minutes_from_switch_on == good.minutes_from_switch_on


def test_a_tyre_brought_in_warm_is_cold_on_a_cold_day() -> None:
    wanted = order(through(60), pad(), tyre_C=50)
    assert on_a_day(wanted, 5) == on_a_day(wanted.model_copy(update={"tyre_C": None}), 5)


# Minutes from the timer hide half a ramp: on faster pads they are too few.


@pytest.mark.parametrize("thickness", [30, 60, 100, 150])
def test_minutes_learned_on_slow_pads_are_3_to_18_per_cent_short_on_preheated_ones(thickness: float) -> None:
    slips = {(slip.learned_on, slip.used_with): slip for slip in timer_slips(order(through(thickness), pad()))}
    worst = slips["slow pads, a third as fast", "preheated pads"]
    assert 0.03 < 1 - worst.minutes / worst.needed < 0.185
    assert len(slips) == 3
    assert all(slip.kept.is_short and slip.kept.at_power_off < 1 for slip in slips.values())


def test_a_slip_is_counted_on_the_faster_pads() -> None:
    wanted = order(through(60), pad())
    (slip,) = (s for s in timer_slips(wanted) if s.learned_on == "the pads ordered")
    assert slip.minutes == pytest.approx(compute(wanted).minutes_from_timer, abs=0.101)
    wall = Wall(preheated(wanted))
    course = follow(wall, 60 * slip.minutes)
    assert slip.kept.at_power_off == pytest.approx(course.at_power_off[wall.points.must_cure].min(), abs=1e-3)
    assert timer_slips(order(through(60), step())) == ()


@settings(max_examples=25, deadline=None)
@given(
    st.floats(10, 150), st.floats(110, 155), st.floats(-5, 40), st.floats(1, 15), st.floats(1, 3),
    st.sampled_from(["safe", "economy"]),
)  # fmt: skip
def test_the_sheet_says_by_how_much_at_the_most(
    thickness: float, setpoint: float, ambient: float, rate: float, slower: float, schedule: str
) -> None:
    """What the notes say of preheated pads bounds what the model says, also where one pad is slower."""
    pads = pad(setpoint, rate), pad(setpoint, rate / slower)
    wanted = order(through(thickness), *pads, ambient_C=ambient, schedule=schedule)
    then, hot = meet_with(wanted, 1), meet_with(preheated(wanted), 1)
    assert then.needed is not None
    assert then.timer is not None
    assert hot.needed is not None
    assert hot.needed - (then.needed - then.timer) <= preheating_slip(wanted) + 3e-3 * hot.needed


def test_the_sheet_names_it() -> None:
    said = " ".join(compute(order(through(60), pad())).notes)
    assert "too short for faster or preheated pads, by up to 7 min." in said
    assert preheating_slip(order(through(60), pad())) == pytest.approx(100 / 6 - 10)
    assert preheating_slip(order(through(60), step())) == 0
    assert "preheated pads." in " ".join(compute(order(through(60), step())).notes)
    assert preheating_slip(slowed(order(through(60), pad()))) == pytest.approx(20)
