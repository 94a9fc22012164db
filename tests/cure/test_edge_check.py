"""The quick rules beside the slow path, as one answer."""

import pytest

from mendbook.cure.edge_check import check_edge
from mendbook.cure.reach import overlap_of
from mendbook.terms.cure_order import CureOrder
from tests.cure.test_reach import area, covered
from tests.cure.walls import INSULATED, beside, fill, order, pad

WALL = order(beside(50), pad())


def told(outside: tuple[float, float], inside: tuple[float, float], wanted: CureOrder = WALL) -> CureOrder:
    return covered(wanted, area(100, 60), area(*outside), area(*inside))


def test_rule_and_two_dimensions_stand_side_by_side() -> None:
    found = check_edge(told((300, 150), (260, 160)))
    assert found.needed_mm == pytest.approx(overlap_of(WALL), abs=0.05)
    assert found.straight_mm < found.round_mm < found.needed_mm * 1.02
    length, width = found.ways
    assert (length.way, length.outside_mm, length.inside_mm) == ("length", 100, 80)
    assert (width.way, width.outside_mm, width.inside_mm) == ("width", 45, 50)
    for way in found.ways:
        assert way.found is not None
        assert way.counted == pytest.approx(way.found, abs=0.01)
    assert 1 <= (length.found or 0) < 1.01 < (width.found or 0)


def test_without_injury_or_areas_the_overlap_alone_is_told() -> None:
    assert check_edge(WALL).ways == ()


def test_what_is_refused_and_what_takes_too_long_is_left_open() -> None:
    refused, open_ = check_edge(told((108, 300), (108, 300))).ways[0], check_edge(told((90, 300), (300, 300))).ways[0]
    assert refused.counted is None
    assert (open_.counted, open_.found) == (None, None)


def test_a_bare_face_has_no_pad_to_measure() -> None:
    wanted = told((240, 240), (240, 240), order((fill(25),), pad(), INSULATED))
    for way in check_edge(wanted).ways:
        assert way.inside_mm is None
        assert way.outside_mm is not None
        assert way.found is not None


def test_an_edge_far_away_is_not_computed() -> None:
    """A thin wall under pads of three metres takes no longer than any other, and loses nothing."""
    thin = covered(order((fill(10),), pad()), area(2000, 2000), area(3000, 2060))
    length, width = check_edge(thin).ways
    assert length.found == pytest.approx(1, abs=1e-3)
    assert width.found == pytest.approx(1, abs=0.02)
