"""Bags and straps: cover, rating, pull in a leg."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.plan import Stock
from mendbook.plan.catalogue import Bag
from mendbook.plan.harness import fit_bags, fit_straps, leg_force, push, strap_length, straps_needed
from mendbook.plan.size import Size

WIDTH = 673.1
FORCES = st.floats(1e3, 5e5)


def test_the_push_of_the_worked_bag() -> None:
    """A bag of 410 x 660 mm at 2 bar: 54.1 kN; one strap and a bit would hold it at 20 kN a leg, three are used."""
    force = push(Size(410, 660), 2.0)
    assert force / 1000 == pytest.approx(54.1, abs=0.05)
    assert force / (2 * 0.8 * 20_000) == pytest.approx(1.7, abs=0.02)
    assert straps_needed(force, 20_000, 0.8, 3) == 3
    assert leg_force(force, 3) == pytest.approx(54_120 / 6)


def test_the_strap_of_the_worked_loader_tyre() -> None:
    """2 x 895 + 0.8 x 673 + 300 + 1000 mm."""
    assert strap_length(895.0, 673.1) == pytest.approx(3628.5, abs=0.1)


@given(FORCES, FORCES, st.floats(5e3, 4e4))
def test_more_force_never_asks_for_fewer_straps(one: float, other: float, limit: float) -> None:
    less, more = sorted((one, other))
    assert straps_needed(less, limit, 0.8, 3) <= straps_needed(more, limit, 0.8, 3)


@given(FORCES, st.floats(5e3, 4e4))
def test_no_leg_is_overloaded(force: float, limit: float) -> None:
    count = straps_needed(force, limit, 0.8, 3)
    assert count >= 3
    assert leg_force(force, count) <= 0.8 * limit * (1 + 1e-6)


def test_a_bag_covers_its_pad_and_is_rated_well_above_the_pressure(stock: Stock) -> None:
    heated = Size(500, 300)
    bags = fit_bags(stock.kit.outer_bags, heated, 2.0, WIDTH, 30.0)
    assert bags[0].id == "outer bag 360 x 560"
    weak = Bag("weak", (0, 2000), presses=Size(600, 600), rated=2.4)
    assert not fit_bags([weak], heated, 2.0, WIDTH, 30.0)
    assert fit_bags([weak], heated, 1.9, WIDTH, 30.0)


def test_a_strap_is_long_enough_before_it_is_anything_else(stock: Stock) -> None:
    straps = fit_straps(stock.kit.straps, 3629, WIDTH)
    assert straps
    assert all(strap.length >= 3629 for strap in straps)
    assert not fit_straps(stock.kit.straps, 9000, WIDTH)
