"""A tyre full of injuries is judged too; only what would change it is no longer tried, one by one."""

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
