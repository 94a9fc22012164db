"""Labels keep apart, and the widths of letters are those of the widest font."""

from itertools import pairwise
from pathlib import Path

import matplotlib
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from mendbook.card.drawing.labels import Label, column, spread
from mendbook.card.drawing.letters import text_width
from mendbook.card.drawing.marks import marks_of
from mendbook.card.drawing.shapes import Line, Words


@given(st.lists(st.floats(0, 100), min_size=1, max_size=20), st.floats(0.5, 6))
def test_labels_keep_their_order_and_their_distance(wished: list[float], size: float) -> None:
    placed = spread(wished, [size] * len(wished), 0, 200)
    ordered = sorted(range(len(wished)), key=lambda index: (wished[index], index))
    heights = [placed[index] for index in ordered]
    assert all(later - earlier >= size - 1e-9 for earlier, later in pairwise(heights))
    assert min(heights) >= size / 2 - 1e-9


def test_a_label_with_room_stands_at_its_place() -> None:
    assert spread([10.0, 50.0], [4.0, 4.0], 0, 100) == [10.0, 50.0]
    assert spread([10.0, 10.0], [4.0, 4.0], 0, 100) == [8.0, 12.0]


def test_a_line_leads_from_every_label_to_its_point() -> None:
    made = list(column([Label("a", (5.0, 5.0), "one"), Label("b", (5.0, 5.0), "two")], 20, 0, 40, anchor="start"))
    assert [shape.text for shape in made if isinstance(shape, Words)] == ["one", "two"]
    assert all(shape.points[-1] == (5.0, 5.0) for shape in made if isinstance(shape, Line))


def test_letters_are_as_wide_as_the_font_says() -> None:
    folder = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    for file, bold in (("DejaVuSans.ttf", False), ("DejaVuSans-Bold.ttf", True)):
        font = TTFont(folder / file)
        letters, widths, unit = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
        for code in range(32, 127):
            wide = widths[letters[code]][0] / unit
            assert abs(text_width(chr(code), bold=bold) - wide) < 1e-3, chr(code)


@given(st.lists(st.text(max_size=12), unique=True, max_size=14))
def test_marks_are_short_and_no_two_alike(names: list[str]) -> None:
    marks = marks_of(names)
    assert len(set(marks)) == len(names)
    assert all(0 < len(mark) <= 3 for mark in marks)
