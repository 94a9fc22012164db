"""Cases in which a naive rule goes wrong, each judged as an experienced foreman would."""

import pytest

from mendbook.terms.case_file import CaseError
from mendbook.terms.docket import Docket
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, triage
from tests.triage.test_worked_cases import PORT, SHOULDER_CUT

SMALL: Tree = but(CUT, length="20 mm", width="40 mm", cords_cut="5", clock="10 deg")


def rules(docket: Docket) -> set[str]:
    return {finding.rule for finding in docket.findings}


def test_a_ply_rating_is_not_a_count_of_plies(shop: Shop) -> None:
    """Seven of forty would be a spot repair; forty is the rating, and of 22 plies seven are a third."""
    guessed = triage(but(PORT, tyre={"plies": None}, injuries=[SHOULDER_CUT]), shop)
    assert (guessed.outcome, guessed.verdict) == ("hold", "reinforce")
    assert any("Count the plies" in hold for hold in guessed.holds)
    assert "not a count" in guessed.assumed["plies"]


def test_a_tube_that_holds_air_proves_nothing_about_the_casing(shop: Shop) -> None:
    """How deep it goes is unknown, so it counts as through, and probing is asked for first."""
    deep = but(CUT, reaches="unknown", cords_cut=None)
    docket = triage(but(LOADER, tyre={"tube": "tube fitted"}, injuries=[deep]), shop)
    through = triage(but(LOADER, injuries=[but(deep, reaches="through")]), shop)
    assert docket.verdict == through.verdict == "section"
    assert (docket.outcome, docket.measure_next[0].fact) == ("hold", "reaches")


def test_a_star_bruise_with_a_whole_skin_counts_by_its_inside(shop: Shop) -> None:
    """Outside nothing, inside a cross of 90 mm: in a steel radial where 60 mm may be, that is the end."""
    bruise = but(CUT, kind="impact break", reaches="plies", length="0 mm", width="0 mm", depth=None, cords_cut=None)
    star = but(bruise, inside_length="90 mm", inside_width="60 mm")
    assert triage(but(LOADER, injuries=[star]), shop).verdict == "reject"
    small = triage(but(LOADER, injuries=[but(star, inside_length="40 mm")]), shop)
    assert (small.verdict, small.injuries[0].length) == ("section", "40 mm")


def test_two_cuts_on_the_same_cords_are_one_cut(shop: Shop) -> None:
    """Each is well within 60 mm; opposite each other in a radial they cut the same spokes twice."""
    pair = [but(SMALL, length="35 mm"), but(SMALL, name="B", length="32 mm", side="opposite side", clock="12 deg")]
    docket = triage(but(LOADER, injuries=pair), shop)
    assert docket.verdict == "reject"
    assert "number/cord_path_radial" in rules(docket)
    apart = [pair[0], but(pair[1], clock="190 deg")]
    assert triage(but(LOADER, injuries=apart), shop).verdict == "section"


def test_the_same_angle_is_enough_on_a_large_tyre_and_too_little_on_a_small_one(shop: Shop) -> None:
    def pair(designation: str, distance: str, apart: float) -> Docket:
        one = but(SMALL, length="8 mm", width="20 mm", cords_cut="2", depth=None, distance_from_bead=distance)
        two = [one, but(one, name="B", clock=f"{10 + apart} deg")]
        return triage(but(LOADER, tyre={"designation": designation}, injuries=two), shop)

    small, large = pair("17.5R25", "220 mm", 50), pair("27.00R49", "450 mm", 50)
    assert "number/angle" in rules(small)
    assert (small.verdict, large.verdict) == ("reject", "section")
    # On the large tyre the millimetres would do at 40 degrees as well; the angle does not.
    near = pair("27.00R49", "450 mm", 40)
    assert ("number/gap" in rules(near), "number/angle" in rules(near)) == (False, True)


def test_a_size_is_never_misread_by_its_form(shop: Shop) -> None:
    with pytest.raises(CaseError, match=r"'65/35-33' has the aspect ratio first.*'35/65-33'"):
        triage(but(LOADER, tyre={"designation": "65/35-33"}), shop)
    with pytest.raises(CaseError, match=r"'1800-25' has no decimal point\. Write '18\.00-25'"):
        triage(but(LOADER, tyre={"designation": "1800-25"}), shop)
    with pytest.raises(CaseError, match=r"'18-25' is not a tyre size"):
        triage(but(LOADER, tyre={"designation": "18-25"}), shop)
    assert triage(PORT, shop).tyre.designation == "18.00-25"


def test_a_deep_tread_hides_the_hole(shop: Shop) -> None:
    """A drill channel 25 mm wide at the mouth, 40 degrees through 97 mm of tread, is over 100 mm at the belts."""
    channel = but(
        CUT, kind="puncture", distance_from_bead=None, distance_from_centreline="60 mm", length="25 mm", width="25 mm",
        depth="97 mm", path_angle="40 deg", cords_cut=None, belts_damaged="2", skived="no",
    )  # fmt: skip
    tree = but(LOADER, tyre={"belts": "5"})
    slanted = triage(but(tree, injuries=[channel]), shop)
    straight = triage(but(tree, injuries=[but(channel, path_angle="0 ± 0 deg")]), shop)
    assert (straight.injuries[0].length, slanted.injuries[0].length) == ("25 mm", "106 mm")
    assert (straight.verdict, slanted.verdict, slanted.outcome) == ("reinforce", "section", "hold")


def test_rust_that_grew_since_friday_counts_on_monday(shop: Shop) -> None:
    friday = triage(but(LOADER, injuries=[but(CUT, length="56 mm", cords_cut="16", rust="0 ± 0 mm")]), shop)
    monday = triage(but(LOADER, injuries=[but(CUT, length="56 mm", cords_cut="16", rust="3 mm")]), shop)
    assert (friday.verdict, monday.verdict) == ("section", "reject")
    assert "rust" in [change.fact for change in monday.would_change]


def test_a_retread_has_the_age_of_its_casing_for_the_house_and_of_its_tread_for_the_law(shop: Shop) -> None:
    retread = but(TRUCK, tyre={"date code": "2715", "retread date code": "2725"}, injuries=[NAIL])
    steered = but(retread, service={"position": "steered", "country": "uk"})
    docket = triage(steered, shop)
    assert "law/uk/steered_age" not in rules(docket)
    assert "age/steered_road" in rules(docket)
    assert (docket.verdict, docket.basis) == ("reject", "house")
    off_road = but(LOADER, tyre={"date code": "2715", "retread date code": "2725"}, injuries=[CUT])
    assert "age/too_old_to_reinforce" in rules(triage(off_road, shop))


@pytest.mark.parametrize(
    ("pressure", "warmth", "is_low"),
    [
        ("4.75 bar", "-20 °C", False),  # five per cent low in deep frost is more than full
        ("4.18 bar", "-20 °C", False),  # sixteen per cent low in deep frost is full
        ("3.9 bar", "0 °C", False),  # 22 per cent low after a cold night is fifteen
        ("3.9 bar", "20 °C", True),
        ("4.3 bar", "60 °C", True),  # fourteen per cent low on a hot tyre is 27
    ],
)
def test_pressure_is_compared_at_one_temperature(pressure: str, warmth: str, is_low: bool, shop: Shop) -> None:
    found = {"pressure at removal": f"{pressure[:-4]} ± 0 bar", "temperature at removal": warmth}
    docket = triage(but(LOADER, found=found, injuries=[CUT]), shop)
    assert ("casing/low_pressure_steel" in rules(docket)) is is_low


def test_better_data_may_make_it_worse_and_the_bracket_says_so_before(shop: Shop) -> None:
    """Four of sixteen assumed plies are a spot repair; counted, they may be fourteen."""
    wall = but(SHOULDER_CUT, distance_from_bead="300 mm", length="60 mm", width="50 mm", plies_damaged="4")
    guessed = triage(but(PORT, tyre={"ply rating": "28 PR", "plies": None}, injuries=[wall]), shop)
    assert (guessed.verdict, guessed.bracket, guessed.outcome) == ("spot", ("spot", "reinforce"), "hold")
    assert "plies" in [look.fact for look in guessed.measure_next]
    counted = triage(but(PORT, tyre={"ply rating": "28 PR", "plies": "14 ± 0"}, injuries=[wall]), shop)
    assert (counted.verdict, counted.bracket) == ("reinforce", ("reinforce", "reinforce"))


def test_a_reinforcement_may_not_run_into_the_bead_band_even_when_the_injury_does_not(shop: Shop) -> None:
    """The skive ends 32 mm clear of the band, and the reinforcement reaches 121 mm further."""
    low = but(SMALL, distance_from_bead="170 mm", width="60 mm")
    docket = triage(but(LOADER, injuries=[low]), shop)
    assert (docket.verdict, docket.outcome) == ("section", "hold")
    assert any("clear of the bead band" in hold for hold in docket.holds)
    assert triage(but(LOADER, injuries=[but(low, distance_from_bead="300 mm")]), shop).outcome == "repair"


@pytest.mark.parametrize(
    ("hours", "outcome"),
    [
        ("23.8 h", "stop"),
        ("24 h", "stop"),  # such a time is half an hour off, and the doubt goes against the tyre
        ("24.4 h", "stop"),
        ("24.5 h", "hold"),
        ("24 ± 0 h", "hold"),
    ],
)
def test_a_day_after_heat_is_a_whole_day_at_the_latest_possible_time(hours: str, outcome: str, shop: Shop) -> None:
    """Ten minutes short of a day is not a day."""
    found = {"heat event": "suspected", "hours since heat": hours}
    assert triage(but(LOADER, found=found, injuries=[CUT]), shop).outcome == outcome


def test_clocks_are_counted_from_one_mark_on_one_side_whatever_the_side_of_the_injury(shop: Shop) -> None:
    """350 and 10 degrees are 20 apart, and a cut is mirrored by its side, not by its clock."""
    pair = [but(SMALL, clock="350 deg"), but(SMALL, name="B", clock="10 deg")]
    assert "number/angle" in rules(triage(but(LOADER, injuries=pair), shop))
    facing = [pair[0], but(pair[1], side="opposite side")]
    assert "number/angle" not in rules(triage(but(LOADER, injuries=facing), shop))


def test_a_repair_in_a_dual_set_faces_away_from_its_mate(shop: Shop) -> None:
    """Two mates that both bulge grow together and burn each other."""
    docket = triage(but(LOADER, service={"fitment": "dual"}, injuries=[CUT]), shop)
    assert "release/position_dual" in rules(docket)
    assert "release/position_dual" not in rules(triage(but(LOADER, injuries=[CUT]), shop))


def test_the_edge_of_a_class_flips_a_limit_and_is_pointed_out(shop: Shop) -> None:
    below, above = (
        triage(but(LOADER, tyre={"designation": size}, injuries=[but(SMALL, distance_from_bead="230 mm")]), shop)
        for size in ("454/95R25", "458/95R25")
    )
    assert (below.injuries[0].box, above.injuries[0].box) == ("35 x 90 mm", "40 x 110 mm")
    assert all("any_zone/near_class_edge" in rules(docket) for docket in (below, above))
