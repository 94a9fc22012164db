"""Which zones an injury touches at its three readings."""

import polars as pl
import pytest

from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.facts.scenarios import INJURY_CHOICE, VARIANT
from mendbook.triage import Shop
from tests.facts.derived import Derived, derive
from tests.triage.cases import CUT, LOADER, Tree, but

# 26.5R25: bead to 138, lower sidewall to 273, upper to 473, shoulder to 649, crown edge to 722, crown to 895 mm.
WALL = {"upper sidewall"}
ANYWHERE = {"crown centre", "crown edge", "shoulder", "upper sidewall", "lower sidewall", "bead"}


def placed(shop: Shop, **changes: object) -> Derived:
    return derive(but(LOADER, injuries=[but(CUT, **changes)]), shop)


def test_an_injury_well_inside_a_zone_touches_that_zone_only(shop: Shop) -> None:
    facts = placed(shop)
    assert [facts.zones(at) for at in (GOOD, READ, BAD)] == [WALL, WALL, WALL]


def test_an_injury_across_an_edge_touches_both_zones(shop: Shop) -> None:
    facts = placed(shop, distance_from_bead="200 mm")
    assert facts.zones() == {"lower sidewall", "upper sidewall"}


@pytest.mark.parametrize(
    ("distance", "width", "good", "read", "bad"),
    [
        # Five millimetres of place and two of width: the upper edge lies at 470 mm, so at worst at 477.
        ("350 ± 5 mm", "120 ± 2 mm", WALL, WALL, WALL | {"shoulder"}),
        # The upper edge lies at 476 mm, so at best at 469.
        ("356 ± 5 mm", "120 ± 2 mm", WALL, WALL | {"shoulder"}, WALL | {"shoulder"}),
        # The lower edge lies at 270 mm, so at best at 275.
        ("270 ± 5 mm", "60 ± 2 mm", WALL, WALL | {"lower sidewall"}, WALL | {"lower sidewall"}),
        # The same, written as the ruler shows it and read with the ruler's own error.
        ("350 mm", "120 mm", WALL, WALL, WALL | {"shoulder"}),
    ],
)
def test_an_edge_moves_out_by_its_error_at_the_bad_reading_and_in_at_the_good_one(
    distance: str, width: str, good: set[str], read: set[str], bad: set[str], shop: Shop
) -> None:
    facts = placed(shop, distance_from_bead=distance, width=width)
    assert [facts.zones(at) for at in (GOOD, READ, BAD)] == [good, read, bad]


def test_a_separation_halo_reaches_out_both_ways(shop: Shop) -> None:
    facts = placed(shop, distance_from_bead="300 ± 0 mm", width="160 ± 0 mm", separation_halo="30 ± 0 mm")
    assert facts.zones() == {"lower sidewall", "upper sidewall", "shoulder"}
    assert facts.injury("lower edge", zone="shoulder") == 270.0
    assert facts.injury("upper edge", zone="shoulder") == 490.0


def test_a_place_from_the_centreline_is_brought_to_the_bead(shop: Shop) -> None:
    girth = placed(shop).tyre("half girth")
    facts = placed(shop, distance_from_bead=None, distance_from_centreline="190 mm", width="40 ± 0 mm")
    assert facts.injury("upper edge", zone="crown edge") == pytest.approx(girth - 190)
    assert facts.injury("lower edge", zone="crown edge") == pytest.approx(girth - 230)


def test_the_tape_beats_a_zone_that_was_named(shop: Shop) -> None:
    assert placed(shop, zone="bead").zones() == WALL


def test_a_zone_named_without_a_tape_is_that_zone_and_as_near_the_bead_as_it_goes(shop: Shop) -> None:
    facts = placed(shop, zone="lower sidewall", distance_from_bead=None, width="30 ± 0 mm")
    assert [facts.zones(at) for at in (GOOD, READ, BAD)] == [{"lower sidewall"}] * 3
    assert facts.injury("bead clearance", READ) == 0.0
    assert facts.injury("bead clearance", GOOD) == pytest.approx(273.1 - 30 - 138.0, abs=0.5)


def test_a_named_bead_zone_is_inside_the_band_where_nothing_is_repaired(shop: Shop) -> None:
    facts = placed(shop, zone="bead", distance_from_bead=None)
    assert facts.injury("bead clearance", GOOD) < 0


def test_an_injury_of_unknown_place_may_lie_anywhere(shop: Shop) -> None:
    nowhere: Tree = {"distance_from_bead": None}
    for changes in (nowhere, {**nowhere, "zone": "unknown"}, {"distance_from_bead": "unknown"}):
        assert placed(shop, **changes).zones() == ANYWHERE


def test_a_tape_on_a_tyre_of_unknown_size_names_no_zone(shop: Shop) -> None:
    tree = but(LOADER, tyre={"designation": "unknown"}, injuries=[CUT])
    assert derive(tree, shop).zones() == ANYWHERE


def test_a_slanted_path_that_was_not_skived_may_run_towards_the_bead(shop: Shop) -> None:
    """Nobody knows which way the tunnel runs, and unknown counts as worst."""
    slanted = {"skived": "no", "depth": "97 ± 0 mm", "path_angle": "40 ± 0 deg", "width": "25 ± 0 mm"}
    facts = placed(shop, distance_from_bead="300 ± 0 mm", **slanted)
    assert facts.zones() == {"lower sidewall", "upper sidewall"}


@pytest.mark.parametrize(
    ("distance", "touched"),
    [
        ("176 ± 0 mm", {"crown edge"}),
        ("176 mm", {"crown edge", "crown centre"}),  # the tape over the crown is three millimetres off
        ("190 ± 20 mm", {"crown edge", "crown centre", "shoulder"}),
        ("175 to 210 mm", {"crown edge", "shoulder"}),
    ],
)
def test_the_error_of_the_tape_over_the_crown_moves_both_edges_out(
    distance: str, touched: set[str], shop: Shop
) -> None:
    """The crown centre ends 173.7 mm from the centreline, the crown edge 246 mm."""
    facts = placed(shop, distance_from_bead=None, distance_from_centreline=distance, width="40 ± 0 mm")
    assert facts.zones(BAD) == touched


def test_a_range_of_distances_reaches_from_one_end_to_the_other(shop: Shop) -> None:
    facts = placed(shop, distance_from_bead="260 to 440 mm", width="40 ± 0 mm")
    assert facts.zones(BAD) == facts.zones(READ) == {"lower sidewall", "upper sidewall", "shoulder"}
    assert facts.zones(GOOD) == WALL


@pytest.mark.parametrize("distance", ["271 ± 5 mm", "475 ± 5 mm"])
def test_a_narrow_injury_near_an_edge_may_lie_on_either_side_of_it_at_best(distance: str, shop: Shop) -> None:
    """Where the two edges cross at the good reading, every zone between them is one way to read it."""
    narrow = {"distance_from_bead": distance, "width": "4 ± 2 mm", "length": "4 ± 0 mm"}
    facts = placed(shop, **narrow)
    assert len(facts.zones(GOOD)) == 2
    choices = facts.injuries.filter(pl.col(VARIANT) == GOOD).get_column(INJURY_CHOICE)
    assert choices.n_unique() == 2
