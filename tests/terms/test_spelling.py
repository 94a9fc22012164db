from hypothesis import given
from hypothesis import strategies as st

from mendbook.terms.spelling import did_you_mean, suggest

KNOWN = ("cut width", "cut length", "zone", "Shore A")


def test_the_nearest_word_is_suggested_as_it_is_spelled() -> None:
    assert suggest("cut widht", KNOWN) == "cut width"
    assert suggest(" shore a", KNOWN) == "Shore A"
    assert did_you_mean("zoone", KNOWN) == " Did you mean 'zone'?"


def test_nothing_is_suggested_when_nothing_is_near() -> None:
    assert suggest("xyz", KNOWN) is None
    assert suggest("zone", ()) is None
    assert did_you_mean("xyz", KNOWN) == ""


@given(st.text(max_size=300))
def test_any_text_is_answered(word: str) -> None:
    assert suggest(word, KNOWN) in (None, *KNOWN)
