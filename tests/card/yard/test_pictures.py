"""The pictures of a review: no words over words, and shades that stay apart in grey."""

from collections.abc import Callable
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from mendbook.card.cure_pictures.page import styled
from mendbook.card.yard.blocking import blocking
from mendbook.card.yard.pictures import LOOKS, UNJUDGED, draw_counts, draw_limits, draw_verdicts
from mendbook.yard.summary import AROUND, Summary, Tally
from tests.card.yard.samples import book, rude, summary

DRAWN: dict[str, Callable[[Summary], Figure]] = {
    "sizes": lambda found: draw_verdicts(found.sizes, book().verdicts),
    "zones": lambda found: draw_verdicts(found.zones, book().verdicts),
    "causes": lambda found: draw_verdicts(found.causes, book().verdicts),
    "blocks": lambda found: draw_counts([(one.name, one.number, one.what) for one in blocking(found, book())]),
    "missing": lambda found: draw_counts([(fact, number, "hold") for fact, number in found.missing.items()]),
    "near": lambda found: draw_limits(found.around),
}


def assert_legible(figure: Figure) -> None:
    with styled():
        found = [(text.get_text(), text.get_window_extent()) for text in figure.texts if text.get_text()]
    page = figure.bbox
    assert found
    assert [words for words, box in found if box.x0 < page.x0 - 1 or page.x1 + 1 < box.x1] == []
    assert [words for words, box in found if box.y0 < page.y0 - 1 or page.y1 + 1 < box.y1] == []
    assert [(a, b) for (a, one), (b, other) in combinations(found, 2) if one.overlaps(other)] == []


@pytest.mark.parametrize("name", DRAWN)
@pytest.mark.parametrize("of", [summary, rude])
def test_words_do_not_overlap_or_run_off(name: str, of: Callable[[], Summary]) -> None:
    assert_legible(DRAWN[name](of()))


numbers = st.one_of(st.integers(0, 3), st.integers(0, 9_999_999))
tallies = st.lists(numbers, min_size=7, max_size=7).filter(any).map(
    lambda found: Tally(verdicts={v: n for v, n in zip([*book().verdicts, ""], found, strict=True) if n})
)  # fmt: skip


@settings(max_examples=6, deadline=None)
@given(st.dictionaries(st.text(max_size=40), tallies, min_size=1, max_size=4))
def test_bars_of_any_numbers_are_legible_and_fill_their_row(groups: dict[str, Tally]) -> None:
    figure = draw_verdicts(groups, book().verdicts)
    assert_legible(figure)
    bars: dict[float, list[Rectangle]] = {}
    for box in figure.patches + figure.artists:
        if isinstance(box, Rectangle) and box.get_height() > 4:
            bars.setdefault(box.get_y(), []).append(box)
    assert len(bars) == len(groups)
    for row in bars.values():
        assert all(
            one.get_x() + one.get_width() == pytest.approx(other.get_x(), abs=1e-6) for one, other in pairwise(row)
        )
        assert sum(box.get_width() for box in row) == pytest.approx(59.0)


@settings(max_examples=6, deadline=None)
@given(
    st.dictionaries(
        st.text(max_size=90),
        st.dictionaries(st.integers(-AROUND, AROUND).map(str), st.integers(1, 10**6), min_size=1),
        min_size=1,
        max_size=4,
    )
)
def test_dots_of_any_limits_are_legible(around: dict[str, dict[str, int]]) -> None:
    assert_legible(draw_limits(around))


def test_neighbours_are_told_apart_in_grey() -> None:
    """Luma after ITU-R BT.601 (from memory); a step of a tenth or another hatching is seen on any printer."""
    looks = [*LOOKS, UNJUDGED]
    luma = [sum(w * c for w, c in zip((0.299, 0.587, 0.114), to_rgb(look["facecolor"]), strict=True)) for look in looks]
    for (one, dark), (other, light) in combinations(zip(looks, luma, strict=True), 2):
        assert abs(dark - light) > 0.1 or one.get("hatch") != other.get("hatch")
    assert luma[: len(LOOKS)] == sorted(luma[: len(LOOKS)], reverse=True)


def test_the_check_sees_words_that_overlap() -> None:
    figure = DRAWN["zones"](summary())
    figure.text(0.5, 0.5, "one")
    figure.text(0.5, 0.5, "other")
    with pytest.raises(AssertionError):
        assert_legible(figure)
