"""What a decision means in words, the same for one row and for a frame."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.triage import Shop
from mendbook.yard.words import IN_WORDS, add_words, in_words
from tests.yard.drawn import drawn

TOLD = {
    "stop": "Stop: people first. Nothing else is decided until this is cleared.",
    "reject": "Reject: no repair and no further service. This injury: spot repair.",
    "hold": "Hold: no release yet. So far: between spot repair and reject. This injury: spot repair.",
    "repair": "Repair: section repair. This injury: spot repair.",
    "serve": "Serve: back to service as it is. This injury: spot repair.",
}


@pytest.mark.parametrize("outcome", TOLD)
def test_a_row_in_words(outcome: str) -> None:
    row = {
        "outcome": outcome, "tyre's verdict": "section", "tyre's mildest": "spot", "tyre's worst": "reject",
        "verdict": "spot", "injury": 0,
    }  # fmt: skip
    assert in_words(row) == TOLD[outcome]


@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_a_frame_says_of_each_row_what_the_row_says(data: st.DataObject, shop: Shop) -> None:
    yard = data.draw(drawn(shop.book))
    _, reviewed = yard.batch(yard.tyres)
    told = add_words(reviewed.decisions)
    assert told.drop(IN_WORDS).equals(reviewed.decisions)
    assert told.get_column(IN_WORDS).to_list() == [in_words(row) for row in reviewed.decisions.iter_rows(named=True)]
