"""A method ruled out, or a limit set, before the verdict binds the plan like one of the method and release rules."""

from dataclasses import replace

import pytest

from mendbook.rulebook.phrases import read_bounds
from mendbook.rulebook.tree import Line, Outcome, Rule
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, Tree, but, triage
from tests.triage.rule_drawing import DRAWN, SOURCE
from tests.triage.test_added_rules import with_rule

SMALL = but(CUT, length="10 mm", width="30 mm", cords_cut="3", distance_from_bead="200 mm")
CRANE: Tree = but(
    LOADER,
    tyre={"designation": "14.00R25"},
    service={"use": "road", "duty": "mobile crane", "speed": "70 km/h", "country": "other"},
    injuries=[SMALL],
)


def test_the_speed_of_a_repaired_crane_tyre_is_among_its_limits(shop: Shop) -> None:
    """The rule stands among those of service; its limit was told as a finding and left out of the plan."""
    docket = triage(CRANE, shop)
    assert docket.verdict == "section"
    assert docket.plan is not None
    assert ("speed", "50 km/h") in [(limit.what, limit.limit) for limit in docket.plan.limits]
    slow = triage(but(CRANE, service={"speed": "45 km/h"}), shop)
    assert slow.plan is not None
    assert "speed" not in [limit.what for limit in slow.plan.limits]


@pytest.mark.parametrize(("stage", "fact", "phrase"), [("casing", "use", "road"), ("pairs", "kind", "cut")])
def test_a_method_ruled_out_before_the_verdict_is_not_chosen(stage: str, fact: str, phrase: str, shop: Shop) -> None:
    bounds = read_bounds(shop.book.vocabulary[fact], phrase)
    rule = Rule(
        id=DRAWN, name="drawn", asks="Drawn?", file="drawn.yaml", stage=stage,
        subject=shop.book.vocabulary[fact].subject, applies=(), is_chart=False,
        lines=(Line(bounds, Outcome(rule_out=("flexible pads",)), "No pads lie here.", SOURCE, 1),),
    )  # fmt: skip
    usual, docket = triage(CRANE, shop), triage(CRANE, with_rule(shop, rule))
    assert usual.plan is not None
    assert docket.plan is not None
    assert [one.because for one in docket.plan.repairs[0].why_not if one.method == "flexible pads"] == [
        "No pads lie here."
    ]
    assert "flexible pads" not in [one.method for one in usual.plan.repairs[0].why_not]


def test_a_limit_on_one_injury_leaves_the_other_alone(shop: Shop) -> None:
    """An injury that is not to be repaired binds no plan."""
    scuff = but(SMALL, name="B", reaches="rubber", kind="abrasion", cords_cut=None, clock="20 deg")
    kinds = read_bounds(shop.book.vocabulary["kind"], "abrasion")
    rule = Rule(
        id=DRAWN, name="drawn", asks="Drawn?", file="drawn.yaml", stage="injury", subject=Subject.INJURY, applies=(),
        lines=(Line(kinds, Outcome(rule_out=("hot",)), "Never hot.", SOURCE, 1),), is_chart=False,
    )  # fmt: skip
    docket = triage(but(CRANE, injuries=[SMALL, scuff]), with_rule(shop, rule))
    assert docket.plan is not None
    of_cut = next(repair for repair in docket.plan.repairs if repair.injury == "A")
    assert "hot" not in [one.method for one in of_cut.why_not]


def test_what_was_said_at_another_reading_or_use_binds_nothing(shop: Shop) -> None:
    """The crane's limit speaks for the road; off it the tyre carries none."""
    docket = triage(but(CRANE, service={"use": "off-road"}), replace(shop))
    assert docket.plan is not None
    assert "speed" not in [limit.what for limit in docket.plan.limits]
