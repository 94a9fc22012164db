"""People first: a stop ends the judgement, and a question nobody answered is a stop that names it."""

import pytest

from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, Tree, but, triage

READY: Tree = but(LOADER, injuries=[CUT])


@pytest.mark.parametrize(
    ("found", "rule"),
    [
        ({"valve core": "in"}, "people/valve_core"),
        ({"heat event": "suspected", "hours since heat": "6 h"}, "people/recent_heat"),
        ({"heat event": "confirmed"}, "people/recent_heat"),
        ({"hot work": "planned"}, "people/hot_work"),
        ({"signs on inflation": "pop"}, "people/signs_on_inflation"),
        ({"flammable smell": "smelt"}, "people/flammable_smell"),
        ({"pressure outside restraint": "1.5 bar"}, "people/outside_restraint"),
        ({"chocked": "no"}, "people/chocked"),
        ({"run flat": "suspected", "inflate before look": "yes"}, "people/inflate_before_look"),
        ({"pressure at removal": "3.0 bar", "inflate before look": "yes"}, "people/inflate_after_low_pressure"),
        (
            {"wheel": "on the machine", "valve core": "in", "pressure at removal": "3.0 bar"},
            "people/low_pressure_on_machine",
        ),
        ({"wheel": "on the machine", "valve core": "in", "run flat": "suspected"}, "people/damage_on_machine"),
        ({"wheel": "on the machine", "valve core": "in", "rim parts": "bent"}, "people/damaged_rim_on_machine"),
    ],
)
def test_a_danger_to_people_stops_everything_else(found: dict[str, str], rule: str, shop: Shop) -> None:
    docket = triage(but(READY, found=found), shop)
    assert docket.outcome == "stop"
    assert (docket.verdict, docket.bracket, docket.decided, docket.uses) == (None, None, False, {})
    assert rule in {finding.rule for finding in docket.findings}
    assert all("stop" in finding.says for finding in docket.findings)
    assert (docket.injuries, docket.plan, docket.cure, docket.would_change) == ((), None, None, ())
    assert docket.reason == next(f.because for f in docket.findings if "stop" in f.says)
    assert docket.cautions


def test_nothing_dangerous_is_no_stop(shop: Shop) -> None:
    assert triage(READY, shop).stops == ()


@pytest.mark.parametrize("question", ["valve core", "heat event"])
@pytest.mark.parametrize("answer", [None, "unknown"])
def test_a_question_nobody_answered_is_a_stop_that_names_it(question: str, answer: str | None, shop: Shop) -> None:
    docket = triage(but(READY, found={question: answer}), shop)
    assert docket.outcome == "stop"
    (stop,) = docket.stops
    assert stop.startswith(f"Not answered yet ({question}: {shop.book.vocabulary[question].measure})")


def test_an_empty_form_asks_for_both_before_anything_else(shop: Shop) -> None:
    docket = triage({"case": "nothing is known"}, shop)
    asked = " ".join(docket.stops)
    assert docket.outcome == "stop"
    assert "valve core" in asked
    assert "heat event" in asked


def test_nitrogen_shortens_no_wait(shop: Shop) -> None:
    found = {"heat event": "suspected", "hours since heat": "6 h", "filled with": "nitrogen"}
    assert triage(but(READY, found=found), shop).outcome == "stop"


def test_a_reading_that_may_be_the_dangerous_one_is_taken_for_it(shop: Shop) -> None:
    """At 83 per cent read, 3 per cent of gauge error may hide 80; at 90 it cannot."""
    on = {"wheel": "on the machine", "valve core": "in"}
    near, clear = (
        triage(but(READY, found={**on, "pressure at removal": pressure}), shop) for pressure in ("4.1 bar", "4.5 bar")
    )
    rule = "people/low_pressure_on_machine"
    assert rule in {finding.rule for finding in near.findings}
    assert rule not in {finding.rule for finding in clear.findings}


def test_a_stop_comes_before_figures_that_cannot_be_true(shop: Shop) -> None:
    tree = but(READY, found={"valve core": "in"}, injuries=[but(CUT, distance_from_bead="1900 mm")])
    assert triage(tree, shop).outcome == "stop"


@pytest.mark.parametrize(
    ("found", "words"),
    [
        ({"person": "not authorised"}, "authorisation list"),
        ({"restraint": "not checked today"}, "Check the restraint"),
        ({"restraint": "damaged"}, "out of use"),
        ({"air line": "incomplete"}, "clip-on chuck"),
        ({"rim parts": "cracked"}, "Scrap the part"),
    ],
)
def test_what_must_be_put_right_before_air_is_a_hold(found: dict[str, str], words: str, shop: Shop) -> None:
    docket = triage(but(READY, found=found), shop)
    assert (docket.outcome, docket.verdict) == ("hold", "section")
    assert any(words in hold for hold in docket.holds)
