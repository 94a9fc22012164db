"""Shapes of a cavity against closed formulas and a worked example."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.plan.cavity import Cavity, bowl, cavity_of, ellipse, frustum, girth, reinforcement_of
from mendbook.plan.size import Size
from tests.plan.requests import LOADER, TRUCK, but

LENGTHS = st.floats(5, 400)
OUTER, INNER = Size(90, 165), Size(48, 118)


def test_the_worked_example_of_a_cavity_right_through() -> None:
    """Worked by hand: h/3 (A1 + A2 + sqrt(A1 A2)) with ellipses of 90 x 165 and 48 x 118, h 46 mm."""
    cavity = Cavity(OUTER, INNER, 46, is_through=True)
    assert cavity.volume / 1000 == pytest.approx(357.49, abs=0.005)
    assert cavity.wall / 1e6 == pytest.approx(0.0174, abs=5e-5)


def test_a_cavity_as_wide_inside_as_outside_is_a_cylinder() -> None:
    assert frustum(OUTER, OUTER, 46) == pytest.approx(ellipse(OUTER) * 46)


def test_the_girth_of_a_circle() -> None:
    assert girth(Size(80, 80)) == pytest.approx(pi * 80)


def test_the_girth_of_an_ellipse_twice_as_long_as_wide() -> None:
    """Complete elliptic integral for semi-axes 2 and 1: 9.688448 (standard tables, from memory)."""
    assert girth(Size(4, 2)) == pytest.approx(9.688448, rel=1e-4)


def test_half_a_ball() -> None:
    assert bowl(Size(60, 60), 30) == pytest.approx(2 * pi * 30**2, rel=1e-6)
    cavity = Cavity(Size(60, 60), Size(60, 60), 30, is_through=False)
    assert cavity.volume == pytest.approx(2 / 3 * pi * 30**3)


def test_a_cavity_wider_inside_is_two_frusta() -> None:
    mouth, waist = Size(80, 80), Size(40, 40)
    cavity = Cavity(mouth, waist, 50, is_through=True, inside=mouth)
    assert cavity.volume == pytest.approx(2 * frustum(mouth, waist, 25))


def test_the_opening_is_as_measured_or_bevelled_from_cord_level() -> None:
    assert cavity_of(LOADER).opening.around == pytest.approx(101.1, abs=0.1)  # 48 + 2 x 46 / tan 60
    assert cavity_of(but(LOADER, outside_length=130.0)).opening.around == 130
    assert cavity_of(LOADER).opening.across == pytest.approx(171.1, abs=0.1)


def test_a_nail_hole_is_reamed_and_not_bevelled() -> None:
    nail = but(TRUCK, kind="puncture", reaches="through", deciding_length=4.0, deciding_width=4.0, cavity_depth=44.0)
    assert cavity_of(nail).opening == Size(4, 4)
    assert cavity_of(replace(nail, verdict="reinforce")).opening.around > 50


def test_a_break_wider_inside_is_filled_as_seen_from_inside() -> None:
    star = but(LOADER, inside_length=90.0, deciding_length=90.0)
    assert cavity_of(star).inside == Size(90, 118)
    assert cavity_of(star).volume > cavity_of(LOADER).volume


def test_a_reinforcement_reaches_past_the_injury_on_every_side() -> None:
    """The worked loader cut: at least 290 x 360 mm."""
    assert reinforcement_of(LOADER) == Size(295, 365)
    assert reinforcement_of(TRUCK) is None


@given(LENGTHS, LENGTHS, st.floats(0, 100), st.floats(1, 150))
def test_a_cavity_holds_no_more_than_its_mouth_lets_in(a: float, b: float, bevel: float, depth: float) -> None:
    floor = Size(a, b)
    cavity = Cavity(floor.grown(bevel), floor, depth, is_through=True)
    assert ellipse(floor) * depth * (1 - 1e-9) <= cavity.volume <= ellipse(cavity.opening) * depth * (1 + 1e-9)
