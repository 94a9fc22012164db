"""Cases that drawing found and that once broke a promise, made as small as they go."""

import pytest

from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, Tree, but, triage
from tests.triage.weighing import weigh


def test_injuries_of_which_different_things_are_unknown_lie_in_one_frame(shop: Shop) -> None:
    pair = [but(CUT, skived="unknown"), but(CUT, name="B", distance_from_bead="unknown", clock="9 deg")]
    assert triage(but(LOADER, injuries=pair), shop).verdict == "reject"


@pytest.mark.parametrize("old", ["none", [{"name": "old", "class": "reinforce", "clock": "93 deg", "state": "sound"}]])
def test_the_gap_on_a_tyre_of_unknown_size_is_none_when_read(old: str | list[Tree], shop: Shop) -> None:
    pair = [but(CUT, distance_from_bead=None), but(CUT, name="B", distance_from_bead=None, clock="90 deg")]
    tree = but(LOADER, tyre={"designation": "unknown"}, injuries=pair, earlier_repairs=old)
    docket = triage(tree, shop)
    assert docket.verdict == "reject"
    assert any("joint reinforcement" in hold for hold in docket.holds)


def test_an_injury_across_two_zones_takes_one_of_the_repairs_allowed(shop: Shop) -> None:
    """A small tyre may carry one section repair in a sidewall."""
    across = but(CUT, length="8 mm", width="30 mm", cords_cut="2", depth=None, distance_from_bead="115 mm")
    tree = but(LOADER, tyre={"designation": "315/80R22.5"}, injuries=[across])
    docket = triage(tree, shop)
    assert (docket.verdict, docket.injuries[0].zone) == ("section", "lower sidewall (also touches upper sidewall)")


def test_touching_one_zone_more_never_hides_a_neighbour(shop: Shop) -> None:
    """Two section repairs in one shoulder; the second, measured worse, reaches down into the sidewall too."""
    small = but(CUT, length="10 mm", width="20 mm", cords_cut="2", clock="10 deg", distance_from_bead="560 mm")
    apart = but(small, name="B", clock="30 deg", distance_from_bead="480 ± 0 mm")
    across = but(apart, distance_from_bead="465 ± 0 mm")
    for second in (apart, across):
        assert triage(but(LOADER, injuries=[small, second]), shop).verdict == "reject"


def test_a_narrow_injury_near_the_edge_of_a_zone_keeps_the_mild_end_of_its_bracket(shop: Shop) -> None:
    """At 472 ± 5 mm it may lie in the upper sidewall, where the box is larger than in the shoulder."""
    slit = but(CUT, length="57 ± 0 mm", width="4 ± 0 mm", cords_cut="15")
    near, inside = (
        weigh(but(LOADER, injuries=[but(slit, distance_from_bead=place)]), shop)
        for place in ("472 ± 5 mm", "468 ± 0 mm")
    )
    assert (near.mild, near.verdict, near.severe) == (shop.book.rank("section"), shop.book.rank("reject"),
                                                      shop.book.rank("reject"))  # fmt: skip
    assert inside.verdict == shop.book.rank("section")


@pytest.mark.parametrize(("first", "last"), [(145, 220), (280, 420), (480, 600)])
def test_nearer_to_the_bead_in_one_zone_is_never_milder(first: int, last: int, shop: Shop) -> None:
    """Across zones it may be: shoulder and bead are the hard places, and the wall between them is easier."""
    slit = but(CUT, length="40 mm", width="30 mm", cords_cut="11")
    ranks = [
        weigh(but(LOADER, injuries=[but(slit, distance_from_bead=f"{place} mm")]), shop).verdict
        for place in range(first, last, 15)
    ]
    assert ranks == sorted(ranks, reverse=True)
