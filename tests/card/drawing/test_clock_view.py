"""The clock maps: angles true, inside the mirror image of outside, on both sides of the tyre."""

from itertools import combinations
from math import atan2, degrees, dist, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.card.drawing.clock_view import CENTRE, RADIUS, draw_clocks
from mendbook.card.drawing.marks import site_marks
from mendbook.card.drawing.shapes import Drawing, Line, Point
from mendbook.terms.plan import Repair
from mendbook.terms.tyre_map import Site, TyreMap
from tests.card.drawing.outlines import REPAIR, SIZES, outline, site, tyre


def drawn(*sites: Site, repair: Repair | None = None, size: str = "26.5R25") -> tuple[Drawing, ...]:
    return draw_clocks(tyre(*sites, size=size), site_marks(sites), repair)


def middle(drawing: Drawing, name: str) -> Point:
    (shape,) = drawing.named(name)
    assert isinstance(shape, Line)
    xs, ys = zip(*shape.points, strict=True)
    return sum(xs) / len(xs), sum(ys) / len(ys)


def clockwise(point: Point) -> float:
    """Return the angle from the top, clockwise as seen on paper [deg]."""
    return degrees(atan2(point[0] - CENTRE[0], CENTRE[1] - point[1])) % 360


@given(st.floats(0, 359.9), st.sampled_from(("serial side", "opposite side")))
def test_the_angle_is_right_and_the_inside_is_mirrored(angle: float, side: str) -> None:
    outside, inside = drawn(site(clock_deg=angle, side=side))
    seen, mirrored = (clockwise(middle(view, "injury A")) for view in (outside, inside))
    expected = angle if side == "serial side" else -angle
    assert (seen - expected + 180) % 360 - 180 == pytest.approx(0, abs=0.01)
    assert (mirrored + expected + 180) % 360 - 180 == pytest.approx(0, abs=0.01)
    (one, other) = (middle(view, "injury A") for view in (outside, inside))
    assert one[0] - CENTRE[0] == pytest.approx(CENTRE[0] - other[0], abs=1e-6)
    assert "mirror image" in inside.title
    assert "mirror" not in outside.title


def test_the_serial_side_runs_clockwise_from_outside_and_the_titles_say_so() -> None:
    titles = [view.title for view in drawn(site(side="serial side"), site("B"))]
    assert titles == [
        "Serial side, from outside, angles run clockwise",
        "Serial side, from inside, mirror image: angles run anticlockwise",
        "Opposite side, from outside, angles run anticlockwise",
        "Opposite side, from inside, mirror image: angles run clockwise",
    ]


@given(st.sampled_from(SIZES), st.floats(0.05, 0.7), st.floats(0.13, 0.25), st.floats(150, 600))
def test_places_lie_along_the_spoke_and_lengths_take_their_angle(
    size: str, start: float, share: float, length: float
) -> None:
    of = outline(size)
    girth = of.half_girth_mm
    (outside, _) = drawn(site("A", start * girth, share * girth, clock_deg=0.0, length_mm=length), size=size)
    (shape,) = outside.named("injury A")
    assert isinstance(shape, Line)
    assert outside.scale is not None
    outs = [dist(point, CENTRE) for point in shape.points]
    assert min(outs) * outside.scale == pytest.approx(of.rim_mm / 2 + start * girth)
    assert max(outs) * outside.scale == pytest.approx(of.rim_mm / 2 + (start + share) * girth)
    turned = [(clockwise(point) + 180) % 360 - 180 for point in shape.points]
    radius = of.rim_mm / 2 + (start + share / 2) * of.height_mm
    assert radians(max(turned) - min(turned)) * radius == pytest.approx(min(length, 2 * pi * radius), rel=0.01)


def test_a_small_hole_can_still_be_seen() -> None:
    outside, _ = drawn(site("A", 500, 4, length_mm=4.0))
    (shape,) = outside.named("injury A")
    assert isinstance(shape, Line)
    xs, ys = zip(*shape.points, strict=True)
    assert max(max(xs) - min(xs), max(ys) - min(ys)) >= 0.6


def test_pads_are_seen_on_the_face_that_they_lie_on() -> None:
    outside, inside = drawn(site(), repair=REPAIR)
    assert outside.named("outside pad")
    assert not outside.named("reinforcement")
    assert inside.named("reinforcement")
    assert inside.named("inside pad")
    assert not inside.named("outside pad")


def test_what_was_not_measured_is_listed() -> None:
    views = drawn(site("A", clock_deg=None), site("B", side=""), site("C", None, None))
    told = " ".join(views[0].left_out)
    assert "Injury A is not on the clock map: its clock was not measured." in told
    assert "Injury B is not on the clock map: nobody wrote on which side it lies." in told
    assert "Injury C is on the clock map with its angle alone" in told
    assert not any(view.named("injury A") or view.named("injury B") for view in views)
    assert draw_clocks(TyreMap(), {}) == ()


@pytest.mark.parametrize("angle", [0.0, 45.0, 90.0, 180.0, 270.0, 315.0])
def test_no_words_lie_over_others(angle: float) -> None:
    many = [site(f"wound {number}", 200 + 20 * number, 15, clock_deg=angle + 3 * number) for number in range(12)]
    for view in drawn(*many):
        words = list(view.words)
        for one, other in combinations(words, 2):
            assert not one.box.meets(other.box), f"{one.text} / {other.text}"
        for word in words:
            assert word.box.left >= 0, word.text
            assert word.box.right <= view.width, word.text
            assert word.box.bottom <= view.height + 0.2, word.text
            assert word.size >= 7
        assert view.width / 2 > RADIUS
