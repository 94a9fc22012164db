"""Every example, answered question by question, gives what the whole file gives, with fewer questions."""

from collections.abc import Sequence
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest

from mendbook.inspection import Inspection, Question, full_form, outcome
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge
from tests.inspection.replay import read_tree, replay

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CASES = sorted(path.relative_to(EXAMPLES).as_posix() for path in EXAMPLES.rglob("*.yaml"))
# Those with the fewest and the most questions, one of each outcome; the long run tries them all.
SOME = (
    "container_yard/straddle_apart.yaml", "quarry/grader_scuff.yaml", "quarry/haul_truck_crown_edge.yaml",
    "quarry/loader_lightning.yaml", "quarry/loader_ran_low.yaml", "quarry/loader_sidewall_cut.yaml",
    "road/drive_axle_nail.yaml",
)  # fmt: skip
TRIED = [*SOME, *(pytest.param(name, marks=pytest.mark.long) for name in CASES if name not in SOME)]
NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


@cache
def held(name: str, shop: Shop) -> tuple[Inspection, list[Question]]:
    return replay(read_tree(EXAMPLES / name), shop)


@pytest.mark.parametrize("name", TRIED)
def test_it_comes_to_what_the_whole_file_comes_to(name: str, shop: Shop) -> None:
    state, _ = held(name, shop)
    asked = outcome(state, shop)
    whole = judge(read_case(EXAMPLES / name, shop.book.vocabulary).without_overrules(), shop, now=NOW)
    assert (asked.outcome, asked.verdict, asked.bracket) == (whole.outcome, whole.verdict, whole.bracket)


@pytest.mark.parametrize("name", TRIED)
def test_it_asks_less_than_half_of_the_full_form(name: str, shop: Shop) -> None:
    state, asked = held(name, shop)
    assert state.count == len(asked) < full_form(shop.book.vocabulary, len(state.names)) / 2


# How many questions each example takes, and how many fields the full form has for it.
FIGURES = {
    "container_yard/reach_handler_shoulder.yaml": (31, 145),
    "container_yard/straddle_apart.yaml": (42, 180),
    "container_yard/straddle_pair.yaml": (32, 180),
    "quarry/grader_scuff.yaml": (24, 145),
    "quarry/haul_truck_crown_edge.yaml": (23, 145),
    "quarry/loader_before_skive.yaml": (31, 145),
    "quarry/loader_lightning.yaml": (2, 110),
    "quarry/loader_overruled.yaml": (22, 145),
    "quarry/loader_ran_low.yaml": (29, 145),
    "quarry/loader_ran_low_x_rayed.yaml": (29, 145),
    "quarry/loader_sidewall_cut.yaml": (32, 145),
    "quarry/loader_worth.yaml": (32, 145),
    "road/drive_axle_nail.yaml": (16, 110),
}


def test_every_example_has_its_figures() -> None:
    assert sorted(FIGURES) == CASES


@pytest.mark.parametrize("names", [SOME, pytest.param(CASES, marks=pytest.mark.long)], ids=["some", "all"])
def test_the_figures_are_those_of_the_readme(names: Sequence[str], shop: Shop) -> None:
    found = {}
    for name in names:
        state, asked = held(name, shop)
        found[name] = (len(asked), full_form(shop.book.vocabulary, len(state.names)))
    assert found == {name: FIGURES[name] for name in names}
    readme = (EXAMPLES.parent / "README.md").read_text(encoding="utf-8")
    asked_least, asked_most = min(FIGURES.values())[0], max(FIGURES.values())[0]
    form_least, form_most = (pick(form for _, form in FIGURES.values()) for pick in (min, max))
    said = (
        f"between {asked_least} and {asked_most} questions, where the full form has {form_least} to {form_most} fields"
    )
    assert said in " ".join(readme.split())


@pytest.mark.parametrize("name", TRIED)
def test_nothing_is_asked_twice(name: str, shop: Shop) -> None:
    _, asked = held(name, shop)
    assert len({question.path for question in asked}) == len(asked)


@pytest.mark.parametrize("name", TRIED)
def test_every_question_says_what_why_and_how(name: str, shop: Shop) -> None:
    _, asked = held(name, shop)
    assert all(question.text and question.why and question.how and question.example for question in asked)


def test_a_stop_ends_it_before_anything_else_is_asked(shop: Shop) -> None:
    _, asked = held("quarry/loader_lightning.yaml", shop)
    assert [question.name for question in asked] == ["heat event", "hours since heat"]


def test_a_reject_of_the_casing_ends_it_before_the_injuries(shop: Shop) -> None:
    state, asked = held("road/drive_axle_nail.yaml", shop)
    assert outcome(state, shop).outcome == "reject"
    assert ("injuries",) not in [question.path for question in asked]


def test_a_plan_knows_every_size_of_what_it_repairs(shop: Shop) -> None:
    state, _ = held("container_yard/straddle_apart.yaml", shop)
    assert all({"length", "width", "depth"} <= set(injury) for injury in state.injuries)
