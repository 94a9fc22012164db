"""The search against trying every rung."""

from hypothesis import given
from hypothesis import strategies as st

from mendbook.cure.advice.ladder import highest


@given(st.integers(0, 60), st.integers(0, 60), st.integers(1, 30))
def test_it_finds_the_last_rung_that_fits(rungs: int, last: int, stride: int) -> None:
    found = highest(lambda figure: figure <= 100 + last / 2, 100, 100 + rungs / 2, 0.5, stride / 2)
    assert found == 100 + min(rungs, last) / 2


@given(st.lists(st.booleans(), min_size=1, max_size=40), st.integers(1, 10))
def test_whatever_fits_it_finds_one_whose_next_does_not(fits: list[bool], stride: int) -> None:
    found = highest(lambda figure: fits[int(figure)], 0, len(fits) - 1, 1, stride)
    if found is None:
        assert not fits[0]
    else:
        assert fits[int(found)]
        assert found == len(fits) - 1 or not fits[int(found) + 1]


def test_nothing_is_found_where_there_is_no_rung_or_none_fits() -> None:
    assert highest(lambda _: True, 10, 9, 1, 5) is None
    assert highest(lambda _: False, 10, 90, 1, 5) is None
