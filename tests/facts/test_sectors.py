"""Punctures close together round the crown."""

import pytest

from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.triage import Shop
from tests.facts.derived import Derived, derive
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, triage


def holes(shop: Shop, *clocks: str | None, **changes: object) -> Derived:
    injuries = [but(NAIL, name=f"N{n}", clock=clock, **changes) for n, clock in enumerate(clocks)]
    return derive(but(TRUCK, injuries=injuries), shop, "spot")


@pytest.mark.parametrize(
    ("clocks", "counted"),
    [
        (("10 deg",), [1]),
        (("10 deg", "70 deg"), [2, 1]),
        (("10 deg", "70.5 deg"), [1, 1]),
        (("350 deg", "20 deg", "40 deg"), [3, 2, 1]),
        (("10 deg", "10 deg"), [2, 2]),
        (("10 deg", "130 deg", "250 deg"), [1, 1, 1]),
    ],
)
def test_punctures_are_counted_over_a_sixth_of_the_girth(
    clocks: tuple[str, ...], counted: list[int], shop: Shop
) -> None:
    facts = holes(shop, *clocks)
    assert [facts.injury("punctures in sector", injury=n) for n in range(len(clocks))] == counted


def test_a_puncture_of_unknown_place_counts_as_near_but_for_the_good_reading(shop: Shop) -> None:
    facts = holes(shop, "10 deg", None, "200 deg")
    assert [facts.injury("punctures in sector", at) for at in (GOOD, READ, BAD)] == [1, 2, 2]


def test_other_injuries_and_other_zones_do_not_count(shop: Shop) -> None:
    assert holes(shop, "10 deg", "20 deg", kind="cut").injury("punctures in sector") == 0
    mixed = derive(but(LOADER, injuries=[but(CUT, kind="puncture"), but(CUT, name="B")]), shop, "section")
    assert mixed.injury("punctures in sector") == 0


@pytest.mark.parametrize(("number", "is_held"), [(6, False), (7, True)])
def test_more_than_six_are_judged_as_one_injury(number: int, is_held: bool, shop: Shop) -> None:
    """House default."""
    injuries: list[Tree] = [but(NAIL, name=f"N{n}", clock=f"{8 * n} deg") for n in range(number)]
    docket = triage(but(TRUCK, injuries=injuries), shop)
    assert any("box round all of them" in hold for hold in docket.holds) is is_held
