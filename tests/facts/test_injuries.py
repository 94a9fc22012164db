"""The sizes that decide, the limits after every factor, shares and clearances."""

from math import pi

import pytest

from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.triage import Shop
from tests.facts.derived import Derived, derive
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but


def cut(shop: Shop, tyre: Tree | None = None, service: Tree | None = None, **changes: object) -> Derived:
    tree = but(LOADER, tyre=tyre or {}, service=service or {}, injuries=[but(CUT, **changes)])
    return derive(tree, shop)


BIAS_SHOULDER: Tree = {
    "distance_from_bead": "480 mm", "reaches": "plies", "length": "112 mm", "width": "78 mm", "cords_cut": None,
    "plies_damaged": "7",
}  # fmt: skip
PORT: Tree = {"designation": "18.00-25", "casing": "nylon", "ply rating": "40 PR", "plies": "22", "date code": "4220"}


def test_a_loader_on_limestone_gets_the_full_box(shop: Shop) -> None:
    facts = cut(shop)
    box = facts.injury("length limit"), facts.injury("width limit"), facts.injury("cord limit")
    assert box == (60.0, 150.0, 18.0)
    assert facts.injury("share of length limit") == pytest.approx(80.0)
    assert facts.injury("share of width limit") == pytest.approx(118 / 150 * 100)
    assert facts.injury("share of area limit") == pytest.approx(48 * 118 / (0.75 * 60 * 150) * 100)
    assert facts.injury("share of cord limit") == pytest.approx(13 / 18 * 100)


def test_a_part_depth_bias_shoulder_on_a_reach_handler_has_relief_and_two_factors(shop: Shop) -> None:
    """90 x 100 mm, x 0.90 for the port, x 0.95 for six years, x 1.5 for half depth, down to five: 115 x 125."""
    facts = cut(shop, PORT, {"duty": "port handler"}, **BIAS_SHOULDER)
    assert facts.zones() == {"shoulder"}
    assert (facts.injury("length limit"), facts.injury("width limit")) == (115.0, 125.0)
    assert facts.injury("share of length limit") == pytest.approx(112 / 115 * 100)
    assert facts.injury("share of width limit") == pytest.approx(78 / 125 * 100)
    assert facts.injury("share of area limit") == pytest.approx(112 * 78 / (0.75 * 115 * 125) * 100)


def test_a_crown_edge_on_a_long_hot_haul_shrinks_to_seventy(shop: Shop) -> None:
    """95 mm x 0.85 for the haul x 0.90 above nine tenths of the heat rating is 72.7, down to five: 70."""
    facts = cut(
        shop, {"designation": "24.00R35", "belts": "5", "date code": "4723"}, {"duty": "haul long", "tkph use": "92 %"},
        distance_from_bead=None, distance_from_centreline="190 mm", reaches="plies", length="60 mm", width="45 mm",
        cords_cut=None, belts_damaged="3", belt_edge_distance="38 mm", separation_halo="40 mm",
    )  # fmt: skip
    assert facts.injury("length limit", zone="crown edge") == 70.0
    assert facts.injury("deciding length", zone="crown edge") == 140.0
    assert facts.injury("share of length limit", zone="crown edge") == pytest.approx(200.0)
    assert facts.injury("belt share", zone="crown edge") == pytest.approx(60.0)
    band = 0.05 * 0.86 * 609.6 * 1.08
    assert facts.injury("belt edge clearance", zone="crown edge") == pytest.approx(38 - band, abs=0.001)


def test_a_limit_that_comes_out_on_its_step_is_not_rounded_below_it(shop: Shop) -> None:
    """150 x 0.90 is 135 on paper and a hair less in binary."""
    assert cut(shop, service={"duty": "load and carry"}).injury("width limit") == 135.0


def test_a_textile_radial_has_a_tenth_more(shop: Shop) -> None:
    facts = cut(shop, {"casing": "nylon"})
    assert (facts.injury("length limit"), facts.injury("width limit")) == (65.0, 165.0)
    assert facts.injury("share of cord limit") == 0.0


@pytest.mark.parametrize(("written", "cords"), [("13", 13.0), (None, 18.0)])
def test_cords_are_counted_or_else_worked_out_from_the_pitch(written: str | None, cords: float, shop: Shop) -> None:
    """W6 has a cord every 3.3 mm; uncounted, a fifth more: 48 / 3.3 x 1.2 = 17.5, so 18."""
    assert cut(shop, length="48 ± 0 mm", cords_cut=written).injury("cords cut counted") == cords


def test_uncounted_cords_are_not_raised_at_the_good_reading(shop: Shop) -> None:
    facts = cut(shop, length="48 ± 0 mm", cords_cut=None)
    assert [facts.injury("cords cut counted", at) for at in (GOOD, READ, BAD)] == [15.0, 18.0, 18.0]


def test_a_ply_rating_is_no_count_of_plies(shop: Shop) -> None:
    """Seven of 22 plies are 32 %, not 7 of 40."""
    assert cut(shop, PORT, **BIAS_SHOULDER).injury("ply share") == pytest.approx(7 / 22 * 100)
    guessed = cut(shop, but(PORT, plies="unknown"), **BIAS_SHOULDER)
    assert [guessed.tyre("plies", at) for at in (GOOD, READ, BAD)] == [24.0, 22.0, 20.0]
    assert guessed.tyre("ply count") == "assumed"


def test_through_is_every_ply(shop: Shop) -> None:
    assert cut(shop, PORT, **{**BIAS_SHOULDER, "reaches": "through"}).injury("ply share") == 100.0


def test_rubber_and_bare_cord_hurt_no_ply(shop: Shop) -> None:
    for reaches in ("rubber", "cord"):
        facts = cut(shop, reaches=reaches, cords_cut=None)
        assert (facts.injury("ply share"), facts.injury("cords cut counted")) == (0.0, 0.0)


def test_half_depth_relief_ends_at_half_the_plies(shop: Shop) -> None:
    just = cut(shop, PORT, **{**BIAS_SHOULDER, "plies_damaged": "11"})
    over = cut(shop, PORT, **{**BIAS_SHOULDER, "plies_damaged": "12"})
    assert (just.injury("length limit"), over.injury("length limit")) == (125.0, 85.0)


def test_halo_and_rust_grow_the_hole_on_both_sides(shop: Shop) -> None:
    facts = cut(shop, separation_halo="10 ± 0 mm", rust="6 ± 0 mm", length="48 ± 0 mm", width="118 ± 0 mm")
    assert (facts.injury("deciding length"), facts.injury("deciding width")) == (80.0, 150.0)


def test_rust_that_grew_over_the_weekend_counts(shop: Shop) -> None:
    friday = cut(shop, rust="0 ± 0 mm").injury("share of length limit")
    monday = cut(shop, rust="4 ± 0 mm").injury("share of length limit")
    assert monday - friday == pytest.approx(8 / 60 * 100)


def test_a_slanted_path_is_as_long_as_its_longest_layer(shop: Shop) -> None:
    """97 mm deep at 40 degrees: the channel leaves 97 x tan 40 = 81 mm beside its mouth."""
    slanted = {"depth": "97 ± 0 mm", "path_angle": "40 ± 0 deg", "length": "25 ± 0 mm", "width": "25 ± 0 mm"}
    assert cut(shop, skived="no", **slanted).injury("deciding length", zone="upper sidewall") == pytest.approx(
        106.4, abs=0.05
    )
    assert cut(shop, skived="yes", **slanted).injury("deciding length") == 25.0


def test_a_break_larger_inside_than_outside_counts_by_its_inside(shop: Shop) -> None:
    facts = cut(shop, kind="impact break", length="0 mm", width="0 mm", inside_length="90 mm", inside_width="60 mm")
    assert (facts.injury("deciding length"), facts.injury("deciding width")) == (90.0, 60.0)


def test_the_longest_outer_size_is_what_the_law_measures(shop: Shop) -> None:
    facts = cut(shop, outside_length="165 mm")
    assert facts.injury("outer cut") == 165.0
    assert facts.injury("outer cut share") == pytest.approx(165 / 673.1 * 100, abs=0.001)


@pytest.mark.parametrize(("distance", "clearance"), [("137.9 ± 0 mm", -0.1), ("139 ± 0 mm", 1.0)])
def test_the_skived_edge_is_measured_to_the_bead_band(distance: str, clearance: float, shop: Shop) -> None:
    facts = cut(shop, distance_from_bead=distance, width="20 ± 0 mm")
    band = facts.tyre("bead ends")
    zone = "bead" if clearance < 0 else "lower sidewall"
    assert facts.injury("bead clearance", zone=zone) == pytest.approx(float(distance.split()[0]) - band, abs=0.001)
    assert facts.injury("bead clearance", zone=zone) == pytest.approx(clearance, abs=0.1)


def test_a_legal_injury_may_have_a_reinforcement_that_is_not(shop: Shop) -> None:
    """The skive ends at 170 mm, the band at 138; a reinforcement reaches 0.18 x 673 = 121 mm further down."""
    facts = cut(shop, distance_from_bead="170 ± 0 mm", width="40 ± 0 mm")
    assert facts.injury("reinforcement extra") == pytest.approx(121.2, abs=0.05)
    assert facts.injury("bead clearance") == pytest.approx(32.0, abs=0.2)
    assert facts.injury("reinforcement clearance") == pytest.approx(170 - 121.2 - 138.0, abs=0.3)


def test_a_small_reinforcement_reaches_sixty_millimetres_at_least(shop: Shop) -> None:
    facts = cut(shop, {"designation": "11R22.5"}, distance_from_bead="160 mm", width="20 mm", depth="14 mm")
    assert facts.injury("reinforcement extra") == 60.0


def test_a_tyre_beyond_the_tables_is_previewed_in_the_last_class(shop: Shop) -> None:
    w7 = cut(shop, {"designation": "875/65R29"}, distance_from_bead="300 mm", width="60 mm")
    w8 = cut(shop, {"designation": "45/65R45"}, distance_from_bead="450 mm", width="60 mm")
    assert (w7.tyre("width class"), w8.tyre("width class")) == ("W7", "W8")
    assert w7.injury("length limit", READ) == w8.injury("length limit", READ) == 70.0


def test_a_length_is_set_against_the_girth_where_it_lies(shop: Shop) -> None:
    """A circle: 200 mm of a girth of 2 pi r, r between the rim and the tread as the place between bead and crown."""
    facts = cut(shop, length="200 mm", distance_from_bead="330 ± 0 mm")
    radius = facts.tyre("rim") / 2 + 330 / facts.tyre("half girth") * facts.tyre("height")
    assert facts.injury("girth share") == pytest.approx(200 / (2 * pi * radius) * 100)
    nearer = cut(shop, length="200 mm", distance_from_bead="280 ± 0 mm")
    assert nearer.injury("girth share") > facts.injury("girth share")


@pytest.mark.parametrize(("gap", "share"), [(None, 1000.0), ("2000 mm", 1000.0), ("67.3 ± 0 mm", 10.0), ("0 mm", 0.0)])
def test_an_open_splice_is_as_near_as_its_share_of_the_width(gap: str | None, share: float, shop: Shop) -> None:
    assert cut(shop, splice_gap=gap).injury("splice share") == pytest.approx(share, abs=0.02)


def test_an_injury_well_inside_the_zone_for_minor_repairs_has_room(shop: Shop) -> None:
    """BS AU 159: 70 per cent of 315 mm are 221 mm, half of it 110 on each side of the centreline. As summarised."""
    nail = but(NAIL, distance_from_centreline="20 ± 0 mm", width="4 ± 0 mm")
    facts = derive(but(TRUCK, injuries=[nail]), shop)
    assert facts.tyre("minor zone width") == 221
    assert facts.injury("minor zone margin") == pytest.approx(221 / 2 - 24, abs=0.01)
