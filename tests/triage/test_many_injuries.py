"""A tyre full of injuries is judged too; only what would change it is no longer tried, one by one."""

import pytest

from mendbook.facts.scenarios import TooManyChoices
from mendbook.triage import Shop
from mendbook.triage.outlook import MOST_INJURIES
from tests.triage.cases import CUT, LOADER, but, triage


def test_many_injuries_are_all_judged_and_counted(shop: Shop) -> None:
    number = MOST_INJURIES + 4
    cuts = [but(CUT, name=f"cut {n}", clock=f"{n * 30} deg") for n in range(number)]
    docket = triage(but(LOADER, injuries=cuts), shop)
    assert len(docket.injuries) == number
    assert docket.verdict == "reject"
    assert any(finding.rule == "number/section_repairs" for finding in docket.findings)
    assert docket.would_change == ()
    assert "too many injuries" in docket.nothing_to_change


def test_injuries_of_which_nothing_is_known_are_refused_before_they_fill_the_memory(shop: Shop) -> None:
    found = {"valve core": "out", "heat event": "none"}
    bare = {"case": "nothing known", "found": found, "injuries": [{"name": n, "kind": "unknown"} for n in "ABC"]}
    with pytest.raises(TooManyChoices, match="too little is known"):
        triage(bare, shop)
