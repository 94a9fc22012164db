"""The picture of the levers: bars where their figures say, and letters that do not leave the page."""

import xml.etree.ElementTree as ET
from datetime import UTC, datetime
from io import BytesIO

import matplotlib.image
import pytest

from mendbook.card.worth.picture import caption, draw_levers
from mendbook.terms.worth import Worth
from mendbook.triage import Shop, judge
from tests.worth.invented import WRITTEN, case

STAMP = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def worth(shop: Shop) -> Worth:
    found = judge(case(shop.book.vocabulary, WRITTEN | {"mean life": "9000 ± 4000 h"}), shop, now=STAMP).worth
    assert found is not None
    return found


def test_it_names_the_largest_levers_and_their_ends(worth: Worth) -> None:
    drawn = draw_levers("an invented case", worth, as_vectors=True)
    words = " ".join(text.text or "" for text in ET.fromstring(drawn).iter("{http://www.w3.org/2000/svg}text"))
    for lever in worth.levers[:5]:
        assert lever.name in words
    assert "5,000 h" in words
    assert "13,000 h" in words
    assert worth.levers[5].name not in words


def test_it_is_the_same_every_time(worth: Worth) -> None:
    assert draw_levers("a", worth, as_vectors=True) == draw_levers("a", worth, as_vectors=True)


def test_nothing_is_drawn_on_the_edge_of_the_page(worth: Worth) -> None:
    pixels = matplotlib.image.imread(BytesIO(draw_levers("an invented case", worth, as_vectors=False)))
    assert pixels.shape[1] > 1000
    for edge in (pixels[:10], pixels[-10:], pixels[:, :10], pixels[:, -10:]):
        assert float(edge.min()) == 1.0


def test_what_is_struck_out_is_said_in_the_picture(worth: Worth) -> None:
    assert "Struck out: rejected by law" in caption(worth.model_copy(update={"struck": "rejected by law."}))
