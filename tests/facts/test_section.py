"""The outline of the section. House numbers, worked out here a second time in plain Python."""

from math import isclose

import pytest

from mendbook.facts.section import ZONES
from mendbook.terms.designation import read_designation
from mendbook.triage import Shop
from tests.facts.derived import derive
from tests.triage.cases import LOADER, but

# Outside diameter, and the upper end of each zone from the bead toe [mm], worked by hand from the house formulas.
BY_HAND = {
    "315/80R22.5": (1076, 75, 124, 215, 295, 326, 402),
    "11R22.5": (1052, 75, 119, 207, 282, 310, 377),
    "12.00R20": (1130, 78, 156, 270, 366, 399, 478),
    "385/95R25": (1366, 91, 183, 318, 433, 474, 573),
    "14.00-24": (1363, 80, 169, 312, 454, 488, 587),
    "17.5R25": (1355, 90, 178, 308, 423, 471, 586),
    "18.00-25": (1604, 97, 217, 401, 584, 627, 754),
    "20.5R25": (1489, 107, 211, 366, 502, 558, 693),
    "23.5R25": (1614, 122, 242, 419, 576, 640, 794),
    "23.5-25": (1614, 98, 215, 398, 589, 640, 794),
    "26.5R25": (1739, 138, 273, 473, 649, 722, 895),
    "24.00R35": (2181, 162, 325, 564, 765, 836, 1006),
    "29.5R25": (1864, 154, 304, 526, 723, 804, 997),
    "875/65R29": (1874, 142, 273, 473, 663, 757, 983),
    "35/65R33": (1994, 144, 277, 481, 673, 769, 998),
    "27.00R49": (2685, 180, 362, 627, 852, 932, 1123),
}


def outline(designation: str, outside_diameter: float | None = None) -> list[float]:
    """Work out the ends of the zones [mm] from the words of the house formulas."""
    size = read_designation(designation)
    height = size.section_height_mm if outside_diameter is None else (outside_diameter - size.rim_diameter_mm) / 2
    width = size.section_width_mm
    half_tread = (0.80 if size.is_road_size else 0.86) * width / 2
    side = 1.22 * height - 0.10 * width
    flange = max(13.0, 0.075 * height + 12)
    radial = size.construction == "radial"
    bead = max((0.25 if radial else 0.20) * height, 75.0 if radial else 65.0, flange + 40)
    end = side + half_tread
    lower, upper, shoulder = (0.45, 0.78, 0.85) if radial else (0.40, 0.74, 0.80)
    return [bead, max(bead, lower * side), upper * side, end - shoulder * half_tread, end - 0.60 * half_tread, end]


def ends(designation: str, shop: Shop, **tyre: str) -> list[float]:
    tree = but(LOADER, tyre={"designation": designation, "casing": "unknown", **tyre})
    facts = derive(tree, shop)
    return [facts.tyre(f"{zone} ends") for zone in ZONES]


@pytest.mark.parametrize("designation", BY_HAND)
def test_every_zone_ends_where_the_house_formulas_put_it(designation: str, shop: Shop) -> None:
    assert ends(designation, shop) == pytest.approx(outline(designation))
    diameter, *by_hand = BY_HAND[designation]
    measured = ends(designation, shop, **{"outside diameter": f"{diameter} mm"})
    assert measured == pytest.approx(outline(designation, diameter))
    assert measured == pytest.approx(by_hand, abs=1.5)


@pytest.mark.parametrize("designation", BY_HAND)
def test_zones_follow_each_other_up_the_wall(designation: str, shop: Shop) -> None:
    found = ends(designation, shop)
    assert found == sorted(found)
    assert found[0] < found[2] < found[3] < found[4] < found[5]


def test_a_measured_outside_diameter_wins_over_the_height_in_the_size(shop: Shop) -> None:
    worn = ends("26.5R25", shop, **{"outside diameter": "1700 mm"})
    assert worn == pytest.approx(outline("26.5R25", 1700.0))
    assert worn[-1] < ends("26.5R25", shop)[-1]


def test_the_band_at_the_belt_edge_is_a_share_of_the_tread_off_road_and_a_length_on_it(shop: Shop) -> None:
    assert isclose(derive(LOADER, shop).tyre("belt edge band"), 0.05 * 0.86 * 673.1)
    truck = but(LOADER, tyre={"designation": "315/80R22.5"})
    assert derive(truck, shop).tyre("belt edge band") == 20.0


# UN Regulation 54, 6.1.1-6.1.2 (from memory): height = width x ratio, diameter = rim code x 25.4 + 2 x height.
# The regulation's own table prints 1076 mm for 315/80R22.5.
@pytest.mark.parametrize(
    ("designation", "diameter"), [("315/80R22.5", 1075.5), ("385/65R22.5", 1072.0), ("295/80R22.5", 1043.5)]
)
def test_the_outside_diameter_follows_un_regulation_54(designation: str, diameter: float) -> None:
    assert read_designation(designation).outside_diameter_mm == pytest.approx(diameter, abs=0.05)
