"""The map in the docket: where the tape says, and nothing where nobody measured."""

from typing import Any

import pytest

from mendbook.terms.tyre_map import Site, TyreMap
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, but, triage


def mapped(shop: Shop, tree: Any) -> TyreMap:
    tyre = triage(tree, shop).map
    assert tyre is not None
    return tyre


def site(shop: Shop, **changes: Any) -> Site:
    return mapped(shop, but(LOADER, injuries=[but(CUT, **changes)])).sites[0]


def test_the_outline_is_the_one_that_zones_were_laid_out_on(shop: Shop) -> None:
    outline = mapped(shop, LOADER).outline
    assert outline is not None
    assert (outline.rim_mm, outline.height_mm, outline.width_mm) == (635.0, 551.9, 673.1)
    # Half girth and bead band of a 26.5R25 after the house formulas, worked out by hand.
    assert outline.half_girth_mm == pytest.approx(1.22 * 551.94 - 0.10 * 673.1 + 0.43 * 673.1, abs=0.1)
    assert outline.zones[0].ends_mm == pytest.approx(138, abs=0.1)
    assert [zone.zone for zone in outline.zones][-1] == "crown centre"
    assert outline.zones[-1].ends_mm == outline.half_girth_mm
    assert not outline.is_taped


def test_a_measured_diameter_wins_and_says_so(shop: Shop) -> None:
    outline = mapped(shop, but(LOADER, tyre={"outside diameter": "1700 mm"})).outline
    assert outline is not None
    assert outline.is_taped
    assert outline.height_mm == pytest.approx((1700 - 635) / 2)


def test_an_injury_lies_from_its_near_edge_for_its_width(shop: Shop) -> None:
    found = site(shop)
    assert (found.lower_mm, found.upper_mm, found.length_mm) == (330, 448, 48)
    assert (found.side, found.clock_deg, found.reaches) == ("serial side", 214, "through")
    assert found.counted_mm == (330, 448)
    wider = site(shop, separation_halo="20 mm", inside_width="130 mm")
    assert (wider.lower_mm, wider.upper_mm) == (330, 460)
    assert wider.counted_mm == (310, 480)


def test_from_the_centreline_it_is_brought_to_the_same_tape(shop: Shop) -> None:
    tyre = mapped(shop, but(TRUCK, injuries=[NAIL]))
    (found,) = tyre.sites
    assert tyre.outline is not None
    assert found.upper_mm == pytest.approx(tyre.outline.half_girth_mm - 20)
    assert found.lower_mm == pytest.approx(tyre.outline.half_girth_mm - 24)


def test_what_was_not_measured_has_no_place(shop: Shop) -> None:
    named = site(shop, distance_from_bead=None, zone="shoulder", clock=None, side=None)
    assert (named.lower_mm, named.upper_mm, named.counted_mm) == (None, None, None)
    assert (named.zone, named.clock_deg, named.side) == ("shoulder", None, "")
    narrow = site(shop, width="unknown")
    assert (narrow.lower_mm, narrow.upper_mm, narrow.counted_mm) == (330, None, None)
    assert site(shop, length="unknown").length_mm is None


def test_an_earlier_repair_is_on_the_map_too(shop: Shop) -> None:
    old = {
        "name": "R", "class": "section", "side": "opposite side", "clock": "90 deg", "distance from bead": "300 mm",
        "length": "200 mm", "width": "250 mm", "state": "sound",
    }  # fmt: skip
    (found,) = mapped(shop, but(LOADER, earlier_repairs=[old])).sites
    assert found.is_repair
    assert (found.lower_mm, found.upper_mm, found.length_mm) == (300, 550, 200)


def test_without_a_size_there_is_no_outline_and_a_stop_has_no_map(shop: Shop) -> None:
    unread = mapped(shop, but(LOADER, tyre={"designation": "unknown", "construction": "radial"}, injuries=[CUT]))
    assert unread.outline is None
    assert "size" in unread.why_not
    assert unread.sites[0].lower_mm is None
    assert triage(but(LOADER, found={"valve core": "in"}), shop).map is None
