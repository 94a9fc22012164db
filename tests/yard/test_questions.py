"""What to measure next on the tyres of a yard: what each of them asks for alone.

The long run: python -m pytest -m long tests/yard/test_questions.py
"""

from collections.abc import Sequence

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.triage import Shop
from mendbook.yard.questions import MOST, NEXT, count_missing
from mendbook.yard.review import Reviewer
from tests.triage.cases import Tree
from tests.yard.made import make
from tests.yard.planned import ON, batch_of, dockets
from tests.yard.single import trees
from tests.yard.written import as_yard, draw_trees


@pytest.fixture
def without_plans(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out what no question hangs on."""
    monkeypatch.setattr("mendbook.triage.planning.plan_repairs", lambda *_: None)


def compare(shop: Shop, tyres: pl.DataFrame, injuries: pl.DataFrame, alone: Sequence[Tree]) -> int:
    """Compare what a yard asks for with what its tyres ask for alone; return how many ask for something."""
    decisions = Reviewer(shop, ON, ask=True).review(batch_of(tyres, injuries)).decisions
    asked = dict(decisions.select("tyre", NEXT).iter_rows())
    asking = 0
    for number, docket in dockets(shop, alone):
        wanted = [f"{look.about}: {look.fact}" for look in docket.measure_next][:MOST]
        assert (asked[number] or []) == wanted, f"tyre {number}"
        asking += bool(wanted)
    return asking


@pytest.mark.usefixtures("without_plans")
@pytest.mark.parametrize("seed", [41])
def test_a_yard_asks_for_what_its_tyres_ask_for(seed: int, shop: Shop) -> None:
    made = make(20, seed)
    assert compare(shop, made.tyres, made.injuries, list(trees(made))) > 5


@pytest.mark.long
@pytest.mark.parametrize("seed", range(400, 410))
def test_a_yard_asks_for_what_its_tyres_ask_for_at_length(seed: int, shop: Shop) -> None:
    made = make(400, seed)
    assert compare(shop, made.tyres, made.injuries, list(trees(made))) > 100


def draw_and_compare(data: st.DataObject, shop: Shop) -> None:
    drawn = draw_trees(data, shop)
    compare(shop, *as_yard(drawn), drawn)


@pytest.mark.usefixtures("without_plans")
@settings(max_examples=4, deadline=None)
@given(data=st.data())
def test_drawn_tyres_ask_for_what_they_ask_for_alone(data: st.DataObject, shop: Shop) -> None:
    draw_and_compare(data, shop)


@pytest.mark.long
@settings(max_examples=400, deadline=None)
@given(data=st.data())
def test_drawn_tyres_ask_for_what_they_ask_for_alone_at_length(data: st.DataObject, shop: Shop) -> None:
    draw_and_compare(data, shop)


def test_what_most_tyres_wait_for_comes_first() -> None:
    looks = pl.Series([["A: depth", "tyre: age"], None, ["B: depth", "A: depth"], ["3: low: casing X-ray"], []])
    assert count_missing(looks).rows() == [("depth", 2), ("age", 1), ("casing X-ray", 1)]
