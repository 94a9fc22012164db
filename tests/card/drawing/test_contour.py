"""The curve of a section: as long as the outline says, whatever the tyre."""

from itertools import pairwise
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.path import Path

from mendbook.card.drawing.contour import ContourError, contour_of
from tests.card.drawing.outlines import SIZES, outline


def length(points: list[tuple[float, float]]) -> float:
    return sum(dist(one, other) for one, other in pairwise(points))


@given(st.sampled_from(SIZES), st.floats(0.85, 1.2), st.floats(0, 1), st.floats(0, 1))
def test_a_piece_of_it_is_as_long_as_the_tape_reads(size: str, swell: float, one: float, other: float) -> None:
    curve = contour_of(outline(size, swell))
    start, end = (share * curve.half_girth for share in sorted((one, other)))
    assert length(curve.outer(start, end)) == pytest.approx(end - start, rel=2e-3, abs=0.2)


@given(st.sampled_from(SIZES), st.floats(0.85, 1.2))
def test_it_runs_from_the_rim_to_the_crown_and_is_about_as_wide_as_the_tyre(size: str, swell: float) -> None:
    given_outline = outline(size, swell)
    curve = contour_of(given_outline)
    toe, crown = curve.outer(0, 0)[0], curve.outer(curve.half_girth, curve.half_girth)[0]
    assert toe[1] == 0
    assert crown == pytest.approx((0, given_outline.height_mm), abs=1e-6)
    assert float(curve.points[:, 0].max()) * 2 == pytest.approx(given_outline.width_mm, rel=0.35)


@given(st.sampled_from(SIZES), st.floats(0.85, 1.2))
def test_the_inside_lies_within_and_follows_the_outside(size: str, swell: float) -> None:
    curve = contour_of(outline(size, swell))
    places = [share * curve.half_girth / 20 for share in range(21)]
    inside = [curve.inner(place, place)[0] for place in places]
    outside = [curve.outer(place, place)[0] for place in places]
    within = Path([*curve.outer(0, curve.half_girth), (0.0, 0.0)]).contains_points(inside[1:-1])
    assert within.all()
    thin = min(dist(inner, outer) for inner, outer in zip(inside, outside, strict=True))
    assert thin > 0.04 * outline(size, swell).height_mm
    assert all(lower[1] <= higher[1] + 1e-6 for lower, higher in pairwise(inside))


def test_past_the_centreline_it_goes_on_in_the_other_half() -> None:
    curve = contour_of(outline("26.5R25"))
    (here,), (beyond,) = ([curve.outer(curve.half_girth + off, curve.half_girth + off)[0]] for off in (-50, 50))
    assert beyond == pytest.approx((-here[0], here[1]))


def test_measures_that_no_section_can_have_are_refused() -> None:
    usual = outline("26.5R25")
    for change in ({"half_girth_mm": 5000.0}, {"half_girth_mm": 400.0}, {"height_mm": 30.0}):
        with pytest.raises(ContourError):
            contour_of(usual.model_copy(update=change))
