"""What the owner of a rulebook leaves to somebody else is held, never let through or rejected in silence."""

from pathlib import Path

import pytest

from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, open_shop
from tests.triage.cases import CUT, LOADER, but, triage

PERSON = "the foreman of casings"
THROUGH = "{reaches: through, zone: upper sidewall, construction: radial, refer to: the foreman of casings}"
ALL_LOADERS = "{duty: loader v-cycle, refer to: the foreman of casings}"
RUBBER = "{reaches: at least rubber, duty: loader v-cycle, refer to: the foreman of casings}"


def open_with(entry: str, place: Path, *left_out: str) -> Shop:
    """Open the shipped book with one combination left to somebody else, and without some of its rules."""
    looser = [f"{{rule: {name}, approved by: a foreman, on: 2026-11-20, why: So.}}" for name in left_out]
    (place / "rulebook.yaml").write_text(
        "rulebook: own\nedition: first\ndate: 2026-11-20\nowner: a foreman\n"
        f"withdraw: [{', '.join(left_out)}]\nlooser: [{', '.join(looser)}]\nnot covered:\n  - {entry}\n",
        encoding="utf-8",
    )
    return open_shop(place)


def holding(docket: Docket) -> list[str]:
    return [hold for hold in docket.holds if hold.startswith(f"Refer it to {PERSON}: ")]


def test_a_case_that_no_rule_covers_is_held_for_the_person_named(tmp_path: Path) -> None:
    shop = open_with(THROUGH, tmp_path, "sidewall/through_steel_radial")
    docket = triage(but(LOADER, injuries=[CUT]), shop)
    assert docket.outcome == "hold"
    assert docket.bracket is not None
    assert docket.bracket[1] == "reject"
    assert holding(docket) == [
        f"Refer it to {PERSON}: this rulebook does not cover reaches through, zone upper sidewall, construction radial."
    ]
    assert docket.reason == f"The owner of this rulebook leaves it to {PERSON}."
    text = " ".join(as_text(report(docket, 100), 100).split())
    assert f"Hold. Refer it to {PERSON}" in text
    assert "own book/not covered 1:" in text


def test_a_mild_verdict_of_another_rule_lets_nothing_through(tmp_path: Path, shop: Shop) -> None:
    nick = {
        "name": "A", "kind": "cut", "reaches": "rubber", "side": "serial side", "clock": "20 deg",
        "distance from bead": "330 mm", "length": "20 mm", "width": "10 mm", "depth": "5 mm", "skived": "yes",
    }  # fmt: skip
    case = but(LOADER, injuries=[nick])
    before = triage(case, shop)
    assert (before.bracket, before.holds) == (("leave", "spot"), ())
    docket = triage(case, open_with(RUBBER, tmp_path))
    assert (docket.outcome, docket.verdict, docket.bracket) == ("hold", "reject", ("leave", "reject"))
    assert docket.injuries[0].bracket == ("leave", "reject")
    assert len(holding(docket)) == 1


def test_a_tyre_without_injuries_is_held_as_well(tmp_path: Path, shop: Shop) -> None:
    assert triage(LOADER, shop).outcome == "serve"
    docket = triage(LOADER, open_with(ALL_LOADERS, tmp_path))
    assert docket.outcome == "hold"
    assert len(holding(docket)) == 1


def test_what_another_rule_rejects_stays_rejected(tmp_path: Path) -> None:
    broken = but(LOADER, found={"bead wire": "broken"}, injuries=[CUT])
    assert triage(broken, open_with(ALL_LOADERS, tmp_path)).outcome == "reject"


@pytest.mark.parametrize("zone", ["shoulder", "lower sidewall"])
def test_a_case_beside_it_is_judged_as_before(zone: str, tmp_path: Path, shop: Shop) -> None:
    cut = but(CUT, distance_from_bead=None, zone=zone)
    before, after = (triage(but(LOADER, injuries=[cut]), one) for one in (shop, open_with(THROUGH, tmp_path)))
    assert (before.outcome, before.verdict, before.holds) == (after.outcome, after.verdict, after.holds)
