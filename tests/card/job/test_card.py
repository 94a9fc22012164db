"""What stands on a card, by outcome: what a person needs, and no step of a repair where none is allowed."""

from dataclasses import astuple
from typing import Any

import pytest

from mendbook.card.job.blocks import Blanks, Grid, Paper, Part, Tasks
from mendbook.card.job.card import job_card
from mendbook.card.job.tag import limits_tag
from mendbook.terms.docket import Docket
from mendbook.triage import Shop
from tests.card.job.papers import BY_OUTCOME, docket, rude

STERN = ("stop", "reject", "hold", "serve")


def strings(one: Any) -> list[str]:
    if isinstance(one, str):
        return [one]
    return [said for inner in one for said in strings(inner)] if isinstance(one, tuple | list) else []


def text(told: Paper | Part) -> str:
    return " ".join(strings(astuple(told)))


def part(paper: Paper, title: str) -> Part:
    return next(part for part in paper.parts if part.title.startswith(title))


@pytest.fixture(params=BY_OUTCOME)
def one(request: pytest.FixtureRequest, shop: Shop) -> Docket:
    return docket(BY_OUTCOME[request.param], shop)


def test_every_card_says_who_what_why_and_by_which_book(one: Docket) -> None:
    paper = job_card(one)
    said = text(paper)
    assert paper.word == one.outcome.upper()
    for words in (one.case, one.tyre.tag, one.tyre.designation, one.rulebook.edition, one.rulebook.digest[:16]):
        assert words in said
    assert one.rulebook.owner in said
    assert "Source:" in said
    assert all(caution.rstrip(".") in said for caution in one.cautions)
    for words in (one.tyre.tag, one.tyre.designation, one.rulebook.digest[:8], "2026-11-25"):
        assert words in paper.identity


@pytest.mark.parametrize("outcome", STERN)
def test_without_leave_to_repair_there_are_no_steps_of_a_repair(outcome: str, shop: Shop) -> None:
    paper = job_card(docket(BY_OUTCOME[outcome], shop))
    titles = " ".join(part.title for part in paper.parts)
    assert not any(word in titles for word in ("Steps", "Kit", "Materials", "Cure", "Back to service"))
    steps = [task for part in paper.parts for block in part.blocks if isinstance(block, Tasks) for task in block.items]
    assert not any(task.hold_point for task in steps)
    repair = docket(BY_OUTCOME["repair"], shop)
    assert repair.plan is not None
    told = text(paper)
    assert not any(step.do in told for step in repair.plan.repairs[0].steps)


def test_a_stop_says_do_not_touch_and_each_stop_with_its_reason(shop: Shop) -> None:
    stopped = docket(BY_OUTCOME["stop"], shop)
    paper = job_card(stopped)
    assert next(paper.parts).title == "Do not touch this tyre"
    said = text(paper)
    assert all(stop.rstrip(".") in said for stop in stopped.stops)
    assert all(finding.because in said for finding in stopped.findings)
    assert not list(paper.pictures)
    assert "cannot be waived" in said


def test_a_hold_lists_every_look_with_room_for_its_result(shop: Shop) -> None:
    held = docket("quarry/loader_ran_low.yaml", shop)
    paper = job_card(held)
    (looks,) = (block for block in part(paper, "Looks").blocks if isinstance(block, Tasks))
    assert len(looks.items) == len(held.holds) + len(held.measure_next)
    assert all(task.room == ("Result", "Date", "Name") for task in looks.items)
    assert all(any(hold.rstrip(".") in task.said for task in looks.items) for hold in held.holds)


def test_a_rejection_says_how_it_is_marked_and_disposed_of(shop: Shop) -> None:
    paper = job_card(docket(BY_OUTCOME["reject"], shop))
    said = text(part(paper, "What is done with it"))
    assert "rejected" in said
    assert "Dispose of it as local law says" in said
    assert "from memory" in said
    assert "instead of 40 mm" in said


def test_a_rejection_for_one_use_is_no_order_to_scrap(shop: Shop) -> None:
    rejected = docket(BY_OUTCOME["reject"], shop).model_copy(update={"uses": {"off-road": "section", "road": "reject"}})
    said = text(job_card(rejected))
    assert "The rejection is not for off-road use." in said
    assert "cut it through" not in said
    assert "The rejection is for road use. It is no release for any other use." in text(limits_tag(rejected))


def test_a_repair_has_every_step_kit_material_and_limit(shop: Shop) -> None:
    repaired = docket(BY_OUTCOME["repair"], shop)
    assert repaired.plan is not None
    said = text(job_card(repaired))
    (repair,) = repaired.plan.repairs
    for step in (*repair.steps, *repaired.plan.ladder):
        for words in (step.do, step.hold_point, step.caution):
            assert words.rstrip(".") in said
    for item in repair.kit:
        assert item.item in said
    for amount in repair.materials:
        assert f"{amount.amount:g} {amount.unit}" in said
    for limit in repaired.plan.limits:
        assert limit.limit in said
    assert "165 min" in said


def test_each_of_several_repairs_has_its_own_section_and_steps(shop: Shop) -> None:
    paper = job_card(docket("container_yard/straddle_apart.yaml", shop))
    titles = [part.title for part in paper.parts]
    assert "Steps for A" in titles
    assert "Steps for B" in titles
    keys = [picture.key for picture in paper.pictures]
    assert len(keys) == len(set(keys))
    assert {"section", "section-A", "section-B"} <= set(keys)


def test_a_cell_is_left_empty_only_where_a_person_writes(one: Docket) -> None:
    for part_ in job_card(one).parts:
        for block in part_.blocks:
            if isinstance(block, Grid):
                assert all(len(row) == len(block.heads) == len(block.shares) for row in block.rows)
                empty = {block.heads[place] for row in block.rows for place, cell in enumerate(row) if not cell}
                assert empty <= {"Test date", "Batch", "Use by", "Size, around x across"}


def test_the_tag_has_the_limits_and_what_the_driver_must_know(shop: Shop) -> None:
    repaired = docket(BY_OUTCOME["repair"], shop)
    assert repaired.plan is not None
    paper = limits_tag(repaired)
    said = text(paper)
    assert all(limit.limit in said for limit in repaired.plan.limits)
    assert "Not on a steered axle" in said
    assert "24 h; 100 h or 5 000 km" in said
    assert any(isinstance(block, Blanks) for part in paper.parts for block in part.blocks)


@pytest.mark.parametrize(("outcome", "word"), [("stop", "DO NOT TOUCH"), ("reject", "REJECTED"), ("hold", "ON HOLD")])
def test_a_tag_of_a_tyre_that_is_not_free_says_so_first(outcome: str, word: str, shop: Shop) -> None:
    paper = limits_tag(docket(BY_OUTCOME[outcome], shop))
    assert paper.word == word
    assert "Do not" in text(paper) or "Keep away" in text(paper)


def test_twelve_injuries_with_long_names_each_have_their_mark(shop: Shop) -> None:
    given = rude(shop)
    paper = job_card(given)
    grid = next(block for block in part(paper, "Injuries").blocks if isinstance(block, Grid))
    assert [row[0] for row in grid.rows] == [f"#{number}" for number in range(1, 13)]
    assert "Injury #8 is not drawn: its place was not measured." in text(paper)
    assert "Injury #8 is not on the clock map: its clock was not measured." in text(paper)


def test_the_card_says_in_a_line_what_the_repair_is_worth(shop: Shop) -> None:
    given = docket("quarry/loader_worth.yaml", shop)
    assert given.worth is not None
    said = text(job_card(given))
    assert given.worth.answer.partition(". ")[0] in said
    assert "Worth" not in text(job_card(docket(BY_OUTCOME["repair"], shop)))
    struck = given.worth.model_copy(update={"struck": "The tyre is rejected"})
    assert "The tyre is rejected." in text(job_card(given.model_copy(update={"worth": struck})))


def test_every_injury_is_in_the_picture_though_one_alone_is_repaired(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    assert given.map is not None
    other = given.map.sites[0].model_copy(update={"name": "B", "lower_mm": 500.0, "upper_mm": 520.0})
    old = other.model_copy(update={"name": "A", "is_repair": True, "clock_deg": 20.0})
    more = given.map.model_copy(update={"sites": (*given.map.sites, other, old)})
    paper = job_card(given.model_copy(update={"map": more}))
    section = next(picture.drawings[0] for picture in paper.pictures if picture.key == "section")
    assert section.named("injury A")
    assert section.named("injury B")
    assert section.named("earlier repair #3")
    assert section.named("outside pad")


def test_an_overruled_reject_stands_on_card_and_tag_with_its_name_and_reason(shop: Shop) -> None:
    given = docket("quarry/loader_overruled.yaml", shop)
    assert given.outcome == "repair"
    said, tag = text(job_card(given)), text(limits_tag(given))
    for one in given.overruled:
        assert one.by in said
        assert one.why.rstrip(".") in said
        assert one.by in tag
    assert "overruled from reject" in said
    assert given.plan is not None
    for limit in given.plan.limits:
        assert limit.caution in text(job_card(given))
        assert limit.caution in text(limits_tag(given))
