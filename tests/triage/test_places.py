"""Two words for one place that contradict each other are a slip, and no rule can tell which: the case is refused."""

import pytest

from mendbook.triage import Shop
from mendbook.triage.places import ImpossibleCase
from tests.triage.cases import CUT, LOADER, but, triage


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        pytest.param({"zone": "bead"}, "zone", id="a bead that the tape finds in the sidewall"),
        pytest.param({"side": "crown"}, "side", id="a crown that the tape finds in the sidewall"),
        pytest.param({"length": "0 mm"}, "length", id="an injury without length"),
        pytest.param({"width": "0 mm"}, "width", id="an injury without width"),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(changes: dict[str, str], field: str, shop: Shop) -> None:
    with pytest.raises(ImpossibleCase) as refused:
        triage(but(LOADER, injuries=[but(CUT, **changes)]), shop)
    assert refused.value.path == ("injuries", 0, field)


def test_a_zone_that_the_tape_finds_too_is_no_contradiction(shop: Shop) -> None:
    assert triage(but(LOADER, injuries=[but(CUT, zone="upper sidewall")]), shop).verdict == "section"


def test_a_change_of_place_stays_on_the_tyre(shop: Shop) -> None:
    docket = triage(but(LOADER, injuries=[but(CUT, length="75 mm", cords_cut="23")]), shop)
    offered = [change.then for change in docket.would_change if change.fact == "distance from bead"]
    assert docket.verdict == "reject"
    assert all(float(then.split()[0]) <= 895 for then in offered)


def test_a_plan_that_the_kit_cannot_serve_is_held(shop: Shop) -> None:
    bare = but(LOADER, workshop={"kit on hand": ["pad 150 x 200"]}, injuries=[CUT])
    docket = triage(bare, shop)
    assert docket.verdict == "section"
    assert docket.outcome == "hold"
    assert any(hold.startswith("Settle the plan for A:") for hold in docket.holds)
