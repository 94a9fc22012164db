import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from mendbook.terms.load_index import GREATEST, LEAST, LoadIndexError, load_kg, read_load_index

# Rows of the ISO / UN R54 table as read in public copies. One copy has 21 800 kg at 214, which breaks the
# series (134 stands for 2 120 kg, and eighty steps are ten times the load); 21 800 kg is index 215.
PUBLISHED = """
70 335, 100 800, 108 1000, 116 1250, 120 1400, 121 1450, 125 1650, 130 1900, 135 2180, 140 2500, 141 2575,
145 2900, 146 3000, 148 3150, 149 3250, 150 3350, 152 3550, 154 3750, 156 4000, 158 4250, 160 4500, 162 4750,
164 5000, 165 5150, 166 5300, 168 5600, 170 6000, 172 6300, 174 6700, 175 6900, 176 7100, 178 7500, 180 8000,
182 8500, 184 9000, 185 9250, 187 9750, 190 10600, 193 11500, 200 14000, 201 14500, 202 15000, 203 15500,
204 16000, 209 18500, 216 22400, 218 23600, 223 27250, 229 32500
"""
ROWS = [tuple(map(int, row.split())) for row in PUBLISHED.split(",")]


@pytest.mark.parametrize(("index", "kg"), ROWS)
def test_the_load_is_the_published_one(index: int, kg: int) -> None:
    assert load_kg(index) == kg


def test_148_in_pounds() -> None:  # a public table misprints this row as 6 844 lb
    assert load_kg(148) / constants.pound == pytest.approx(6944.6, abs=0.05)


@given(st.integers(LEAST, GREATEST))
def test_loads_follow_the_closed_form_of_preferred_numbers(index: int) -> None:
    assert load_kg(index) == pytest.approx(45 * 10 ** (index / 80), rel=0.025)


@given(st.integers(LEAST, GREATEST - 1))
def test_each_index_carries_more_than_the_one_before(index: int) -> None:
    assert load_kg(index + 1) > load_kg(index)


@given(st.integers(LEAST, GREATEST - 80))
def test_eighty_steps_are_ten_times_the_load(index: int) -> None:
    assert load_kg(index + 80) == pytest.approx(10 * load_kg(index), abs=10)


@pytest.mark.parametrize(
    ("text", "single_kg", "dual_kg", "speed"),
    [
        ("149/146L", 3250, 3000, "L"),  # the pair a public copy shows as its example (read)
        ("193/190 B", 11500, 10600, "B"),
        ("193 B", 11500, None, "B"),
        ("193A2", 11500, None, "A2"),
        ("193", 11500, None, None),
        (" 149 / 149 l ", 3250, 3250, "L"),
    ],
)
def test_a_mark_is_read(text: str, single_kg: int, dual_kg: int | None, speed: str | None) -> None:
    read = read_load_index(text)
    assert (read.single_kg, read.dual_kg) == (single_kg, dual_kg)
    assert (read.speed.symbol if read.speed else None) == speed


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("146/149L", "Write it as 149/146"),
        ("60 B", "from 70 to 259"),
        ("300", "from 70 to 259"),
        ("149/20L", "from 70 to 259"),
        ("149/146X", "never used"),
        ("149/146A", "needs its digit"),
        ("152/148 M (154/150 L)", "'149/146L'"),
        ("3250 kg", "'149/146L'"),
        ("", "'149/146L'"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str, told: str) -> None:
    with pytest.raises(LoadIndexError) as caught:
        read_load_index(text)
    assert told in str(caught.value)
