"""What fits a shift. The table was computed once by an earlier program of our own, for the column through an injury."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import compute
from mendbook.cure.advice.shifts import longest_walls, scale
from mendbook.terms.cure_advice import LongestWall
from mendbook.terms.cure_order import CureOrder
from tests.cure.walls import gum, order, pad, through


def safe(wanted: CureOrder, hours: float) -> LongestWall:
    return longest_walls(wanted, hours)[0]


@pytest.mark.parametrize(
    ("setpoint", "hours", "thickness"),
    [
        (130, 3, 42), (130, 4, 55), (130, 6, 77), (130, 8, 95), (130, 10, 112), (130, 12, 128),
        (140, 3, 46), (140, 4, 58), (140, 6, 80), (140, 8, 99), (140, 10, 117), (140, 12, 133),
        (150, 3, 47), (150, 4, 60), (150, 6, 83), (150, 8, 102), (150, 10, 120), (150, 12, 136),
    ],
)  # fmt: skip
def test_the_thickest_wall_for_a_shift(setpoint: float, hours: float, thickness: int) -> None:
    """Asked of a wall of about that thickness, so that its layers are those of the table; rounded to whole mm there."""
    found = safe(order(through(thickness), pad(setpoint)), hours).thickness_mm
    assert found is not None
    assert abs(found - thickness) <= 1


@settings(max_examples=8, deadline=None)
@given(st.floats(30, 150), st.floats(1, 20), st.floats(0.1, 4), st.floats(120, 150))
def test_more_hours_never_make_it_thinner(thickness: float, hours: float, more: float, setpoint: float) -> None:
    wanted = order(through(thickness), pad(setpoint))
    for short, long in zip(longest_walls(wanted, hours), longest_walls(wanted, hours + more), strict=True):
        assert (short.thickness_mm or 0) <= (long.thickness_mm or 0)


@pytest.mark.parametrize("schedule", [0, 1])
def test_it_fits_and_a_millimetre_more_does_not(schedule: int) -> None:
    wanted = order(through(70), pad())
    found = longest_walls(wanted, 6)[schedule]
    assert found.thickness_mm is not None
    assert found.heat is not None

    def clock(thickness: int) -> float:
        changed = {"layers": scale(wanted.layers, thickness), "schedule": found.schedule}
        sheet = compute(wanted.model_copy(update=changed))
        return sheet.minutes_from_switch_on + sheet.minutes_to_release

    assert clock(found.thickness_mm) == found.heat.minutes_from_switch_on + found.heat.minutes_to_release
    assert clock(found.thickness_mm) <= 360 < clock(found.thickness_mm + 1)


def test_thick_layers_grow_in_proportion_and_thin_ones_stay() -> None:
    grown = scale(through(80), 120)
    assert sum(layer.thickness_mm for layer in grown) == pytest.approx(120)
    factors = [after.thickness_mm / before.thickness_mm for before, after in zip(through(80), grown, strict=True)]
    assert factors == pytest.approx([118 / 78, 1, 118 / 78])
    assert [layer.thickness_mm for layer in scale((gum(), gum()), 6)] == [3, 3]


def test_it_says_what_grew_what_overcures_and_when_nothing_fits() -> None:
    wanted = order(through(80), pad())
    eight, quarter = safe(wanted, 8), safe(wanted, 0.25)
    assert eight.grown == ("fill", "reinforcement")
    assert "fill" in eight.overcured
    assert (quarter.thickness_mm, quarter.heat, quarter.overcured) == (None, None, ())


def test_forced_cooling_has_one_schedule() -> None:
    assert [one.schedule for one in longest_walls(order(through(60), pad(), cooling="fan"), 8)] == ["safe"]
    assert [one.schedule for one in longest_walls(order(through(60), pad()), 8)] == ["safe", "economy"]
