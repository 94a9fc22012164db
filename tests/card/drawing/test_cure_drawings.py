"""Stack and curve of a cure against its order and its sheet."""

from itertools import combinations, pairwise
from math import dist

import pytest

from mendbook.card.drawing.cure_view import draw_cure_curve
from mendbook.card.drawing.shapes import Drawing, Line
from mendbook.card.drawing.stack_view import draw_stack
from mendbook.cure.traces import trace_temperatures
from tests.card.cure_pictures.orders import ORDERS, sheet

NAMES = sorted(ORDERS)


def line(drawing: Drawing, name: str) -> Line:
    shape = drawing.named(name)[0]
    assert isinstance(shape, Line)
    return shape


@pytest.mark.parametrize("name", NAMES)
def test_every_layer_is_as_thick_as_ordered_and_the_slow_point_lies_in_its_place(name: str) -> None:
    drawing = draw_stack(ORDERS[name], sheet(name))
    assert drawing.scale is not None
    top = line(drawing, "layer 0").points[0][1]
    for number, layer in enumerate(ORDERS[name].layers):
        box = line(drawing, f"layer {number}").points
        assert (box[2][1] - box[1][1]) * drawing.scale == pytest.approx(layer.thickness_mm)
    slow = line(drawing, "slowest").points[0][1]
    assert (slow - top) * drawing.scale == pytest.approx(sheet(name).slowest.depth_mm)


@pytest.mark.parametrize("name", NAMES)
def test_the_curve_stands_where_the_temperatures_are(name: str) -> None:
    order, answer = ORDERS[name], sheet(name)
    drawing = draw_cure_curve(order, answer)
    traced = trace_temperatures(order, answer)
    axis, levels = line(drawing, "axis").points, [shape for shape in drawing.shapes if shape.name.startswith("level ")]
    degrees = [float(level.name.split()[1]) for level in levels]
    ys = [level.points[0][1] for level in levels if isinstance(level, Line)]
    per_degree = (ys[0] - ys[-1]) / (degrees[-1] - degrees[0])
    slow = line(drawing, "slowest point").points
    hottest = degrees[0] + (ys[0] - min(y for _, y in slow)) / per_degree
    assert hottest == pytest.approx(float(traced.slowest.max()), abs=1.0)
    off = line(drawing, "at power off").points[0][0]
    share = (off - axis[0][0]) / (axis[1][0] - axis[0][0])
    assert share * traced.minutes[-1] == pytest.approx(answer.minutes_from_switch_on, abs=0.5)
    assert all(dist(one, other) < 12 for one, other in pairwise(slow))


@pytest.mark.parametrize("name", NAMES)
def test_no_words_lie_over_others_or_off_the_picture(name: str) -> None:
    for drawing in (draw_stack(ORDERS[name], sheet(name)), draw_cure_curve(ORDERS[name], sheet(name))):
        words = list(drawing.words)
        for one, other in combinations(words, 2):
            assert not one.box.meets(other.box), f"{one.text} / {other.text}"
        for word in words:
            assert word.size >= 7
            assert word.box.left >= 0, word.text
            assert word.box.right <= drawing.width, word.text
            assert word.box.top >= -0.2, word.text
            assert word.box.bottom <= drawing.height + 0.2, word.text
