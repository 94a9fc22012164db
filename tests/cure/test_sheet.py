"""The sheet: what it says, and which way it moves when the order does."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import NeverCuredError, compute
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import power_off_time
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from tests.cure.walls import INSULATED, beside, compound, fill, order, pad, step, through

SLACK = 1 + 3e-4  # of a time: the grids in space and time change with the order

thicknesses = st.floats(10, 150)
setpoints = st.floats(120, 155)
ambients = st.floats(-5, 40)
rates = st.floats(1, 20)


def minutes(wanted: CureOrder) -> float:
    return power_off_time(Wall(wanted)) / 60


@given(thicknesses, st.floats(1, 60), setpoints, ambients, rates)
@settings(max_examples=40, deadline=None)
def test_a_thicker_wall_never_cures_sooner(
    thickness: float, more: float, setpoint: float, ambient: float, rate: float
) -> None:
    thin, thick = (
        minutes(order(through(d), pad(setpoint, rate), ambient_C=ambient)) for d in (thickness, thickness + more)
    )
    assert thin <= thick * SLACK


@given(thicknesses, setpoints, st.floats(0.1, 20), ambients, rates)
@settings(max_examples=40, deadline=None)
def test_a_hotter_pad_never_cures_later(
    thickness: float, setpoint: float, hotter: float, ambient: float, rate: float
) -> None:
    cool, hot = (
        minutes(order(through(thickness), pad(140, rate), pad(s, rate), ambient_C=ambient))
        for s in (setpoint, setpoint + hotter)
    )
    assert hot <= cool * SLACK


@given(thicknesses, ambients, st.floats(0.1, 30), rates)
@settings(max_examples=40, deadline=None)
def test_a_colder_shop_never_cures_sooner(thickness: float, ambient: float, colder: float, rate: float) -> None:
    warm, cold = (minutes(order(beside(thickness), pad(140, rate), ambient_C=t)) for t in (ambient, ambient - colder))
    assert warm <= cold * SLACK


@given(thicknesses, st.floats(1e-5, 1e-2), st.floats(1, 4))
@settings(max_examples=40, deadline=None)
def test_poorer_contact_never_cures_sooner(thickness: float, resistance: float, times: float) -> None:
    good, poor = (
        minutes(order(through(thickness), pad(contact_resistance_m2K_W=r))) for r in (resistance, resistance * times)
    )
    assert good <= poor * SLACK


@given(thicknesses, setpoints, setpoints, rates, rates)
@settings(max_examples=40, deadline=None)
def test_a_mirrored_wall_cures_in_the_same_time(
    thickness: float, outside: float, inside: float, one: float, other: float
) -> None:
    pads = pad(outside, one), pad(inside, other)
    there = order(beside(thickness), *pads)
    back = order(beside(thickness)[::-1], *pads[::-1])
    assert minutes(back) == pytest.approx(minutes(there), rel=1e-8)


@given(thicknesses, setpoints, ambients, st.floats(1, 3))
@settings(max_examples=40, deadline=None)
def test_cure_only_grows_after_power_off(thickness: float, setpoint: float, ambient: float, target: float) -> None:
    wall = Wall(order(beside(thickness), pad(setpoint), ambient_C=ambient, target=target))
    course = follow(wall, power_off_time(wall))
    assert (course.after_cooling >= course.at_power_off).all()
    assert course.at_power_off[wall.points.must_cure].min() == pytest.approx(target, rel=1e-3)


def test_a_sheet_in_full() -> None:
    sheet = compute(order(through(80), pad(), case="an invented loader tyre", clamp_bar=2.7))
    assert sheet.case == "an invented loader tyre"
    assert sheet.minutes_from_switch_on == 233.3
    assert sheet.timer_starts_at_min == 16.6
    assert sheet.minutes_from_timer == 216.7
    # With heating-only minutes and passive pads: 125 min to 100 °C, 9.9 x t90 at the outside face (see test_course).
    assert sheet.minutes_to_release == pytest.approx(125, abs=0.5)
    assert sheet.outside is not None
    assert sheet.outside.multiples == pytest.approx(9.9, abs=0.05)
    assert not sheet.outside.ok
    assert sheet.slowest.layer == "fill"
    assert sheet.slowest.peak_C > sheet.slowest.temperature_C
    assert [layer.layer for layer in sheet.layers] == ["fill", "gum", "reinforcement"]
    assert sheet.layers[0].least_at_power_off == pytest.approx(1, abs=1e-3)
    assert sheet.porosity.ok
    assert sheet.porosity.clamp_needed_bar == 2.61
    assert CureSheet.model_validate_json(sheet.model_dump_json()) == sheet


def test_same_order_same_bytes() -> None:
    wanted = order(beside(70), pad())
    assert compute(wanted).model_dump_json() == compute(wanted).model_dump_json()
    again = CureOrder.model_validate(json.loads(wanted.model_dump_json()))
    assert compute(again).model_dump_json() == compute(wanted).model_dump_json()


def test_rounding_never_cuts_a_cure_short() -> None:
    for thickness in (25, 43, 77, 121):
        wanted = order(through(thickness), pad())
        wall = Wall(wanted)
        off = power_off_time(wall)
        sheet = compute(wanted)
        assert 0 <= sheet.minutes_from_switch_on - off / 60 <= 0.1
        assert sheet.minutes_to_release >= follow(wall, off).cooling.time_to(100) / 60 - 1e-6
        assert sheet.timer_starts_at_min + sheet.minutes_from_timer == pytest.approx(sheet.minutes_from_switch_on)
        assert sheet.minutes_from_timer >= (off - wall.timer_start) / 60


def said(wanted: CureOrder) -> str:
    return "\n".join(compute(wanted).warnings)


# A mild order: it runs into nothing, so that every warning below comes from the one thing changed.
MILD: dict[str, Any] = {"layers": (fill(20),), "outside": pad(130), "clamp_bar": 1.8}


def test_a_mild_order_is_not_warned_of() -> None:
    assert said(order(**MILD)) == ""


@pytest.mark.parametrize(
    ("change", "warning"),
    [
        ({"layers": (fill(20, compound=compound(12, limit=1)),)}, "'fill' gets"),
        ({"clamp_bar": 1.0}, "Bubbles may form. Set 120 °C or less"),
        ({"altitude_m": 3000.0}, "Water boils at 90.0 °C at 3000 m"),
        ({"altitude_m": 3000.0, "clamp_bar": 2.4, "release_C": 85.0}, ""),
        ({"inside": INSULATED}, "The inside face is bare, and counted as losing none"),
        ({"inside": pad(present=False, loss_W_m2K=1.0)}, "bare, and counted as losing heat"),
        ({"layers": (fill(20, compound=compound(12, activation=155)),)}, "155 kJ/mol, is outside the usual 80 to 110"),
        ({"target": 0.9}, "leaves the slowest point undercured"),
        (
            {"layers": (fill(20), fill(5, name="casing", compound=None, cured_before=True))},
            "The overcure of the inside face is not known",
        ),
        ({"layers": (fill(160, compound=compound(12, limit=100)),)}, "checked up to 150 mm"),
    ],
)
def test_what_the_order_runs_into_is_said(change: dict[str, Any], warning: str) -> None:
    heard = said(order(**{**MILD, **change}))
    assert warning in heard
    assert bool(heard) == bool(warning)


@pytest.mark.parametrize("thickness", [30, 60, 100, 150])
def test_ten_degrees_less_take_away_about_a_third_of_the_overcure(thickness: float) -> None:
    """The warning says so; from 150 to 140 °C and on to 130."""
    faces = [compute(order(through(thickness), pad(s))).layers[0].most for s in (150, 140, 130)]
    assert 0.2 < 1 - faces[1] / faces[0] < 0.45
    assert 0.2 < 1 - faces[2] / faces[1] < 0.45


def test_a_bubble_warning_names_a_setpoint_that_is_safe() -> None:
    porosity = compute(order(through(60), pad(140), clamp_bar=2.1)).porosity
    assert not porosity.ok
    assert compute(order(through(60), pad(porosity.highest_safe_setpoint_C), clamp_bar=2.1)).porosity.ok


def test_the_cautions_stay_in() -> None:
    """Common practice, no source: warm before bending, about 100 °C before release, attended, pressure first."""
    sheet = compute(order(through(60), pad()))
    together = " ".join(sheet.cautions)
    for words in ("about 50 °C before bending", "below 100 °C", "never left alone", "Pressure first", "site rules"):
        assert words in together
    assert "Heating-only" in sheet.notes[0]
    assert "an example" in sheet.notes[-1]


def test_common_practice_is_what_the_defaults_say() -> None:
    """Common practice, no source: 140 °C, timer from 120 °C at both pads, no release above 100 °C."""
    wanted = order(through(60), pad())
    assert wanted.outside.setpoint_C == 140
    assert wanted.release_C == 100
    # 20 °C to 120 °C at 6 °C/min
    assert compute(wanted).timer_starts_at_min == pytest.approx(100 / 6, abs=0.1)


def test_the_same_minutes_are_not_asked_of_preheated_pads() -> None:
    """A ramp is half hidden before the timer: preheated pads need more minutes on it, not fewer."""
    ramp, preheated = (compute(order(through(60), p)) for p in (pad(), step()))
    assert preheated.minutes_from_timer > ramp.minutes_from_timer
    assert preheated.minutes_from_switch_on < ramp.minutes_from_switch_on
    assert any("too short for faster or preheated pads" in note for note in ramp.notes)


def test_what_never_cures_gets_no_sheet() -> None:
    with pytest.raises(NeverCuredError, match="Raise the setpoint"):
        compute(order((fill(60),), pad(), pad(present=False)))
