"""Adding a rule can only make an answer stricter: drawn rules are added to the book, and both evaluators judge."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, note, settings
from hypothesis import strategies as st

from mendbook.rulebook.phrases import read_bounds
from mendbook.rulebook.tree import Bound, Line, Op, Outcome, Rule
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from mendbook.triage.evaluators import BothEvaluators, ColumnEvaluator, rule_engine_is_available
from tests.triage.cases import CUT, LOADER, but, write
from tests.triage.drawing import cases
from tests.triage.refusals import REFUSALS
from tests.triage.rule_drawing import DRAWN, SOURCE, rules
from tests.triage.weighing import weigh

SHORT = settings(
    max_examples=10,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)
LONG = settings(SHORT, max_examples=300)


def with_rule(shop: Shop, rule: Rule) -> Shop:
    """Return the shop with one rule more in its book."""
    book = replace(shop.book, rules=(*shop.book.rules, rule), digest=DRAWN)
    return replace(shop, book=book, evaluator=(BothEvaluators if rule_engine_is_available() else ColumnEvaluator)(book))


def check_added(data: st.DataObject, shop: Shop) -> None:
    rule = data.draw(rules(shop.book))
    tree = data.draw(cases(shop.book.vocabulary))
    law = data.draw(st.sampled_from(("none", "us", "uk")))
    note(f"{rule.stage}, {rule.applies}, {rule.lines}\nlaw {law}:\n{write(tree)}")
    try:
        before = weigh(tree, shop, law)
        after = weigh(tree, with_rule(shop, rule), law)
    except REFUSALS:
        assume(False)
        raise
    assert before.stops <= after.stops
    if not after.stops:
        for end in ("verdict", "mild", "severe"):
            assert getattr(before, end) <= getattr(after, end), f"the {end} end got milder"


@given(st.data())
@SHORT
def test_a_rule_that_is_added_never_makes_an_answer_milder(shop: Shop, data: st.DataObject) -> None:
    check_added(data, shop)


@pytest.mark.long
@given(st.data())
@LONG
def test_a_rule_that_is_added_never_makes_an_answer_milder_long(shop: Shop, data: st.DataObject) -> None:
    check_added(data, shop)


def test_a_rule_that_is_added_is_heard(shop: Shop) -> None:
    """Else the property above would hold of rules that nobody listens to."""
    tree = but(LOADER, injuries=[CUT])
    bound = Bound("length", Op.OVER, 10.0, text="over 10 mm")
    for stage in ("casing", "injury", "pairs"):
        rule = Rule(
            id=DRAWN, name="drawn", asks="Drawn?", file="drawn.yaml", stage=stage, subject=Subject.INJURY, applies=(),
            lines=(Line((bound,), Outcome(verdict="reject"), "drawn.", SOURCE, 1),), is_chart=False,
        )  # fmt: skip
        before, after = weigh(tree, shop), weigh(tree, with_rule(shop, rule))
        assert (before.verdict, after.verdict) == (shop.book.rank("section"), shop.book.rank("reject"))


def test_a_rule_on_an_injury_may_look_at_how_many_repairs_the_tyre_carries(shop: Shop) -> None:
    """It once ended in a traceback: what is known of the tyre with its classes stood in no row of an injury."""
    tree = but(LOADER, injuries=[CUT])
    zone = read_bounds(shop.book.vocabulary["zone"], "upper sidewall")
    for name, phrase in (("tyre class", "at least section"), ("share of all repairs", "over 1 %")):
        bounds = (*zone, *read_bounds(shop.book.vocabulary[name], phrase))
        rule = Rule(
            id=DRAWN, name="drawn", asks="Drawn?", file="drawn.yaml", stage="pairs", subject=Subject.INJURY, applies=(),
            lines=(Line(bounds, Outcome(verdict="reject"), "drawn.", SOURCE, 1),), is_chart=False,
        )  # fmt: skip
        assert weigh(tree, with_rule(shop, rule)).verdict == shop.book.rank("reject")
