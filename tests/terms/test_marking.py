import pytest

from mendbook.terms.marking import find_markings


@pytest.mark.parametrize(
    ("text", "markings"),
    [
        ("", ()),
        ("TG", ("TG",)),
        ("** TL L-5", ("**", "TL", "L-5")),
        ("28 PR TT", ("28 PR", "TT")),
        ("193/190 B, E-4", ("193/190 B", "E-4")),
        ("156 / 150 L (154/150 M)", ("156 / 150 L", "154/150 M")),
    ],
)
def test_markings_behind_a_size(text: str, markings: tuple[str, ...]) -> None:
    assert find_markings(text) == (markings, "")


def test_the_first_word_that_is_no_marking_is_told() -> None:
    assert find_markings("TL blue 28 PR") == (("TL",), "BLUE")
