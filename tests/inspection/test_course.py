from datetime import UTC, datetime

import pytest

from mendbook.facts.scenarios import TooManyChoices
from mendbook.inspection import Inspection, Question, UnclearAnswer, answer, begin, next_question, outcome
from mendbook.terms.case_model import case_model
from mendbook.triage import Shop, judge
from tests.inspection.replay import MOST

START = {
    "case": "invented",
    "judged on": "2026-11-25",
    "tyre": {"designation": "26.5R25", "date code": "3123", "casing": "steel"},
    "found": {"valve core": "out", "heat event": "none"},
    "service": {"use": "off-road", "duty": "loader v-cycle", "position": "not steered"},
}


def ask(state: Inspection, shop: Shop) -> Question:
    question = next_question(state, shop)
    assert question is not None
    return question


def go(state: Inspection, shop: Shop, *answers: str) -> Inspection:
    for text in answers:
        state = answer(state, ask(state, shop), text, shop)
    return state


def at_the_injury(shop: Shop) -> Inspection:
    return go(begin(START, shop), shop, "none", "none", "none", "A")


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
    unsure = {**START, "tyre": {**START["tyre"], "casing": "unknown"}}  # type: ignore[dict-item]  # a map of maps
    assert ask(go(begin(unsure, shop), shop, "none"), shop).name == "casing"


def asked_until_the_end(state: Inspection, shop: Shop, told: dict[str, str]) -> tuple[Inspection, list[Question]]:
    """Answer as `told`, and what is not told with the best there is; return all that was asked."""
    asked = []
    while (question := next_question(state, shop)) is not None and len(asked) < MOST:
        asked.append(question)
        state = answer(state, question, told.get(question.name, question.example), shop)
    return state, asked


def test_a_look_is_asked_for_when_a_hold_hangs_on_it_and_last_of_all(shop: Shop) -> None:
    start = {**START, "found": {**START["found"], "run flat": "suspected"}}  # type: ignore[dict-item]  # a map of maps
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
    assert ask(go(begin(road, shop, law="uk"), shop, "none"), shop).name == "duty"


@pytest.mark.parametrize(
    ("text", "names"), [("none", ()), ("2", ("A", "B")), ("left, right", ("left", "right")), ("A", ("A",))]
)
def test_injuries_are_named_or_counted(text: str, names: tuple[str, ...], shop: Shop) -> None:
    assert go(begin(START, shop), shop, "none", "none", "none", text).names == names


@pytest.mark.parametrize("text", ["unknown", "A, A", "27", ",", ""])
def test_injuries_that_cannot_be_told_apart_are_asked_again(text: str, shop: Shop) -> None:
    state = go(begin(START, shop), shop, "none", "none", "none")
    with pytest.raises(UnclearAnswer):
        answer(state, ask(state, shop), text, shop)


def test_side_and_clock_are_asked_only_of_several(shop: Shop) -> None:
    one = go(at_the_injury(shop), shop, "cut", "rubber", "330 mm from bead")
    assert ask(one, shop).name == "unusual"
    two = go(begin(START, shop), shop, "none", "none", "none", "2", "cut", "rubber", "shoulder")
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


def test_unknown_all_the_way_ends_without_asking_twice(shop: Shop) -> None:
    state, asked = at_the_injury(shop), []
    while (question := next_question(state, shop)) is not None:
        asked.append(question.path)
        state = answer(state, question, "unknown", shop)
        assert len(asked) < MOST
    assert len(set(asked)) == len(asked)
    assert outcome(state, shop).outcome == "hold"


def test_too_little_known_to_judge_asks_what_is_open_and_ends(shop: Shop) -> None:
    state = go(begin({"judged on": "2026-11-25"}, shop), shop, "none", "out", "none", *["unknown"] * 7, "none", "none")
    state = go(state, shop, "2")
    while (question := next_question(state, shop)) is not None:
        state = answer(state, question, "unknown", shop)
        assert state.count < MOST
    with pytest.raises(TooManyChoices, match=r"Find out some of: .*duty of tyre"):
        outcome(state, shop)


def test_what_is_left_judges_to_the_same_docket(shop: Shop) -> None:
    now = datetime(2026, 11, 25, tzinfo=UTC)
    state = go(at_the_injury(shop), shop, "cut", "through", "330 mm from bead", "none", "118 mm", "48 mm")
    again = judge(case_model(shop.book.vocabulary).model_validate(state.tree), shop, now=now)
    assert outcome(state, shop).model_copy(update={"judged": again.judged}) == again
