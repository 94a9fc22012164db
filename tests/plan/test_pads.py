"""Pads: they cover what they must, clear of the bead wire, and never shrink as the opening grows."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.folders import folder
from mendbook.plan import Stock, open_stock
from mendbook.plan.catalogue import LAP
from mendbook.plan.pads import CLEAR_OF_WIRE, lay_pads
from mendbook.plan.size import Size
from mendbook.plan.task import Place

STOCK = open_stock(folder("knowledge"))
PADS = STOCK.kit.pads
PLACE = Place(330.0, 448.0, 98.0, 895.0, 869.5, 248.4)
FAR = replace(PLACE, lower=None, upper=None)
SIDES = st.floats(20, 1200)
WIDTH = 673.1


@given(SIDES, SIDES, st.sampled_from([PLACE, FAR]), st.booleans())
def test_what_is_laid_covers_what_it_must(around: float, across: float, place: Place, inside: bool) -> None:
    needed = Size(around, across)
    for laid in lay_pads(PADS, needed, place, WIDTH, inside=inside):
        assert laid.pad.serves(WIDTH)
        if laid.pad.is_wrap:
            assert place.centre is not None
            assert place.half_girth - laid.heated.across / 2 <= place.centre - across / 2
        else:
            assert laid.heated.covers(needed)
        assert laid.count in (1, 2)
        assert not (inside and laid.pad.outside_only)


@given(SIDES, SIDES, SIDES, SIDES)
def test_a_bigger_opening_never_gets_a_smaller_pad(a: float, b: float, more: float, wider: float) -> None:
    small, large = Size(a, b), Size(a + more, b + wider)
    ways, others = (lay_pads(PADS, needed, FAR, WIDTH, inside=False) for needed in (small, large))
    if not others:
        return
    assert ways
    assert ways[0].rank[:2] <= others[0].rank[:2]
    if ways[0].count == others[0].count:
        assert ways[0].heated.area <= others[0].heated.area


@given(st.floats(20, 500), st.floats(20, 500), st.floats(120, 500))
def test_a_pad_is_clear_of_the_wire_or_asks_for_a_shield(around: float, across: float, lower: float) -> None:
    place = replace(PLACE, lower=lower, upper=lower + 50)
    for laid in lay_pads(PADS, Size(around, across), place, WIDTH, inside=False):
        if laid.pad.is_wrap or place.centre is None:
            continue
        edge = place.centre - laid.heated.across / 2 - laid.pad.edge + laid.shift
        assert edge >= 0
        assert laid.needs_shield == (edge < place.wire + CLEAR_OF_WIRE - 1e-6)
        assert laid.shift <= 20
        assert laid.heated.across / 2 - laid.shift >= across / 2 - 1e-9


def test_two_pads_meet_with_an_overlap() -> None:
    needed = Size(400, 410)
    ways = lay_pads([pad for pad in PADS if pad.id == "pad 250 x 400"], Size(400, 470), FAR, WIDTH, inside=False)
    assert 20 <= LAP <= 30
    assert ways[0].count == 2
    assert ways[0].heated == Size(400, 2 * 250 - LAP)
    assert ways[0].power == 800
    assert not lay_pads([pad for pad in PADS if pad.id == "pad 150 x 200"], needed, FAR, WIDTH, inside=False)


@pytest.mark.parametrize("inches", [13.00, 16.00, 20.5, 24.00, 29.5])
def test_one_flexible_wrap_serves_every_width(inches: float, stock: Stock) -> None:
    """13.00 to 29.5 in: common practice, no source."""
    wraps = [pad for pad in stock.kit.pads if pad.is_wrap]
    place = replace(PLACE, lower=800.0, upper=860.0)
    ways = lay_pads(wraps, Size(300, 300), place, inches * 25.4, inside=False)
    assert [laid.pad.id for laid in ways] == ["wrap 450 x 1000"]
    assert not lay_pads(wraps, Size(300, 300), place, 12.0 * 25.4, inside=False)
    assert not lay_pads(wraps, Size(300, 300), place, inches * 25.4, inside=True)


def test_the_wrap_does_not_reach_down_a_high_wall() -> None:
    wraps = [pad for pad in PADS if pad.is_wrap]
    assert not lay_pads(wraps, Size(200, 200), PLACE, WIDTH, inside=False)
    assert not lay_pads(wraps, Size(200, 200), FAR, WIDTH, inside=False)
