"""How far pads must reach: the tables against the two-dimensional computation they come from."""

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import PadTooSmallError, centre_factor, compute, overlap_needed
from tests.cure.disc import Disc, cure_under_disc
from tests.cure.walls import fill, order, pad

WIDE = 6  # half thicknesses: the centre no longer feels the edge
RADII = (1.5, 2, 2.5, 3, 4, 5)


@cache
def wide(thickness: float) -> Disc:
    return cure_under_disc(thickness, WIDE)


@pytest.mark.parametrize("thickness", [20, 40, 80, 150])
def test_under_a_wide_pad_two_dimensions_are_one(thickness: float) -> None:
    flat = compute(order((fill(thickness),), pad())).minutes_from_switch_on
    assert wide(thickness).centre_time() / 60 == pytest.approx(flat, rel=5e-3)


@pytest.mark.parametrize("thickness", [20, 40, 80, 150])
def test_the_overlap_is_where_the_edge_gets_95_per_cent(thickness: float) -> None:
    found = wide(thickness).edge() * thickness / 2
    assert found - 0.01 * thickness <= overlap_needed(thickness) <= found * 1.02


@pytest.mark.long
@pytest.mark.parametrize("thickness", [10, 30, 60, 100, 120])
def test_the_overlap_between_and_below(thickness: float) -> None:
    found = wide(thickness).edge() * thickness / 2
    assert found - 0.01 * thickness <= overlap_needed(thickness) <= found * 1.04


def slower(thickness: float, radius: float) -> float:
    return cure_under_disc(thickness, radius).centre_time() / wide(thickness).centre_time()


@pytest.mark.parametrize("radius", [1.5, 2.5, 4])
def test_a_small_pad_costs_the_centre_time(radius: float) -> None:
    assert centre_factor(radius * 40, 80) == pytest.approx(slower(80, radius), rel=0.01)


@pytest.mark.long
@pytest.mark.parametrize("thickness", [20, 40, 150])
@pytest.mark.parametrize("radius", RADII)
def test_a_small_pad_costs_the_centre_time_at_any_thickness(thickness: float, radius: float) -> None:
    assert centre_factor(radius * thickness / 2, thickness) == pytest.approx(slower(thickness, radius), rel=0.012)


@pytest.mark.long
@pytest.mark.parametrize("thickness", [10, 15, 60, 120])
@pytest.mark.parametrize("radius", [1.75, 2.2, 3.5])
def test_between_the_rows_the_factor_is_on_the_safe_side(thickness: float, radius: float) -> None:
    assert centre_factor(radius * thickness / 2, thickness) >= slower(thickness, radius) * 0.99


@settings(deadline=None)
@given(st.floats(5, 300), st.floats(0.5, 50))
def test_a_thicker_wall_never_asks_for_less_overlap(thickness: float, more: float) -> None:
    assert overlap_needed(thickness) <= overlap_needed(thickness + more)


@settings(deadline=None)
@given(st.floats(5, 300), st.floats(1.5, 6), st.floats(0, 3))
def test_a_larger_pad_is_never_slower(thickness: float, radius: float, more: float) -> None:
    small, large = (centre_factor(r * thickness / 2 + 1e-9, thickness) for r in (radius, radius + more))
    assert 1 <= large <= small


def test_heat_along_the_wall_needs_the_square_root_more() -> None:
    """The equations of heat scale so (by hand): lengths along the wall grow with sqrt(k along / k through)."""
    assert overlap_needed(80, in_plane_ratio=4) == pytest.approx(2 * overlap_needed(80))


def test_heated_from_one_face_a_wall_counts_twice() -> None:
    """An insulated face is a plane of symmetry: 40 mm behave like one half of 80 mm."""
    assert overlap_needed(40, one_sided=True) == overlap_needed(80)
    assert centre_factor(100, 40, one_sided=True) == centre_factor(100, 80)


def test_a_pad_that_never_cures_is_refused_with_one_that_does() -> None:
    with pytest.raises(PadTooSmallError, match=r"100 mm across does not cure a wall of 80 mm\. Take one of 120 mm"):
        centre_factor(50, 80)
    assert centre_factor(60, 80) > 1.4
    assert centre_factor(160, 80) < 1.003
