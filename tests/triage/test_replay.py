"""A docket can be judged again and gives itself; by another book it says what differs."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, note, settings
from hypothesis import strategies as st

from mendbook.rulebook.tree import Line
from mendbook.terms.case_file import read_case
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, judge, replay
from mendbook.triage.evaluators import ColumnEvaluator
from mendbook.triage.replay import Difference, UnreplayableError, deciding_rule
from tests.triage.cases import CUT, LOADER, TRUCK, Tree, but, read, triage, write
from tests.triage.drawing import cases
from tests.triage.refusals import REFUSALS

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHORT = settings(
    max_examples=10,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)
LONG = settings(SHORT, max_examples=1000)


def kept(docket: Docket) -> Docket:
    """Return a docket as it comes back from the file it was kept in."""
    return Docket.model_validate_json(docket.model_dump_json(by_alias=True))


def check_replay(docket: Docket, shop: Shop) -> None:
    again = replay(kept(docket), shop)
    assert (again.is_same_book, again.differences) == (True, ())
    assert again.docket.model_dump_json() == docket.model_dump_json()


@pytest.mark.parametrize("file", sorted(EXAMPLES.rglob("*.yaml")), ids=lambda file: file.stem)
def test_every_example_gives_itself(file: Path, shop: Shop) -> None:
    check_replay(judge(read_case(file, shop.book.vocabulary), shop), shop)


def check_drawn(tree: Tree, law: str | None, shop: Shop) -> None:
    note(f"law {law}:\n{write(tree)}")
    try:
        docket = triage(tree, shop, law=law)
    except REFUSALS:
        assume(False)
        raise
    check_replay(docket, shop)


@given(st.data())
@SHORT
def test_every_case_gives_itself(shop: Shop, data: st.DataObject) -> None:
    check_drawn(data.draw(cases(shop.book.vocabulary)), data.draw(st.sampled_from((None, "us", "uk", "none"))), shop)


@pytest.mark.long
@given(st.data())
@LONG
def test_every_case_gives_itself_long(shop: Shop, data: st.DataObject) -> None:
    check_drawn(data.draw(cases(shop.book.vocabulary)), data.draw(st.sampled_from((None, "us", "uk", "none"))), shop)


def test_an_undated_case_keeps_the_day_it_was_judged_on(shop: Shop) -> None:
    case = read(but(LOADER, judged_on=None), shop.book.vocabulary)
    check_replay(judge(case, shop, now=datetime(2036, 1, 1, tzinfo=UTC)), shop)


def test_the_docket_holds_what_was_written_and_no_more(shop: Shop) -> None:
    written = but(
        LOADER, injuries=[but(CUT, length="1 7/8 in", clock="3 o'clock", kind="unknown", width="110 to 118 mm")]
    )
    assert triage(written, shop).written == written


def test_odd_figures_and_letters_come_back(shop: Shop) -> None:
    odd = but(TRUCK, case="Fahrer \U0001f69a \x85 & 'Söhne': #1", service={"tkph rating": "250", "cycles": "4"})
    check_replay(triage(odd, shop), shop)


def with_book(shop: Shop, change: Callable[[Line], Line], rule_id: str) -> Shop:
    """Return the shop judging by a book in which one rule's lines are changed."""
    rules = tuple(
        replace(rule, lines=tuple(map(change, rule.lines))) if rule.id == rule_id else rule for rule in shop.book.rules
    )
    book = replace(shop.book, rules=rules, digest="another")
    return replace(shop, book=book, evaluator=ColumnEvaluator(book))


def test_another_book_says_what_differs(shop: Shop) -> None:
    docket = triage(but(LOADER, injuries=[CUT]), shop)
    rule = deciding_rule(docket)
    assert rule == "sidewall/through_steel_radial"

    def harder(line: Line) -> Line:
        return replace(line, outcome=replace(line.outcome, verdict="reject"))

    again = replay(docket, with_book(shop, harder, rule))
    assert not again.is_same_book
    told = {one.what: one for one in again.differences}
    assert told["outcome"] == Difference("outcome", "repair", "reject")
    assert told["verdict"] == Difference("verdict", "section", "reject")
    assert told["bracket"] == Difference("bracket", "section", "reject")
    assert {"uses", "findings", "plan"} <= told.keys()
    assert "holds" not in told


def test_a_hold_that_is_gone_and_another_rule_that_decides_are_told(shop: Shop) -> None:
    docket = triage(but(LOADER, found={"pressure at removal": "unknown"}, injuries=[CUT]), shop)
    held = next(finding for finding in docket.findings if finding.text in docket.holds)

    def silent(line: Line) -> Line:
        return replace(line, outcome=replace(line.outcome, hold=None, caution=("Look.",)))

    told = {one.what: one for one in replay(docket, with_book(shop, silent, held.rule)).differences}
    assert told["holds"] == Difference("holds", held.text, "nothing")


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"written": {}}, "the docket does not hold its case"),
        ({"judged": "yesterday"}, "'yesterday' is no time"),
        ({"law": "xx"}, "'xx' is not known here"),
    ],
)
def test_a_docket_that_cannot_be_judged_again_says_why(changes: Tree, fault: str, shop: Shop) -> None:
    docket = triage(LOADER, shop).model_copy(update=changes)
    with pytest.raises(UnreplayableError, match=fault):
        replay(docket, shop)
