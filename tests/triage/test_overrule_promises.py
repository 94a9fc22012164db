"""The promises of every verdict hold under overrules too: worse is never milder, what remains decides, it replays."""

import pytest
from hypothesis import HealthCheck, assume, event, given, note, settings
from hypothesis import strategies as st

from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import INJURY, VARIANT
from mendbook.terms.docket import Docket
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop, replay
from mendbook.triage.overrulable import refusal, rejecting
from tests.triage.cases import Tree, but, triage, write
from tests.triage.drawing import cases
from tests.triage.refusals import REFUSALS
from tests.triage.test_properties import draw_pair
from tests.triage.weighing import Weight, judged, weigh

SHORT = settings(
    max_examples=4,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)
LONG = settings(SHORT, max_examples=400)
BY = {"by": "Ada Winter", "on": "2026-11-24", "why": "no spare for eight weeks"}
Reject = tuple[str, str | None]  # id of the rule, name of the injury


def rejects(tree: Tree, shop: Shop, law: str) -> list[Reject]:
    """Return what a case is rejected by at the good end of its readings, and may be overruled."""
    book = shop.book
    _, asked, _ = judged(tree, shop, law)
    found: dict[Reject, None] = {}
    for one in asked.spoken:
        line = one.rule.lines[one.line]
        is_good = one.sheet.value(one.row, VARIANT) == GOOD
        if is_good and one.line in rejecting(one.rule, book) and not refusal(one.rule, line, book):
            is_tyre = one.rule.subject is Subject.TYRE
            name = None if is_tyre else tree["injuries"][int(one.sheet.value(one.row, INJURY))]["name"]
            found[one.rule.id, name] = None
    return list(found)


def let_go(tree: Tree, found: list[Reject]) -> Tree:
    """Return the case with each of the rejects `found` overruled."""
    return but(tree, overrule=[{"rule": rule, **({"injury": name} if name else {}), **BY} for rule, name in found])


def large(tree: Tree) -> Tree:
    """Return a drawn case with its injuries longer than any house allows, and measured."""
    big = {"kind": "cut", "reaches": "through", "length": "400 mm", "depth": "40 mm", "skived": "yes"}
    return but(tree, injuries=[but(injury, **big) for injury in tree["injuries"]])


def weighed(tree: Tree, shop: Shop, law: str) -> Weight:
    try:
        return weigh(tree, shop, law)
    except REFUSALS:
        assume(False)
        raise


def drawn(data: st.DataObject, tree: Tree, shop: Shop, law: str) -> list[Reject]:
    """Draw some of the rejects of a case that may be overruled."""
    try:
        found = rejects(tree, shop, law)
    except REFUSALS:
        found = []
    assume(found)
    picked = data.draw(st.lists(st.sampled_from(found), min_size=1, unique=True))
    note(f"law {law}, overruled {picked}:\n{write(tree)}")
    return picked


def check_worse_is_never_milder(data: st.DataObject, shop: Shop) -> None:
    *pair, law = draw_pair(data, shop)
    tree, worse = map(large, pair)
    picked = drawn(data, tree, shop, law)
    first, second = (weighed(let_go(one, picked), shop, law) for one in (tree, worse))
    assert first.stops <= second.stops
    if not second.stops:
        for end in ("verdict", "mild", "severe"):
            assert getattr(first, end) <= getattr(second, end), f"the {end} end got milder"


def check_what_remains_decides(data: st.DataObject, shop: Shop) -> None:
    tree = large(data.draw(cases(shop.book.vocabulary)))
    law = data.draw(st.sampled_from(("none", "us", "uk")))
    picked = drawn(data, tree, shop, law)
    try:
        docket = triage(let_go(tree, picked), shop, law=law)
    except REFUSALS:
        assume(False)
        raise
    assume(docket.verdict is not None)
    event(docket.outcome)
    verdict, worst = str(docket.verdict), shop.book.verdicts[-1]
    assert {(one.rule, None if one.about == "tyre" else one.about) for one in docket.overruled} == {*picked}
    uses = {docket.tyre.use} if docket.tyre.use in docket.uses else {*docket.uses}
    heard = [f for f in docket.findings if f.readings["as read"] and uses & {*f.use}]
    assert shop.book.rank(verdict) >= len(shop.book.verdicts) - 2
    assert verdict == worst or not any(f.counts_as == worst for f in heard)
    assert all(f.verdict == worst for f in docket.findings if f.overruled)
    kept = Docket.model_validate_json(docket.model_dump_json(by_alias=True))
    assert replay(kept, shop).differences == ()


@given(st.data())
@SHORT
def test_worse_is_never_milder_for_equal_overrules(shop: Shop, data: st.DataObject) -> None:
    check_worse_is_never_milder(data, shop)


@pytest.mark.long
@given(st.data())
@LONG
def test_worse_is_never_milder_for_equal_overrules_long(shop: Shop, data: st.DataObject) -> None:
    check_worse_is_never_milder(data, shop)


@given(st.data())
@SHORT
def test_what_remains_decides(shop: Shop, data: st.DataObject) -> None:
    check_what_remains_decides(data, shop)


@pytest.mark.long
@given(st.data())
@LONG
def test_what_remains_decides_long(shop: Shop, data: st.DataObject) -> None:
    check_what_remains_decides(data, shop)
