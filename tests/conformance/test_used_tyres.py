"""United Kingdom law on the sale of used tyres: SI 1994/3117, regulation 7. Stricter than running the same tyre.

Read as trading-standards guidance and councils print it: no cut over 25 mm or a tenth of the section width that
reaches ply or cord; no lump inside or out; no cord inside or out; no penetration that was not repaired; 2 mm of tread
over the full breadth all round; looked at without air and at the highest pressure; repairs to BS AU 159.
"""

import pytest

from mendbook.terms.docket import Docket, Finding
from mendbook.triage import Shop
from tests.triage.cases import CUT, NAIL, TRUCK, Tree, but, triage

SALE = "uk-part-worn"
LOOKED: Tree = but(TRUCK, found={"look for a sale": "sound"})
OLD: Tree = {"name": "old", "class": "spot", "side": "crown", "clock": "90 deg", "state": "sound"}


def by_sale(docket: Docket) -> dict[str, Finding]:
    """Return what the law on sales said about the case as read, by rule."""
    return {f.rule: f for f in docket.findings if f.rule.startswith("law/uk_part_worn/") and f.readings["as read"]}


@pytest.mark.parametrize(("depth", "is_barred"), [("2 ± 0 mm", False), ("1.99 ± 0 mm", True), ("1 ± 0 mm", True)])
def test_two_millimetres_of_tread_are_wanted_for_a_sale_and_one_for_running(
    depth: str, is_barred: bool, shop: Shop
) -> None:
    """SI 1994/3117 reg 7: 2 mm; SI 1986/1078 reg 27(4): 1 mm on heavy vehicles. Read."""
    tree = but(LOOKED, tyre={"tread depths": ["9 mm"] * 4, "tread left": depth})
    sold, run = triage(tree, shop, law=SALE), triage(tree, shop, law="uk")
    assert ("law/uk_part_worn/tread" in by_sale(sold)) is is_barred
    assert (sold.verdict == "reject") is is_barred
    assert run.verdict == "leave"


@pytest.mark.parametrize(
    ("found", "rule"),
    [
        ({"liner blister": "found"}, "law/uk_part_worn/lump_inside"),
        ({"loose cords": "found"}, "law/uk_part_worn/cord_inside"),
    ],
)
def test_lumps_and_cord_inside_bar_a_sale(found: Tree, rule: str, shop: Shop) -> None:
    """SI 1994/3117 reg 7: inside as well as outside. Read."""
    docket = triage(but(LOOKED, found=found), shop, law=SALE)
    finding = by_sale(docket)[rule]
    assert (finding.verdict, finding.sources[0].id, finding.sources[0].place) == ("reject", "uk si 1994/3117", "reg 7")


def test_what_bars_running_bars_a_sale(shop: Shop) -> None:
    """SI 1994/3117 reg 7: lump, bulge, cord outside; the rules for running hold as well. Read."""
    for found in ({"worn to cord": "yes"}, {"sidewall separation": "1 cm2"}, {"tread separation": "1 mm"}):
        docket = triage(but(LOOKED, found=found), shop, law=SALE)
        assert any(f.rule.startswith("law/uk/") and f.verdict == "reject" for f in docket.findings), found


@pytest.mark.parametrize(("reaches", "rules"), [
    ("rubber", set()), ("cord", {"cord_bared"}), ("plies", {"cord_bared"}), ("through", {"cord_bared", "penetration"}),
])  # fmt: skip
def test_bared_cord_of_any_size_and_an_open_hole_bar_a_sale_until_repaired(
    reaches: str, rules: set[str], shop: Shop
) -> None:
    """SI 1994/3117 reg 7: no cord exposed, no unrepaired penetration. Read; a cut of 5 mm may still be run with."""
    cut = but(CUT, reaches=reaches, length="5 mm", width="5 mm", cords_cut=None, depth=None, rubber_left="8 mm",
              distance_from_bead="150 mm")  # fmt: skip
    tree = but(LOOKED, injuries=[cut])
    said = by_sale(triage(tree, shop, law=SALE))
    assert set(said) == {f"law/uk_part_worn/{rule}" for rule in rules}
    assert all(finding.verdict == "spot" for finding in said.values())
    assert not any(f.rule.startswith("law/") for f in triage(tree, shop, law="uk").findings)


def test_a_used_tyre_is_looked_at_without_air_and_at_its_highest_pressure(shop: Shop) -> None:
    """SI 1994/3117 reg 7. Read."""
    assert triage(TRUCK, shop, law=SALE).outcome == "hold"
    assert triage(LOOKED, shop, law=SALE).outcome == "serve"
    assert triage(but(TRUCK, found={"look for a sale": "unsound"}), shop, law=SALE).verdict == "reject"
    assert triage(TRUCK, shop, law="uk").outcome == "serve"


def test_earlier_repairs_are_proven_to_be_to_the_standard(shop: Shop) -> None:
    """SI 1994/3117 reg 7: repairs to BS AU 159. Read."""
    tree = but(LOOKED, earlier_repairs=[OLD])
    assert any("within the national repair standard" in hold for hold in triage(tree, shop, law=SALE).holds)
    shown = but(tree, found={"record of earlier repairs": "shown"})
    assert triage(shown, shop, law=SALE).outcome == "serve"
    assert triage(tree, shop, law="uk").outcome == "serve"


def test_a_nail_hole_outside_the_zone_of_minor_repairs_is_held_for_a_sale(shop: Shop) -> None:
    """BS AU 159, minor repair zone, as summarised: 221 mm of a 315 mm tyre, so 110.5 mm from the centreline."""
    for distance, is_held in (("106.5 ± 0 mm", False), ("106.6 ± 0 mm", True)):
        nail = but(NAIL, side="serial side", distance_from_centreline=distance, width="4 ± 0 mm", length="4 ± 0 mm")
        docket = triage(but(LOOKED, injuries=[nail]), shop, law=SALE)
        said = {f.rule for f in docket.findings if f.readings["as read"] and "hold" in f.says}
        assert ("any_zone/minor_zone_for_sale" in said) is is_held


def test_a_cut_that_may_not_be_run_with_may_not_be_sold(shop: Shop) -> None:
    """SI 1994/3117 reg 7: 25 mm or a tenth of the width, as for running. Read."""
    cut = but(CUT, length="4 mm", width="4 mm", depth=None, cords_cut=None, distance_from_bead="150 mm",
              reaches="cord", outside_length="32 ± 0 mm")  # fmt: skip
    for law in ("uk", SALE):
        docket = triage(but(LOOKED, injuries=[cut]), shop, law=law)
        assert "law/uk/cut" in {f.rule for f in docket.findings if f.readings["as read"]}
