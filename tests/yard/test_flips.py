"""Which tyres flip by another book, and through which rules."""

from dataclasses import replace
from datetime import date
from functools import reduce
from operator import add

import polars as pl
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.card import as_text
from mendbook.card.yard import flips_report
from mendbook.triage import Shop
from mendbook.triage.shop import set_up
from mendbook.yard.batch import Batch
from mendbook.yard.flips import NOT_JUDGED, Flips, find_flips, sum_flips
from mendbook.yard.review import Reviewer
from tests.yard.drawn import drawn
from tests.yard.made import make

GONE = "tread/readings_road"


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_flips_add_up_in_any_order(data: st.DataObject, shop: Shop) -> None:
    then, now = data.draw(drawn(shop.book)), data.draw(drawn(shop.book))
    number = data.draw(st.integers(1, 3))
    pairs = zip(then.batches(number), now.batches(number), strict=True)
    parts = [sum_flips(one.decisions, other.decisions) for (_, one), (_, other) in pairs]
    whole = sum_flips(*(yard.batch(yard.tyres)[1].decisions for yard in (then, now)))
    assert reduce(add, data.draw(st.permutations(parts)), Flips()) == whole


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_nothing_flips_by_the_same_book_and_back_again_is_the_other_way(data: st.DataObject, shop: Shop) -> None:
    then, now = (
        yard.batch(yard.tyres)[1].decisions for yard in (data.draw(drawn(shop.book)), data.draw(drawn(shop.book)))
    )
    assert find_flips(then, then).is_empty()
    there, back = find_flips(then, now), find_flips(now, then)
    assert there.get_column("tyre").sort().equals(back.get_column("tyre").sort())
    assert sum_flips(then, now).gone == sum_flips(now, then).come


def test_a_rule_withdrawn_lets_go_of_those_that_it_alone_held(shop: Shop) -> None:
    made = make(150, 7)
    book = replace(shop.book, rules=tuple(rule for rule in shop.book.rules if rule.id != GONE))
    then, now = (
        Reviewer(one, date(2026, 11, 25)).review(Batch(made.tyres, made.injuries)).decisions
        for one in (shop, set_up(book))
    )
    flips = sum_flips(then, now)
    lone = then.filter(
        pl.col("outcome") == "hold",
        pl.col("held by") == pl.lit([GONE], pl.List(pl.String)),
        pl.col("tyre's mildest") == pl.col("tyre's worst"),
    )
    assert 0 < flips.flipped == lone.get_column("tyre").n_unique()
    assert flips.gone == {GONE: flips.flipped}
    assert flips.come == {}
    assert flips.verdicts == {}
    said = as_text(flips_report(flips, (shop.book, book), ("shipped", "without one rule")))
    assert f"{flips.flipped} of {flips.tyres} tyres" in said
    assert GONE in said


def test_a_tyre_that_only_one_book_can_judge_is_told(shop: Shop) -> None:
    made = make(20, 3)
    then = Reviewer(shop, date(2026, 11, 25)).review(Batch(made.tyres, made.injuries)).decisions
    found = find_flips(then, then.filter(pl.col("tyre") != 5))
    assert found.select("tyre", "outcome now", "verdict now").rows() == [(5, NOT_JUDGED, NOT_JUDGED)]
