"""The highest setpoint and pairs of them. Figures without another source were computed once, in whole degrees, by an
earlier program of our own."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import compute
from mendbook.cure.advice.changes import at_setpoints, attempt, is_within
from mendbook.cure.advice.setpoints import highest_setpoint, quickest_pair, spare_the_tread
from mendbook.cure.vapour import highest_setpoint as hottest_held
from mendbook.terms.cure_advice import HighestSetpoint
from mendbook.terms.cure_order import CureOrder
from tests.cure.advice.orders import dry, limited
from tests.cure.walls import INSULATED, order, pad, step, through


def found(wanted: CureOrder, most: float = 155) -> HighestSetpoint:
    return highest_setpoint(wanted, compute(wanted, beside=False), most)


@pytest.mark.parametrize(
    ("thickness", "limit", "setpoint", "minutes"),
    [
        (60, 6, 138, 162), (80, 6, 129, 276), (100, 6, 123, 415), (120, 6, 118, 584), (150, 6, 112, 890),
        (60, 10, 149, 139), (80, 10, 140, 233), (100, 10, 133, 353), (120, 10, 128, 494), (150, 10, 121, 761),
    ],
)  # fmt: skip
def test_faces_limit_the_setpoint_of_thick_walls(thickness: float, limit: float, setpoint: int, minutes: int) -> None:
    best = found(dry(limited(thickness, limit)))
    assert best.setpoint_C is not None
    assert best.setpoint_C in (setpoint, setpoint + 0.5)
    assert best.binds == "layer"
    assert best.layers == ("fill",)
    assert best.minutes_from_switch_on is not None
    assert minutes * 0.99 < best.minutes_from_switch_on < minutes + 1


def test_a_thin_wall_is_limited_by_what_is_looked_at() -> None:
    best = found(dry(limited(30, 10)), 150)
    assert (best.setpoint_C, best.binds) == (150, "cap")
    assert best.ordered_is_within


@settings(max_examples=15, deadline=None)
@given(st.floats(30, 150), st.floats(2, 12), st.floats(1, 6), st.floats(-5, 35))
def test_a_bigger_limit_never_lowers_it(thickness: float, limit: float, more: float, ambient: float) -> None:
    lower, higher = (found(dry(limited(thickness, each), ambient_C=ambient)) for each in (limit, limit + more))
    assert (lower.setpoint_C or 0) <= (higher.setpoint_C or 0)


@settings(max_examples=15, deadline=None)
@given(st.floats(30, 150), st.floats(2, 12), st.floats(0.5, 3), st.sampled_from(["safe", "economy"]))
def test_half_a_degree_more_passes_a_limit(thickness: float, limit: float, clamp: float, schedule: str) -> None:
    wanted = order(limited(thickness, limit), pad(), clamp_bar=clamp, schedule=schedule)
    best = found(wanted)
    assert best.binds != "cap" or best.setpoint_C == 155
    if best.setpoint_C is not None:
        sheet = compute(at_setpoints(wanted, best.setpoint_C, best.setpoint_C))
        assert is_within(sheet)
        assert best.minutes_from_switch_on == sheet.minutes_from_switch_on
    if best.setpoint_C != 155:
        above = (best.setpoint_C or 104.5) + 0.5
        assert not is_within(attempt(at_setpoints(wanted, above, above)))


def test_the_clamp_may_bind_first() -> None:
    best = found(order(limited(60, 20), pad(), clamp_bar=2.0))
    assert best.setpoint_C is not None
    assert best.binds == "pressure"
    assert 0 <= hottest_held(2.0, 1, 0, 200) - best.setpoint_C < 0.5


def test_where_nothing_will_do_it_says_what_binds() -> None:
    best = found(dry(limited(60, 1)))
    assert best.setpoint_C is None
    assert best.minutes_from_switch_on is None
    assert (best.binds, best.layers) == ("layer", ("fill",))


def test_one_pad_and_preheated_pads_have_a_setpoint_too() -> None:
    alone = found(dry(limited(30, 10), pad(), INSULATED))
    assert alone.setpoint_C is not None
    hot = dry(limited(60, 6), step())
    best = found(hot)
    assert best.setpoint_C is not None
    changed = at_setpoints(hot, best.setpoint_C, best.setpoint_C)
    assert changed.outside.start_C == best.setpoint_C
    assert quickest_pair(dry(limited(30, 10), pad(), INSULATED), alone, 150) is None


@pytest.mark.parametrize(
    "wanted",
    [order(through(80), pad(), clamp_bar=3), order(limited(100, 6), pad(), clamp_bar=6), dry(limited(100, 6)[::-1])],
)
def test_no_pair_nearby_is_quicker(wanted: CureOrder) -> None:
    common = found(wanted, 150)
    best = quickest_pair(wanted, common, 150)
    assert best is not None
    assert common.minutes_from_switch_on is not None
    assert best.pair.within
    assert best.pair.minutes_from_switch_on <= 0.98 * common.minutes_from_switch_on
    around = product((-6, -3, -1, 0, 1, 3, 6), repeat=2)
    sheets = (attempt(at_setpoints(wanted, best.pair.outside_C + o, best.pair.inside_C + i)) for o, i in around)
    quickest = min(sheet.minutes_from_switch_on for sheet in sheets if sheet and is_within(sheet))
    assert best.pair.minutes_from_switch_on <= 1.005 * quickest


def test_a_pair_that_saves_less_than_two_per_cent_is_not_named() -> None:
    wanted = order(through(30), pad(), clamp_bar=2.0)
    assert quickest_pair(wanted, found(wanted, 150), 150) is None


def test_a_cooler_outside_pad_spares_the_tread() -> None:
    """80 mm, inside 140 °C, outside 130 and 120."""
    pairs = spare_the_tread(order(through(80), pad()))
    assert [pair.outside_C for pair in pairs] == [130, 120]
    assert [pair.minutes_from_switch_on for pair in pairs] == pytest.approx([252, 278], abs=0.5)
    assert [pair.outside_multiples for pair in pairs] == pytest.approx([5.7, 3.2], abs=0.05)
    assert not any(pair.within for pair in pairs)
    assert spare_the_tread(order(through(80), pad(), INSULATED)) == ()
