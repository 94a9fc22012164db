"""What one injury's repair means for the next."""

from math import pi

import pytest

from mendbook.facts.earlier import LARGEST
from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.rulebook.book import Rulebook
from mendbook.triage import Shop
from tests.facts.derived import Derived, derive
from tests.triage.cases import CUT, LOADER, Tree, but

SMALL: Tree = but(CUT, length="20 ± 0 mm", width="40 ± 0 mm", distance_from_bead="330 ± 0 mm", cords_cut="5")


def pair(shop: Shop, tyre: Tree | None = None, first: Tree | None = None, **second: object) -> Derived:
    injuries = [but(SMALL, clock="10 deg", **(first or {})), but(SMALL, name="B", **second)]
    return derive(but(LOADER, tyre=tyre or {}, injuries=injuries), shop, "section")


def test_an_injury_alone_is_near_to_nothing(shop: Shop) -> None:
    alone = derive(but(LOADER, injuries=[SMALL]), shop, "section")
    assert alone.injury("gap") == 20_000
    assert (alone.injury("gap share"), alone.injury("angle share")) == (10_000, 10_000)
    assert alone.injury("path share of length limit") == 0


@pytest.mark.parametrize(("designation", "apart"), [("11R22.5", 45), ("26.5R25", 45), ("27.00R49", 45)])
def test_the_same_angle_is_a_longer_gap_on_a_larger_tyre(designation: str, apart: int, shop: Shop) -> None:
    """45 degrees are some 390 mm on a tyre of 1.0 m and 1 060 mm on one of 2.7 m; at the injury, a little less."""
    place = {"distance_from_bead": "180 ± 0 mm", "depth": "14 mm"}
    facts = pair(shop, {"designation": designation}, place, clock=f"{10 + apart} deg", **place)
    rim, height = facts.tyre("rim"), facts.tyre("height")
    middle = 180 + 40 / 2
    radius = rim / 2 + height * middle / facts.tyre("half girth")
    reach = facts.injury("reinforcement extra", zone=sorted(facts.zones())[0])
    expected = radius * apart * pi / 180 - 20 - 2 * reach
    assert facts.injury("gap", zone=sorted(facts.zones())[0]) == pytest.approx(expected, abs=0.01)
    assert radius * apart * pi / 180 < apart / 360 * pi * (rim + 2 * height)


def test_millimetres_and_degrees_are_judged_apart(shop: Shop) -> None:
    """On a large tyre 40 degrees leave gap enough and are still too few; on a small one 90 degrees may be too near."""
    large = pair(shop, {"designation": "24.00R35"}, {"distance_from_bead": "400 mm"}, clock="50 deg",
                 distance_from_bead="400 mm")  # fmt: skip
    assert large.injury("gap share") > 100
    assert large.injury("angle share") == pytest.approx(40 / 45 * 100, abs=0.001)
    same_angle = pair(shop, clock="50 deg")
    assert same_angle.injury("gap") < large.injury("gap")


def test_angles_run_round_past_the_valve(shop: Shop) -> None:
    facts = pair(shop, clock="350 deg")
    assert facts.injury("angle share") == pytest.approx(20 / 45 * 100, abs=0.001)


def test_an_unknown_clock_is_near_when_read_and_far_at_best(shop: Shop) -> None:
    facts = pair(shop, clock=None)
    shares = [facts.injury("angle share", at) for at in (GOOD, READ, BAD)]
    assert shares == [400.0, 0.0, 0.0]


def test_angles_count_within_one_zone_and_side_only(shop: Shop) -> None:
    other_side = pair(shop, clock="10 deg", side="opposite side")
    other_zone = pair(shop, clock="10 deg", distance_from_bead="550 mm")
    assert other_side.injury("angle share") == other_zone.injury("angle share") == 10_000


def test_two_injuries_that_share_one_of_their_zones_count_as_neighbours(shop: Shop) -> None:
    """B touches upper sidewall and shoulder, A the shoulder only."""
    facts = pair(shop, None, {"distance_from_bead": "550 mm"}, clock="40 deg", distance_from_bead="450 ± 0 mm")
    assert facts.zones(injury=1) == {"upper sidewall", "shoulder"}
    assert facts.injury("angle share") == pytest.approx(30 / 45 * 100, abs=0.001)


def test_cuts_in_both_sidewalls_at_one_clock_lie_on_the_same_cords(shop: Shop) -> None:
    facts = pair(shop, clock="12 deg", side="opposite side", length="25 ± 0 mm")
    assert facts.injury("path share of length limit") == pytest.approx((20 + 25) / 60 * 100)
    assert facts.injury("path share of length limit", injury=1) == pytest.approx((20 + 25) / 60 * 100)


def test_cuts_in_both_sidewalls_far_round_do_not(shop: Shop) -> None:
    assert pair(shop, clock="60 deg", side="opposite side").injury("path share of length limit") == 0


def test_cuts_in_one_sidewall_do_not(shop: Shop) -> None:
    assert pair(shop, clock="30 deg").injury("path share of length limit") == 0


def test_close_injuries_are_judged_in_the_box_round_both(shop: Shop) -> None:
    facts = pair(shop, clock="20 deg")
    radius = facts.tyre("rim") / 2 + facts.tyre("height") * 350 / facts.tyre("half girth")
    length = radius * 10 * pi / 180 + 20
    assert facts.injury("gap share") == 0
    assert facts.injury("joint share of length limit") == pytest.approx(length / 60 * 100, abs=0.001)
    assert facts.injury("joint share of width limit") == pytest.approx(40 / 150 * 100)


def test_the_box_round_both_is_never_smaller_than_either(shop: Shop) -> None:
    facts = pair(
        shop, None, {"length": "58 ± 0 mm"}, clock="10 deg", length="6 ± 0 mm", distance_from_bead="400 ± 0 mm"
    )
    assert facts.injury("joint share of length limit") == pytest.approx(58 / 60 * 100)
    assert facts.injury("joint share of width limit") == pytest.approx((70 + 40) / 150 * 100)


def test_injuries_far_apart_have_no_box_round_both(shop: Shop) -> None:
    assert pair(shop, clock="190 deg").injury("joint share of length limit") == 0


def test_an_earlier_repair_is_a_neighbour_like_any_other(shop: Shop) -> None:
    old = {
        "name": "old", "class": "section", "side": "serial side", "zone": "upper sidewall", "clock": "40 deg",
        "distance from bead": "250 mm", "length": "300 mm", "width": "300 mm", "state": "sound",
    }  # fmt: skip
    facts = derive(but(LOADER, injuries=[but(SMALL, clock="10 deg")], earlier_repairs=[old]), shop, "section")
    assert facts.injury("angle share") == pytest.approx(30 / 45 * 100, abs=0.001)
    # Both reinforcements overlap across the section; round the tyre some 90 mm less than their half lengths.
    assert facts.injury("gap") < facts.injury("least gap")


def test_an_earlier_repair_on_a_side_in_no_zone_may_lie_anywhere_in_it(shop: Shop) -> None:
    old = {"name": "old", "class": "section", "side": "serial side", "clock": "40 deg", "state": "sound"}
    facts = derive(but(LOADER, injuries=[but(SMALL, clock="10 deg")], earlier_repairs=[old]), shop, "section")
    assert facts.injury("angle share") == pytest.approx(30 / 45 * 100, abs=0.001)


@pytest.mark.parametrize(
    ("second", "angle"),
    [
        ({"clock": "40 deg", "side": "opposite side"}, 30.0),
        ({"clock": "340 deg", "side": "opposite side"}, 30.0),
        ({"clock": "40 deg"}, 360.0),
        ({"clock": "40 deg", "side": "opposite side", "distance_from_bead": "330 mm"}, 360.0),
    ],
)
def test_repairs_face_each_other_from_shoulder_to_shoulder(second: Tree, angle: float, shop: Shop) -> None:
    place = {"distance_from_bead": "480 ± 0 mm"}
    facts = pair(shop, first=place, **{**place, **second})
    assert facts.zones() == {"shoulder"}
    assert facts.injury("facing angle") == pytest.approx(angle)


def test_a_spot_repair_faces_nothing(shop: Shop) -> None:
    place = {"distance_from_bead": "480 ± 0 mm"}
    injuries = [
        but(SMALL, clock="10 deg", **place),
        but(SMALL, name="B", side="opposite side", clock="10 deg", **place),
    ]
    facts = derive(but(LOADER, injuries=injuries), shop, "spot")
    assert facts.injury("facing angle") == 360.0


OLD: Tree = {
    "name": "old", "class": "section", "side": "serial side", "zone": "upper sidewall", "clock": "70 deg",
    "distance from bead": "250 mm", "length": "300 mm", "width": "300 mm", "state": "sound",
}  # fmt: skip


def beside(shop: Shop, **old: object) -> Derived:
    """One injury at 10 degrees and an earlier repair, from which what is None is left out."""
    mapped = {name: value for name, value in {**OLD, **old}.items() if value is not None}
    return derive(but(LOADER, injuries=[but(SMALL, clock="10 deg")], earlier_repairs=[mapped]), shop, "section")


@pytest.mark.parametrize("missing", ["length", "width"])
@pytest.mark.parametrize("written", [None, "unknown"])
def test_an_earlier_repair_of_unknown_size_counts_as_the_largest_but_for_the_good_reading(
    missing: str, written: str | None, shop: Shop
) -> None:
    place = {"clock": "10 deg", "distance from bead": "40 mm"} if missing == "width" else {}
    unknown = beside(shop, **place, **{missing: written})
    small = beside(shop, **place, **{missing: "0 mm"})
    largest = beside(shop, **place, **{missing: f"{LARGEST * unknown.tyre('inflated width')} mm"})
    gaps = [unknown.injury("gap", at) for at in (GOOD, READ, BAD)]
    assert gaps[0] == pytest.approx(small.injury("gap", GOOD))
    assert gaps[1:] == pytest.approx([largest.injury("gap", at) for at in (READ, BAD)])
    assert gaps[1] < gaps[0]


def test_the_size_of_an_earlier_repair_given_as_a_range_counts_at_both_ends(shop: Shop) -> None:
    ranged = beside(shop, length="200 to 400 mm")
    for at, length in ((GOOD, 200), (READ, 300), (BAD, 400)):
        assert ranged.injury("gap", at) == pytest.approx(beside(shop, length=f"{length} mm").injury("gap", at))


def test_no_reinforcement_within_the_limits_is_larger_than_one_of_unknown_size(book: Rulebook) -> None:
    """The largest box of a class with its relief and the reach on both sides, on the narrowest tyre of the class."""
    [reach], [classes] = book.tables_giving("extra share"), book.tables_giving("class from")
    share, floor = (max(row.numbers[reach.gives.index(name)] for row in reach.rows) for name in reach.gives)
    relief = max(max(row.numbers) for table in book.tables_giving("relief factor") for row in table.rows)
    narrowest = {row.bounds[0].values[0]: row.numbers[0] for row in classes.rows}
    narrowest["W1"] = 279.0  # mm; 11 inches, the narrowest heavy tyre that is judged
    for table in book.tables_giving("table length"):
        for row in table.rows:
            [width_class] = next(bound.values for bound in row.bounds if bound.fact == "width class")
            width = narrowest[width_class]
            assert relief * max(row.numbers) + 2 * max(floor, share * width) <= LARGEST * width


@pytest.mark.parametrize("zone", ["upper sidewall", None])
def test_an_earlier_repair_on_an_unknown_side_lies_on_the_worst_but_for_the_good_reading(
    zone: str | None, shop: Shop
) -> None:
    unknown = beside(shop, side=None, zone=zone, clock="40 deg")
    assert [unknown.injury("angle share", at) for at in (GOOD, READ, BAD)] == [
        10_000,
        pytest.approx(30 / 45 * 100, abs=0.001),
        pytest.approx(30 / 45 * 100, abs=0.001),
    ]
    same, facing = beside(shop, clock="12 deg"), beside(shop, clock="12 deg", side="opposite side")
    anywhere = beside(shop, clock="12 deg", side=None, zone=zone)
    for at in (READ, BAD):
        assert anywhere.injury("gap", at) == pytest.approx(same.injury("gap", at))
        assert anywhere.injury("path share of length limit", at) == facing.injury("path share of length limit", at) > 0
    assert anywhere.injury("path share of length limit", GOOD) == 0
