"""United States road law: 49 CFR 393.75 and 570.62. Road tyres only; the rules are silent off the road.

49 CFR 393.75(a)(1)-(4), (b), (c) were read in public copies; the text of 570.62(a) too, that of (d) is from memory.
One thirty-second of an inch is 0.79375 mm exactly.
"""

import pytest

from mendbook.terms.docket import Docket, Finding
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, triage

US: Tree = but(TRUCK, service={"country": "us"})
FRONT: Tree = but(US, service={"position": "steered"})


def by_law(docket: Docket) -> dict[str, Finding]:
    """Return what the law said about the case as read, by rule."""
    return {f.rule: f for f in docket.findings if f.rule.startswith("law/us/") and f.readings["as read"]}


@pytest.mark.parametrize(
    ("tree", "depth", "rule"),
    [
        (FRONT, "4/32 in", None),
        (FRONT, "3.175 mm", None),
        (FRONT, "3.9/32 in", "law/us/tread_front"),
        (FRONT, "3.17 mm", "law/us/tread_front"),
        (US, "2/32 in", None),
        (US, "1.5875 mm", None),
        (US, "1.58 mm", "law/us/tread"),
        (US, "3/32 in", None),
    ],
)
def test_tread_depth_front_and_other_wheels(tree: Tree, depth: str, rule: str | None, shop: Shop) -> None:
    """49 CFR 393.75(b), (c) and 570.62(a): 4/32 in on front wheels, 2/32 in on others. Read."""
    if depth == "3.9/32 in":
        depth = f"{3.9 / 32 * 25.4:.4f} mm"
    docket = triage(but(tree, tyre={"tread depths": None, "tread left": f"{depth}", "tread new": "18 mm"}), shop)
    said = by_law(docket)
    assert set(said) == ({rule} if rule else set())
    if rule:
        assert (docket.verdict, docket.basis) == ("reject", "law")
        place = "(b)" if rule.endswith("front") else "(c)"
        assert [(s.id, s.place) for s in said[rule].sources] == [
            ("49 cfr 393.75", place),
            ("49 cfr 570.62", "(a)"),
        ]


def test_at_the_line_the_gauge_leaves_it_open(shop: Shop) -> None:
    """A depth gauge is two millimetres off; at 4/32 in as read the answer is not decided."""
    docket = triage(but(FRONT, tyre={"tread depths": ["4/32 in"] * 4}), shop)
    assert (docket.verdict, docket.bracket, docket.outcome) == ("leave", ("leave", "reject"), "hold")
    assert [look.fact for look in docket.measure_next] == ["tread left"]


@pytest.mark.parametrize(
    ("found", "rule", "place"),
    [
        ({"worn to cord": "yes"}, "law/us/cord_by_wear", "(a)(1)"),
        ({"crack class": "C4"}, "law/us/cord_by_cracks", "(a)(1)"),
        ({"tread separation": "1 ± 0 mm"}, "law/us/tread_separation", "(a)(2)"),
        ({"sidewall separation": "1 ± 0 cm2"}, "law/us/sidewall_separation", "(a)(2)"),
    ],
)
def test_cord_that_shows_and_any_separation_end_road_service(
    found: dict[str, str], rule: str, place: str, shop: Shop
) -> None:
    """49 CFR 393.75(a)(1): body ply or belt material exposed; (a)(2): any tread or sidewall separation. Read."""
    docket = triage(but(US, found=found), shop)
    finding = by_law(docket)[rule]
    assert (finding.verdict, finding.sources[0].id, finding.sources[0].place) == ("reject", "49 cfr 393.75", place)
    assert docket.uses["road"] == "reject"


def test_a_flat_or_leaking_tyre_never_goes_back_as_it_is(shop: Shop) -> None:
    """49 CFR 393.75(a)(3): flat or with an audible leak. Read.

    No rule asks for a leak by name: a tyre on the bench is empty. What leaks is a through injury, and what was
    flat came off without pressure; neither is ever released as it is.
    """
    assert triage(but(US, injuries=[NAIL]), shop).verdict == "spot"
    assert triage(but(US, found={"pressure at removal": "0 bar"}), shop).outcome == "hold"


@pytest.mark.parametrize(
    ("reaches", "is_barred"), [("rubber", False), ("cord", True), ("plies", True), ("through", True)]
)
def test_a_cut_so_deep_that_cord_shows_must_be_repaired(reaches: str, is_barred: bool, shop: Shop) -> None:
    """49 CFR 393.75(a)(4): a cut to the extent that the ply or belt material is exposed. Read."""
    cut = but(CUT, reaches=reaches, length="5 mm", width="5 mm", cords_cut=None, depth=None, rubber_left="8 mm",
              distance_from_bead="160 mm")  # fmt: skip
    said = by_law(triage(but(US, injuries=[cut]), shop))
    assert ("law/us/cut_to_cord" in said) is is_barred
    if is_barred:
        assert (said["law/us/cut_to_cord"].verdict, said["law/us/cut_to_cord"].sources[0].place) == ("spot", "(a)(4)")


@pytest.mark.parametrize(
    ("duty", "position", "is_barred"),
    [("bus", "steered", True), ("bus", "not steered", False), ("truck", "steered", False)],
)
def test_only_the_front_wheels_of_a_bus_are_barred_to_retreads(
    duty: str, position: str, is_barred: bool, shop: Shop
) -> None:
    """49 CFR 393.75(d), and the federal guidance on it: bus fronts only, whatever is said of other trucks. Read."""
    tree = but(US, tyre={"retread date code": "2724"}, service={"duty": duty, "position": position})
    assert ("law/us/bus_front_retread" in by_law(triage(tree, shop))) is is_barred


@pytest.mark.parametrize(
    ("duty", "rule"), [("truck", "law/us/truck_front_regroove"), ("bus", "law/us/bus_front_regroove")]
)
def test_regrooved_tyres_are_barred_from_front_wheels(duty: str, rule: str, shop: Shop) -> None:
    """49 CFR 393.75(d), (e). Read; that (e) begins at 2 232 kg of load is not asked, and the stricter is taken."""
    found = {"regrooved": "yes", "rubber under groove": "5 mm"}
    assert rule in by_law(triage(but(FRONT, service={"duty": duty}, found=found), shop))
    assert rule not in by_law(triage(but(US, service={"duty": duty}, found=found), shop))


@pytest.mark.parametrize(("left", "is_barred"), [("3/32 in", False), ("2.38 mm", True)])
def test_rubber_left_under_a_new_groove(left: str, is_barred: bool, shop: Shop) -> None:
    """49 CFR 569.7(a)(2)(ii): at least 3/32 in (2.38125 mm) over the cord. Read in a stored copy."""
    said = by_law(triage(but(US, found={"regrooved": "yes", "rubber under groove": left}), shop))
    assert ("law/us/regroove_depth" in said) is is_barred


def test_a_load_above_the_rating_needs_a_permit(shop: Shop) -> None:
    """49 CFR 393.75(f) and the federal guidance on it. Read."""
    over, at = (triage(but(US, service={"load share": share}), shop) for share in ("101 %", "100 %"))
    assert "law/us/overload" in by_law(over)
    assert any("permit" in hold for hold in over.holds)
    assert "law/us/overload" not in by_law(at)


def test_the_law_is_silent_off_the_road_and_without_a_country(shop: Shop) -> None:
    worn = {"worn to cord": "yes"}
    off_road = triage(but(LOADER, service={"country": "us"}, found=worn), shop)
    assert all(finding.use == ("road",) for finding in by_law(off_road).values())
    assert (off_road.verdict, off_road.uses["road"]) == ("leave", "reject")
    assert by_law(triage(but(TRUCK, service={"country": "other"}, found=worn), shop)) == {}


@pytest.mark.parametrize(("readings", "is_held"), [(2, True), (3, False)])
def test_tread_is_read_at_three_places(readings: int, is_held: bool, shop: Shop) -> None:
    """49 CFR 570.62(a)(1): three places about 120 degrees apart. Read."""
    docket = triage(but(US, tyre={"tread depths": ["9 mm"] * readings}), shop)
    assert any("three places" in hold for hold in docket.holds) is is_held
