"""No words on a picture hide other words or run off the page, whatever the order."""

from collections.abc import Iterator
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from mendbook.card.cure_pictures import PICTURES, Picture, draw_cure
from mendbook.card.cure_pictures.labels import spread
from mendbook.card.cure_pictures.page import styled
from tests.card.cure_pictures.orders import ORDERS, drawn, lines, sheet


def texts(figure: Figure) -> Iterator[Text]:
    """Yield every text that is drawn: a tick outside the axis is not."""
    yield from figure.texts
    for axes in figure.axes:
        yield from axes.texts
        for axis in (axes.xaxis, axes.yaxis):
            yield axis.label
            low, high = sorted(axis.get_view_interval())
            yield from (tick.label1 for tick in axis.get_major_ticks() if low <= tick.get_loc() <= high)


def boxes(figure: Figure) -> list[tuple[str, Bbox]]:
    with styled():
        return [(text.get_text(), text.get_window_extent()) for text in texts(figure) if text.get_text().strip()]


def assert_legible(figure: Figure) -> None:
    found = boxes(figure)
    assert len(found) > 20
    page = figure.bbox
    assert [words for words, box in found if not (page.x0 <= box.x0 and box.x1 <= page.x1)] == []
    assert [words for words, box in found if not (page.y0 <= box.y0 and box.y1 <= page.y1)] == []
    assert [(a, b) for (a, one), (b, other) in combinations(found, 2) if one.overlaps(other)] == []


def assert_no_curve_hidden(figure: Figure) -> None:
    """Check the words that stand within axes."""
    axes = figure.axes[1]
    (words,) = axes.texts
    with styled():
        box = words.get_window_extent()
    for label, line in lines(figure, 1).items():
        if label.startswith(("at power-off", "when cold", "limit")):
            points = axes.transData.transform(np.column_stack([line.get_xdata(), line.get_ydata()]))
            assert box.count_contains(points) == 0, label


def assert_room_for_curves(figure: Figure) -> None:
    for axes in figure.axes:
        box = axes.get_window_extent()
        assert box.height > 0.05 * figure.bbox.height
        assert box.width > 0.5 * figure.bbox.width
    for axes in (figure.axes[0], figure.axes[2]):
        low, high = axes.get_ylim()
        for line in axes.lines:
            if line.get_transform() == axes.transData:
                heights = np.asarray(line.get_ydata(), dtype=float)
                assert low <= np.nanmin(heights) <= np.nanmax(heights) <= high, line.get_label()


@pytest.mark.parametrize("name", ORDERS)
def test_every_order_is_drawn_legibly(name: str) -> None:
    assert_legible(drawn(name))
    assert_no_curve_hidden(drawn(name))
    assert_room_for_curves(drawn(name))


@pytest.mark.parametrize("picture", PICTURES[:-1])
@pytest.mark.parametrize("name", ["thin", "unequal"])
def test_no_words_overlap_on_a_picture_alone(picture: Picture, name: str) -> None:
    assert_legible(drawn(name, picture))


def test_the_check_sees_words_that_overlap() -> None:
    figure = draw_cure("temperatures", ORDERS["thin"], sheet("thin"))
    figure.text(0.5, 0.5, "one")
    figure.text(0.5, 0.5, "other")
    with pytest.raises(AssertionError):
        assert_legible(figure)


@pytest.mark.parametrize("name", ["usual", "unequal", "bare"])
@pytest.mark.parametrize("axes", [0, 1, 2])
def test_curves_are_told_apart_without_colour(name: str, axes: int) -> None:
    looks = {}
    for label, line in lines(drawn(name), axes).items():
        if len(line.get_xdata()) > 2:
            kind = label.partition(":")[0]
            # matplotlib says only that a line is dashed, not how.
            looks[kind] = (line.get_linestyle(), line._unscaled_dash_pattern, line.get_linewidth(), line.get_marker())
    assert len(looks) >= 3
    assert len({repr(look) for look in looks.values()}) == len(looks)


places = st.lists(st.tuples(st.floats(-20, 120), st.floats(0.1, 9)), min_size=1, max_size=9)


@given(places)
def test_labels_are_spread_so_that_none_overlap(given_places: list[tuple[float, float]]) -> None:
    wished, sizes = zip(*given_places, strict=True)
    found = spread(wished, sizes, 0, 100)
    edges = sorted((place - size / 2, place + size / 2) for place, size in zip(found, sizes, strict=True))
    assert edges[0][0] >= -1e-9
    assert edges[-1][1] <= 100 + 1e-9
    assert all(before[1] <= after[0] + 1e-9 for before, after in pairwise(edges))
    order = sorted(range(len(wished)), key=lambda index: wished[index])
    assert [found[index] for index in order] == sorted(found)


def test_a_label_with_room_stays_where_it_is_wished() -> None:
    assert spread([30, 10, 90], [8, 8, 8], 0, 100) == pytest.approx([30, 10, 90])


def test_two_labels_in_each_others_way_move_by_half_each() -> None:
    assert spread([50, 52], [8, 8], 0, 100) == pytest.approx([47, 55])
