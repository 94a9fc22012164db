from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.terms.strength import StrengthError, assumed_plies, read_ply_rating, read_star_rating


@pytest.mark.parametrize(
    ("text", "stars"),
    [("*", 1), ("**", 2), ("***", 3), ("★★", 2), ("2 star", 2), ("2-star", 2), ("three stars", 3)],
)
def test_stars(text: str, stars: int) -> None:
    assert read_star_rating(text) == stars


@pytest.mark.parametrize(("text", "rating"), [("40 PR", 40), ("40PR", 40), ("PR 28", 28), ("16 ply rating", 16)])
def test_a_ply_rating(text: str, rating: int) -> None:
    assert read_ply_rating(text) == rating


@pytest.mark.parametrize("text", ["", "****", "0 star", "99 stars", "star", "40 PR", "2"])
def test_what_are_no_stars(text: str) -> None:
    with pytest.raises(StrengthError, match=r"'\*\*'"):
        read_star_rating(text)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("40 ply", "not a count of plies"),
        ("22 plies", "not a count of plies"),
        ("41 PR", "even numbers from 4 to 84"),
        ("2 PR", "even numbers"),
        ("400 PR", "even numbers"),
        ("40", "'40 PR'"),
        ("**", "'40 PR'"),
    ],
)
def test_what_is_no_ply_rating(text: str, told: str) -> None:
    with pytest.raises(StrengthError) as caught:
        read_ply_rating(text)
    assert told in str(caught.value)


def test_plies_assumed_under_a_rating() -> None:
    assert assumed_plies(40) == 22  # ceil(0.55 * 40) would give 23: 0.55 is a little more than 55 %
    assert assumed_plies(28) == 16
    assert assumed_plies(16) == 9


@given(st.integers(1, 100))
def test_no_more_plies_are_assumed_than_the_rating_says(rating: int) -> None:
    plies = assumed_plies(rating)
    assert plies == ceil(rating * 55 / 100)
    assert plies <= rating
