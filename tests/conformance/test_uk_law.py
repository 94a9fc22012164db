"""United Kingdom road law: SI 1986/1078 regulation 27 and SI 2020/1178. Road tyres only.

Regulation 27(1) was read as several public bodies print it: a cut in excess of 25 mm or 10 per cent of the
section width, whichever is the greater, in any direction on the outside, and deep enough to reach ply or cord.
"""

import pytest

from mendbook.terms.docket import Docket, Finding
from mendbook.triage import Shop
from tests.triage.cases import CUT, NAIL, TRUCK, Tree, but, triage

UK: Tree = but(TRUCK, service={"country": "uk"})


def by_law(docket: Docket) -> dict[str, Finding]:
    """Return what the law said about the case as read, by rule."""
    return {f.rule: f for f in docket.findings if f.rule.startswith("law/uk/") and f.readings["as read"]}


def cut(width_mm: float, length_mm: float, **changes: object) -> Tree:
    """Return a tyre of one nominal width with a cut of one outer length."""
    injury = but(CUT, length="4 mm", width="4 mm", depth=None, cords_cut=None, distance_from_bead="150 mm",
                 reaches="cord", outside_length=f"{length_mm} ± 0 mm", **changes)  # fmt: skip
    return but(UK, tyre={"designation": f"{width_mm}/80R22.5"}, injuries=[injury])


@pytest.mark.parametrize(
    ("width", "length", "is_barred"),
    [
        # Up to 250 mm of width the 25 mm decide.
        (249, 25.0, False),
        (249, 25.1, True),
        (250, 25.0, False),
        (250, 25.1, True),
        # Above, a tenth of the width does: 25.1 mm of 251.
        (251, 25.1, False),
        (251, 25.2, True),
        (315, 31.5, False),
        (315, 31.6, True),
        (385, 38.4, False),
        (385, 38.6, True),
    ],
)
def test_a_cut_to_the_cord_longer_than_the_greater_of_two_measures_is_barred(
    width: float, length: float, is_barred: bool, shop: Shop
) -> None:
    """SI 1986/1078 reg 27(1). Read."""
    docket = triage(cut(width, length), shop)
    assert ("law/uk/cut" in by_law(docket)) is is_barred
    if is_barred:
        assert by_law(docket)["law/uk/cut"].verdict == "spot"


@pytest.mark.parametrize(
    ("designation", "limit"), [("11.00R20", 27.94), ("13/80R20", 33.02), ("12R22.5", 30.48), ("8.25R20", 25.0)]
)
def test_a_width_in_inches_is_brought_to_millimetres(designation: str, limit: float, shop: Shop) -> None:
    """Ten per cent of eleven inches are 27.9 mm, of thirteen 33.0. Worked out; the rule itself was read."""
    for length, is_barred in ((limit - 0.02, False), (limit + 0.02, True)):
        tree = but(cut(315, round(length, 3)), tyre={"designation": designation})
        assert ("law/uk/cut" in by_law(triage(tree, shop))) is is_barred


def test_length_without_depth_is_not_barred(shop: Shop) -> None:
    """Both conditions hold together: 80 mm of rubber alone are no offence. Read."""
    shallow = but(cut(315, 80.0), injuries=[but(cut(315, 80.0)["injuries"][0], reaches="rubber", rubber_left="8 mm")])
    assert by_law(triage(shallow, shop)) == {}


@pytest.mark.parametrize(
    ("duty", "position", "code", "is_barred"),
    [
        ("truck", "steered", "4716", True),  # week 47 of 2016 ended some days more than ten years before
        ("truck", "steered", "4816", False),
        ("bus", "steered", "1016", True),
        ("truck", "not steered", "1016", False),
        ("trailer", "not steered", "1016", False),
    ],
)
def test_no_tyre_over_ten_years_on_a_front_steered_axle(
    duty: str, position: str, code: str, is_barred: bool, shop: Shop
) -> None:
    """SI 2020/1178, from February 2021: over ten years, front steered axles of goods vehicles and buses. Read."""
    tree = but(UK, tyre={"date code": code}, service={"duty": duty, "position": position})
    docket = triage(tree, shop)
    assert ("law/uk/steered_age" in by_law(docket)) is is_barred
    if is_barred:
        assert (docket.uses["road"], docket.basis) == ("reject", "law")


def test_a_retread_counts_from_the_day_it_was_retreaded(shop: Shop) -> None:
    """SI 2020/1178. Read."""
    tree = but(UK, tyre={"date code": "1015", "retread date code": "1024"}, service={"position": "steered"})
    assert "law/uk/steered_age" not in by_law(triage(tree, shop))


def test_a_front_steered_axle_wants_a_date_code_that_can_be_read(shop: Shop) -> None:
    """SI 2020/1178. Read."""
    unread = but(UK, tyre={"date code": "unknown"}, service={"position": "steered"})
    assert "law/uk/steered_date_code" in by_law(triage(unread, shop))
    rear = but(unread, service={"position": "not steered"})
    assert "law/uk/steered_date_code" not in by_law(triage(rear, shop))


@pytest.mark.parametrize(("depth", "is_barred"), [("1.0 mm", False), ("0.9 mm", True)])
def test_a_millimetre_of_tread_over_three_quarters_of_the_breadth(depth: str, is_barred: bool, shop: Shop) -> None:
    """SI 1986/1078 reg 27, heavy vehicles. Read."""
    tree = but(UK, tyre={"tread depths": None, "tread left": depth})
    assert ("law/uk/tread" in by_law(triage(tree, shop))) is is_barred


@pytest.mark.parametrize(
    ("found", "rule"),
    [
        ({"worn to cord": "yes"}, "law/uk/cord_by_wear"),
        ({"crack class": "C4"}, "law/uk/cord_by_cracks"),
        ({"sidewall separation": "1 cm2"}, "law/uk/sidewall_separation"),
        ({"tread separation": "1 mm"}, "law/uk/tread_separation"),
    ],
)
def test_cord_that_shows_and_lumps_end_road_service(found: dict[str, str], rule: str, shop: Shop) -> None:
    """SI 1986/1078 reg 27(1): lump, bulge or tear by separation or failure; ply or cord exposed. Read."""
    finding = by_law(triage(but(UK, found=found), shop))[rule]
    assert (finding.verdict, finding.sources[0].id) == ("reject", "uk si 1986/1078")


def test_a_nail_hole_is_too_short_to_be_barred(shop: Shop) -> None:
    assert by_law(triage(but(UK, injuries=[NAIL]), shop)) == {}


@pytest.mark.parametrize(
    ("duty", "designation", "barred_by"),
    [
        ("truck", "315/80R22.5", None),
        ("truck", "10.00R15", "law/uk/recut_small_rim"),  # 381 mm
        ("truck", "7.50R16", None),  # 406.4 mm
        ("trailer", "385/65R22.5", None),
        ("bus", "315/80R22.5", "law/uk/recut_bus"),
    ],
)
def test_recut_tyres_are_for_goods_vehicles_with_large_rims(
    duty: str, designation: str, barred_by: str | None, shop: Shop
) -> None:
    """SI 1986/1078 reg 27(5): goods vehicles from 2 540 kg unladen with rims from 405 mm. Read.

    The weight of the vehicle is not asked: none as light as that runs on tyres of this rulebook.
    """
    tree = but(UK, tyre={"designation": designation}, service={"duty": duty}, found={"regrooved": "yes"})
    assert set(by_law(triage(tree, shop))) == ({barred_by} if barred_by else set())


def test_the_tread_of_cars_is_not_asked(shop: Shop) -> None:
    """SI 1986/1078 reg 27(4): 1.6 mm on cars, 1 mm on heavy goods vehicles. Read. Cars are outside this rulebook."""
    docket = triage(but(UK, tyre={"tread depths": None, "tread left": "1.2 ± 0 mm"}), shop)
    assert by_law(docket) == {}


def test_on_other_axles_an_illegible_date_code_is_a_lesser_fault(shop: Shop) -> None:
    """SI 2020/1178 as the enforcement body explains it: a minor fault elsewhere. Read. We hold for the age."""
    docket = triage(but(UK, tyre={"date code": "unknown"}), shop)
    assert docket.outcome == "hold"
    assert any("read the serial" in hold.lower() for hold in docket.holds)
