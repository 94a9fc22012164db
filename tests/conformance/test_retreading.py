"""Casings for retreading: UN Regulation 109 for commercial tyres, and what the US agency wrote on casings.

No text of Regulation 109 was open: every clause here is quoted from memory, and the report must say so. The letters of
the agency were read; they speak of standard 117, which is for cars, and are kept for the distinctions that they draw.
"""

import pytest

from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.rulebook.book import Rulebook
from mendbook.terms.docket import Docket, Finding
from mendbook.triage import Shop
from tests.triage.cases import CUT, NAIL, TRUCK, Tree, but, triage

NYLON: Tree = but(TRUCK, tyre={"designation": "12.00-20", "casing": "nylon", "belts": None})


def by_regulation(docket: Docket) -> dict[str, Finding]:
    """Return what the regulation said about the case as read, by rule."""
    return {f.rule: f for f in docket.findings if f.rule.startswith("law/un_r109/") and f.readings["as read"]}


@pytest.mark.parametrize(
    ("found", "place"),
    [
        ({"run flat": "confirmed"}, "para 6.4.3"),
        ({"sat flat": "creased"}, "para 6.4.3"),
        ({"crack class": "C4"}, "para 6.4.4.1"),
        ({"zipper signs": "seen"}, "para 6.4.4.1"),
        ({"oil swell": "1 mm"}, "para 6.4.4.1"),
        ({"bead wire": "kinked"}, "para 6.4.4.1"),
        ({"bead wire": "broken"}, "para 6.4.4.1"),
        ({"loose cords": "found"}, "para 6.4.4.2"),
        ({"kinked cords": "found"}, "para 6.4.4.2"),
    ],
)
@pytest.mark.parametrize("tree", [TRUCK, NYLON], ids=["steel", "nylon"])
def test_what_is_never_accepted_is_rejected_whatever_the_cords(tree: Tree, found: Tree, place: str, shop: Shop) -> None:
    """UN Regulation 109 (00 series). From memory."""
    docket = triage(but(tree, found=found), shop, law="un-r109")
    rejecting = [f for f in by_regulation(docket).values() if f.verdict == "reject"]
    assert [(f.sources[0].id, f.sources[0].place) for f in rejecting] == [("un regulation 109", place)]
    assert docket.uses["road"] == "reject"


@pytest.mark.parametrize(
    "fault",
    [
        {"injuries": [NAIL]},
        {"injuries": [but(CUT, reaches="cord", cords_cut=None, depth=None, distance_from_bead="150 mm")]},
        {"injuries": [but(NAIL, rust="3 mm")]},
        {"found": {"liner split": "20 mm"}},
        {"found": {"chafer tear depth": "0.5 mm"}},
        {"found": {"worn to cord": "yes"}},
        {"found": {"tread separation": "5 mm"}},
        {"found": {"contamination": "oil or fuel"}},
        {"found": {"run flat": "suspected"}},
        {"earlier_repairs": [{"name": "old", "class": "spot", "side": "crown", "state": "sound"}]},
    ],
)
def test_what_is_taken_within_limits_only_waits_for_the_retreader(fault: Tree, shop: Shop) -> None:
    """UN Regulation 109 para 6.4.4.2 and 6.6, from memory: no millimetres; the supplier of the material states them."""
    said = by_regulation(triage(but(TRUCK, **fault), shop, law="un-r109"))
    assert any("hold" in finding.says for finding in said.values())
    assert not any(finding.limit.get("length") or finding.limit.get("width") for finding in said.values())


def test_the_seven_years_of_car_casings_are_not_brought_over(book: Rulebook) -> None:
    """UN Regulation 108 para 6.3 (00 series), from memory: for cars only; 109 gives no age."""
    rules = [rule for rule in book.rules if rule.id.startswith("law/un_r109/")]
    assert len(rules) > 15
    assert not [rule.id for rule in rules if {"age", "age by law"} & rule.facts()]


def test_the_report_says_beside_finding_and_answer_that_the_text_is_from_memory(shop: Shop) -> None:
    docket = triage(but(TRUCK, found={"oil swell": "1 mm"}), shop, law="un-r109")
    assert (docket.basis, docket.basis_known) == ("law", "from memory: check before quoting")
    told = " ".join(as_text(report(docket, width=100), width=100).split())
    assert "law (un regulation 109, para 6.4.4.1; from memory)" in told
    assert "It is quoted from memory: read the text before you rely on it." in told
    [finding] = by_regulation(docket).values()
    assert finding.model_dump()["sources"][0]["known"] == "from memory: check before quoting"


def test_a_clause_that_was_read_does_not_say_from_memory_and_one_beside_it_that_was_not_does(shop: Shop) -> None:
    """49 CFR 570.62: (a) was read, (c) and (d) are from memory, though they stand in one source."""
    front = but(TRUCK, service={"country": "us", "position": "steered"}, injuries=[but(NAIL, length="8 mm")])
    [finding] = [f for f in triage(front, shop).findings if f.rule == "service/front_repair_us"]
    assert (finding.sources[0].place, finding.sources[0].known) == ("(d)", "from memory")
    worn = but(TRUCK, service={"country": "us"}, tyre={"tread left": "1 ± 0 mm"})
    [finding] = [f for f in triage(worn, shop).findings if f.rule == "law/us/tread"]
    assert [(s.place, s.known) for s in finding.sources] == [
        ("(c)", "read in an excerpt"),
        ("(a)", "read in an excerpt"),
    ]


def test_bared_ply_and_bared_chafer_fabric_are_two_things(shop: Shop) -> None:
    """NHTSA letter nht72-3.4: ply cord exposed is barred, chafer fabric is not. Read.

    The house holds for an engineer where chafer fabric shows, and rejects past 25 mm: stricter, as air creeps in there.
    """
    chafer = triage(but(TRUCK, found={"chafer fabric bare": "10 mm"}), shop)
    assert (chafer.verdict, chafer.outcome) == ("leave", "hold")
    ply = triage(but(TRUCK, injuries=[but(CUT, reaches="cord", cords_cut=None, distance_from_bead="5 mm")]), shop)
    assert ply.verdict == "reject"


def test_a_nail_hole_that_was_sealed_inside_is_not_bared_cord(shop: Shop) -> None:
    """NHTSA letter nht72-2.49: sealed inside with vulcanised material, it is not exposed cord. Read."""
    sealed = but(TRUCK, service={"country": "us"}, earlier_repairs=[
        {"name": "old nail", "class": "spot", "side": "crown", "clock": "90 deg", "state": "sound"},
    ])  # fmt: skip
    docket = triage(sealed, shop)
    assert docket.outcome == "serve"
    assert not [f for f in docket.findings if f.rule.startswith("law/")]
    open_hole = triage(but(TRUCK, service={"country": "us"}, injuries=[NAIL]), shop)
    assert "law/us/cut_to_cord" in {f.rule for f in open_hole.findings}


def test_two_nail_holes_within_fifteen_inches_are_allowed_where_a_proposal_of_1969_would_not_have(shop: Shop) -> None:
    """NHTSA letter nht72-2.49 quotes it: no retreading with two holes under 15 in (381 mm) apart. Read; never adopted.

    We are milder by those 381 mm for punctures that need no reinforcement, and count them per sector instead.
    """
    pair = [but(NAIL, clock="300 deg"), but(NAIL, name="B", clock="310 deg")]
    docket = triage(but(TRUCK, injuries=pair), shop)
    assert (docket.outcome, docket.verdict) == ("repair", "spot")


@pytest.mark.parametrize("state", ["exposed", "kinked", "broken"])
def test_exposed_and_damaged_bead_wire_are_told_apart_and_both_are_defects(state: str, shop: Shop) -> None:
    """NHTSA letter nht73-4.36: exposed wire is barred; a damaged bead is not named and is still a defect. Read."""
    docket = triage(but(TRUCK, found={"bead wire": state}), shop, law="un-r109")
    assert docket.verdict == "reject"
    assert ("law/un_r109/bead_core" in by_regulation(docket)) is (state != "exposed")
