"""How many repairs a tyre would carry against the number allowed."""

import pytest

from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.triage import Shop
from tests.facts.derived import derive
from tests.triage.cases import CUT, LOADER, Tree, but


def old(number: int, **changes: object) -> list[Tree]:
    repair: Tree = {"class": "section", "side": "serial side", "zone": "upper sidewall", "state": "sound"}
    return [{"name": f"old {n}", **but(repair, **changes)} for n in range(number)]


@pytest.mark.parametrize(
    ("designation", "sections", "sidewall", "every"),
    [("11R22.5", 2, 1, 4), ("17.5R25", 3, 2, 6), ("26.5R25", 4, 2, 8), ("875/65R29", 5, 3, 10)],
)
def test_old_and_new_count_together(designation: str, sections: int, sidewall: int, every: int, shop: Shop) -> None:
    tree = but(
        LOADER,
        tyre={"designation": designation},
        earlier_repairs=old(1),
        injuries=[but(CUT, distance_from_bead="180 mm", width="10 mm", depth="10 mm")],
    )
    facts = derive(tree, shop, "section")
    assert facts.tyre("share of section repairs") == pytest.approx(2 / sections * 100)
    assert facts.tyre("share of sidewall repairs") == pytest.approx(2 / sidewall * 100)
    assert facts.tyre("share of all repairs") == pytest.approx(2 / every * 100)


def test_an_injury_that_touches_two_zones_is_one_repair(shop: Shop) -> None:
    tree = but(LOADER, injuries=[but(CUT, distance_from_bead="200 mm")])
    facts = derive(tree, shop, "section")
    assert facts.zones() == {"lower sidewall", "upper sidewall"}
    assert facts.tyre("share of section repairs") == 25.0
    assert facts.tyre("share of sidewall repairs") == 50.0
    assert facts.tyre("share of all repairs") == 12.5


def test_an_injury_of_unknown_place_is_one_repair_and_at_best_not_in_a_sidewall(shop: Shop) -> None:
    facts = derive(but(LOADER, injuries=[but(CUT, distance_from_bead=None)]), shop, "section")
    assert [facts.tyre("share of all repairs", at) for at in (GOOD, READ, BAD)] == [12.5, 12.5, 12.5]
    assert [facts.tyre("share of sidewall repairs", at) for at in (GOOD, READ, BAD)] == [0.0, 50.0, 50.0]


def test_the_fuller_sidewall_counts(shop: Shop) -> None:
    repairs = [*old(2), {**old(1, side="opposite side")[0], "name": "other"}]
    facts = derive(but(LOADER, earlier_repairs=repairs), shop, "leave")
    assert facts.tyre("share of sidewall repairs") == 100.0
    assert facts.tyre("share of section repairs") == 75.0


def test_an_earlier_repair_on_no_side_counts_on_both(shop: Shop) -> None:
    repairs = [*old(1), {"name": "x", "class": "section", "zone": "lower sidewall", "state": "sound"}]
    facts = derive(but(LOADER, earlier_repairs=repairs), shop, "leave")
    assert facts.tyre("share of sidewall repairs") == 100.0


def test_dressing_is_no_repair(shop: Shop) -> None:
    tree = but(LOADER, earlier_repairs=old(3, **{"class": "dress"}), injuries=[CUT])
    assert derive(tree, shop, "dress").tyre("share of all repairs") == 0.0
    assert derive(tree, shop, "spot").tyre("share of all repairs") == 12.5
