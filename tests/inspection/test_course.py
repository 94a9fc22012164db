from datetime import UTC, datetime
from typing import Any

import pytest

from mendbook.facts.scenarios import TooManyChoices
from mendbook.inspection import Inspection, Question, UnclearAnswer, answer, begin, next_question, outcome, reasons
from mendbook.terms.case_model import case_model
from mendbook.triage import Shop, judge
from tests.inspection.replay import MOST

START: dict[str, Any] = {
    "case": "invented",
    "judged on": "2026-11-25",
    "tyre": {"designation": "26.5R25", "date code": "3123", "casing": "steel"},
    "found": {"valve core": "out", "heat event": "none"},
    "service": {"use": "off-road", "duty": "loader v-cycle", "position": "not steered"},
}

AS_USUAL = ("none",) * 6  # people at work, beads, inside, cords, outside, service


def ask(state: Inspection, shop: Shop) -> Question:
    question = next_question(state, shop)
    assert question is not None
    return question


def go(state: Inspection, shop: Shop, *answers: str) -> Inspection:
    for text in answers:
        state = answer(state, ask(state, shop), text, shop)
    return state


def at_the_injury(shop: Shop) -> Inspection:
    return go(begin(START, shop), shop, *AS_USUAL, "A")


def test_heat_comes_first_and_the_hours_only_when_there_was_heat(shop: Shop) -> None:
    state = begin({}, shop)
    assert ask(state, shop).name == "heat event"
    assert ask(go(state, shop, "none"), shop).name == "valve core"
    assert ask(go(state, shop, "confirmed"), shop).name == "hours since heat"


def test_a_core_still_in_ends_it(shop: Shop) -> None:
    state = go(begin({}, shop), shop, "none", "in")
    assert next_question(state, shop) is None
    assert outcome(state, shop).outcome == "stop"


def test_heat_of_which_nothing_is_known_ends_it(shop: Shop) -> None:
    state = go(begin({}, shop), shop, "unknown", "don't know")
    assert next_question(state, shop) is None
    assert outcome(state, shop).outcome == "stop"


def test_what_the_start_tells_is_not_asked_but_unknown_is(shop: Shop) -> None:
    assert ask(begin(START, shop), shop).path == ("unusual", "people")
    unsure = {**START, "tyre": {**START["tyre"], "casing": "unknown"}}
    assert ask(go(begin(unsure, shop), shop, "none"), shop).name == "casing"


def asked_until_the_end(state: Inspection, shop: Shop, told: dict[str, str]) -> tuple[Inspection, list[Question]]:
    """Answer as `told`, and what is not told with the best there is; return all that was asked."""
    asked = []
    while (question := next_question(state, shop)) is not None and len(asked) < MOST:
        asked.append(question)
        state = answer(state, question, told.get(question.name, question.example), shop)
    return state, asked


def test_a_look_is_asked_for_when_a_hold_hangs_on_it_and_last_of_all(shop: Shop) -> None:
    start = {**START, "found": {**START["found"], "run flat": "suspected"}}
    told = {"people": "none", "casing": "none", "service": "none", "injuries": "none"}
    state, asked = asked_until_the_end(begin(start, shop), shop, told)
    assert [question.path for question in asked][-1] == ("found", "casing X-ray")
    assert "a hold depends on it" in asked[-1].why
    assert asked[-1].values == ("sound", "not done", "unsound")
    assert outcome(state, shop).holds == ()
    state, _ = asked_until_the_end(begin(start, shop), shop, {**told, "casing X-ray": "not done"})
    assert outcome(state, shop).outcome == "hold"
    state, _ = asked_until_the_end(begin(start, shop), shop, {**told, "casing X-ray": "unsound"})
    assert outcome(state, shop).outcome == "reject"


def test_no_look_is_asked_for_without_a_hold(shop: Shop) -> None:
    told = {"people": "none", "casing": "none", "service": "none", "injuries": "none"}
    _, asked = asked_until_the_end(begin(START, shop), shop, told)
    looks = {fact.name for fact in shop.book.vocabulary if fact.is_look}
    assert not looks & {question.name for question in asked}
    assert not looks & {name for question in asked for name, _ in question.options}


def test_what_is_named_as_unusual_is_asked_next_and_may_end_it(shop: Shop) -> None:
    state = go(begin(START, shop), shop, "none", "bead wire, Rim Groove")
    assert ask(state, shop).path == ("found", "bead wire")
    state = go(state, shop, "broken")
    assert ask(state, shop).path == ("found", "rim groove")
    state = go(state, shop, "unknown")
    assert next_question(state, shop) is None
    assert outcome(state, shop).outcome == "reject"


def test_country_is_asked_only_where_road_law_may_hold(shop: Shop) -> None:
    road = {**START, "service": {"use": "road"}}
    assert ask(go(begin(road, shop), shop, "none"), shop).name == "country"
    assert ask(go(begin(road, shop, law="none"), shop, "none"), shop).name == "duty"
    assert ask(go(begin(road, shop, law="uk"), shop, "none"), shop).name == "retread date code"


@pytest.mark.parametrize(
    ("text", "names"), [("none", ()), ("2", ("A", "B")), ("left, right", ("left", "right")), ("A", ("A",))]
)
def test_injuries_are_named_or_counted(text: str, names: tuple[str, ...], shop: Shop) -> None:
    assert go(begin(START, shop), shop, *AS_USUAL, text).names == names


@pytest.mark.parametrize("text", ["unknown", "A, A", "27", ",", ""])
def test_injuries_that_cannot_be_told_apart_are_asked_again(text: str, shop: Shop) -> None:
    state = go(begin(START, shop), shop, *AS_USUAL)
    with pytest.raises(UnclearAnswer):
        answer(state, ask(state, shop), text, shop)


def test_side_and_clock_are_asked_only_of_several(shop: Shop) -> None:
    one = go(at_the_injury(shop), shop, "cut", "rubber", "330 mm from bead")
    assert ask(one, shop).name == "unusual"
    two = go(begin(START, shop), shop, *AS_USUAL, "2", "cut", "rubber", "shoulder")
    assert ask(two, shop).name == "side"
    assert ask(go(two, shop, "unknown"), shop).name == "clock"


@pytest.mark.parametrize(
    ("text", "fact"),
    [
        ("330 mm from the bead", "distance from bead"),
        ("7 in from centreline", "distance from centreline"),
        ("Upper Sidewall", "zone"),
        ("unknown", "zone"),
    ],
)
def test_a_place_is_a_tape_or_a_zone(text: str, fact: str, shop: Shop) -> None:
    assert fact in go(at_the_injury(shop), shop, "cut", "plies", text).injuries[0]


@pytest.mark.parametrize(
    ("path", "text", "fault"),
    [
        (("cut", "plies"), "330 mm", "Write '330 mm from bead'"),
        (("cut", "plies"), "330 from bead", "no unit"),
        (("cut", "plies", "330 mm from bead"), "rst", "Did you mean 'rust'?"),
        (("cut", "plies", "1900 mm from bead"), "none", "beyond the crown centreline"),
        ((), "cutt", "Did you mean 'cut'?"),
        ((), "", "Nothing was written"),
        ((), "\x1b[2J", "no answer that can be read"),
        ((), "x" * 300, "no answer that can be read"),
    ],
)
def test_an_unclear_answer_says_why_and_changes_nothing(
    path: tuple[str, ...], text: str, fault: str, shop: Shop
) -> None:
    state = go(at_the_injury(shop), shop, *path)
    question = ask(state, shop)
    with pytest.raises(UnclearAnswer, match=fault):
        answer(state, question, text, shop)
    assert ask(state, shop) == question


def test_a_date_code_of_a_week_to_come_is_refused(shop: Shop) -> None:
    undated = {**START, "tyre": {"designation": "26.5R25"}}
    state = go(begin(undated, shop), shop, "none")
    with pytest.raises(UnclearAnswer, match="date code"):
        answer(state, ask(state, shop), "5026", shop)


@pytest.mark.long
def test_unknown_all_the_way_ends_without_asking_twice(shop: Shop) -> None:
    state, asked = at_the_injury(shop), []
    while (question := next_question(state, shop)) is not None:
        asked.append(question.path)
        state = answer(state, question, "unknown", shop)
        assert len(asked) < MOST
    assert len(set(asked)) == len(asked)
    assert outcome(state, shop).outcome == "hold"


def test_too_little_known_to_judge_asks_what_is_open_and_ends(shop: Shop) -> None:
    state = go(begin({"judged on": "2026-11-25"}, shop), shop, "none", "out", "none", *["unknown"] * 8, *AS_USUAL[1:])
    state = go(state, shop, "2")
    while (question := next_question(state, shop)) is not None:
        state = answer(state, question, "unknown", shop)
        assert state.count < MOST
    with pytest.raises(TooManyChoices, match=r"Find out some of: .*duty of tyre"):
        outcome(state, shop)


def test_a_tyre_that_is_no_retread_says_nothing_of_it(shop: Shop) -> None:
    truck = {**START, "tyre": {"designation": "315/80R22.5", "date code": "3122", "casing": "steel"}}
    state = go(begin({**truck, "service": {"use": "road", "country": "uk"}}, shop), shop, "none")
    question = ask(state, shop)
    assert question.name == "retread date code"
    assert "retread date code" not in go(state, shop, "none").tree["tyre"]
    assert go(state, shop, "1425").written(question.path) == "1425"
    assert go(state, shop, "unknown").written(question.path) == "unknown"
    with pytest.raises(UnclearAnswer, match="retread"):
        answer(state, question, "1420", shop)


def at_the_repairs(shop: Shop) -> Inspection:
    state = go(at_the_injury(shop), shop, "cut", "through", "330 mm from bead", "none")
    while ask(state, shop).path != ("earlier repairs",):
        state = go(state, shop, "unknown")
    return state


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("none", "none"),
        ("No", "none"),
        ("not mapped", "not mapped"),
        ("unknown", "unknown"),
        ("Section, spot", [{"name": "P1", "class": "section"}, {"name": "P2", "class": "spot"}]),
    ],
)
def test_earlier_repairs_are_none_not_mapped_or_what_was_done(text: str, written: object, shop: Shop) -> None:
    assert go(at_the_repairs(shop), shop, text).tree["earlier repairs"] == written


@pytest.mark.parametrize(("text", "fault"), [("sectoin", "mean 'section'?"), ("2", "Write one of"), (",", "such")])
def test_a_repair_of_no_class_is_asked_again(text: str, fault: str, shop: Shop) -> None:
    state = at_the_repairs(shop)
    with pytest.raises(UnclearAnswer, match=fault):
        answer(state, ask(state, shop), text, shop)


def test_each_repair_is_asked_about_and_its_place_only_where_spacing_matters(shop: Shop) -> None:
    state = go(at_the_repairs(shop), shop, "section, spot")
    asked = []
    while (question := next_question(state, shop)) is not None and len(asked) < MOST:
        asked.append(question.path)
        state = answer(state, question, "unknown", shop)
    about = [path[1:] for path in asked if path[0] == "earlier repairs"]
    assert about == [(0, name) for name in ("state", "place", "side", "clock", "length", "width")] + [(1, "state")]
    assert {"side", "clock"} <= {path[-1] for path in asked if path[:2] == ("injuries", 0)}


def test_a_loose_repair_holds_the_tyre(shop: Shop) -> None:
    state = go(at_the_repairs(shop), shop, "dress")
    question = ask(state, shop)
    while question.path != ("earlier repairs", 0, "state"):
        state = answer(state, question, "unknown", shop)
        question = ask(state, shop)
    loose, sound = (outcome(answer(state, question, text, shop), shop) for text in ("loose", "sound"))
    assert [hold for hold in loose.holds if "earlier repair" in hold]
    assert [hold for hold in sound.holds if "earlier repair" in hold] == []


def test_a_fact_of_the_tyre_is_asked_of_the_tyre_whatever_injury_needs_it(shop: Shop) -> None:
    state, about = at_the_injury(shop), {}
    while (question := next_question(state, shop)) is not None:
        about[question.path] = question.about
        state = answer(state, question, "unknown", shop)
    assert {one for path, one in about.items() if path[0] in ("tyre", "service", "found")} == {"tyre"}


def test_why_names_what_the_rules_ask_that_look_at_the_answer(shop: Shop) -> None:
    told = reasons(ask(begin({}, shop), shop), shop.book)
    assert told[0] == "People first: nothing else is asked until this is clear."
    asks = {rule.asks for rule in shop.book.rules if "heat event" in rule.facts()}
    assert any(text in told[1] for text in asks)
    assert len(reasons(ask(go(begin(START, shop), shop), shop), shop.book)) == 1


def test_every_group_is_short_enough_to_be_read_aloud(shop: Shop) -> None:
    state, groups = begin(START, shop), []
    while (question := ask(state, shop)).path != ("injuries",):
        groups.append(question)
        state = go(state, shop, "none")
    assert len(groups) == len(AS_USUAL)
    assert all(5 <= len(group.options) <= 13 for group in groups)
    assert ("run flat", "no run flat") in groups[0].options


def test_what_is_left_judges_to_the_same_docket(shop: Shop) -> None:
    now = datetime(2026, 11, 25, tzinfo=UTC)
    state = go(at_the_injury(shop), shop, "cut", "through", "330 mm from bead", "none", "118 mm", "48 mm")
    again = judge(case_model(shop.book.vocabulary).model_validate(state.tree), shop, now=now)
    assert outcome(state, shop).model_copy(update={"judged": again.judged}) == again
