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
    """49 CFR 393.75(a)(3): flat or with an audible leak. Read. It is barred until it holds air, and not for good."""
    for leak, outcome in (("traced to an injury", "repair"), ("not traced", "hold")):
        docket = triage(but(US, found={"leak": leak}), shop)
        finding = by_law(docket)["law/us/leak"]
        assert (finding.verdict, finding.sources[0].place) == ("spot", "(a)(3)")
        assert (docket.outcome, docket.verdict) == (outcome, "spot")
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
    ("duty", "mark", "rule"),
    [
        ("truck", "149/146L", "law/us/truck_front_regroove"),  # 3 250 kg
        ("truck", "136L", "law/us/truck_front_regroove"),  # 2 240 kg
        ("truck", "135L", None),  # 2 180 kg
        ("truck", None, "law/us/truck_front_regroove"),  # unknown counts as worst
        ("bus", "135L", "law/us/bus_front_regroove"),
    ],
)
def test_regrooved_tyres_are_barred_from_front_wheels(
    duty: str, mark: str | None, rule: str | None, shop: Shop
) -> None:
    """49 CFR 393.75(d), (e): on trucks from 2 232 kg of load capacity on. Read; the load of an index is from R54."""
    found = {"regrooved": "yes", "rubber under groove": "5 mm"}
    tree = but(FRONT, tyre={"load index": mark}, service={"duty": duty}, found=found)
    said = set(by_law(triage(tree, shop)))
    assert said == ({rule} if rule else set())
    assert not by_law(triage(but(US, service={"duty": duty}, found=found), shop))


def test_how_a_groove_is_cut_is_not_asked(shop: Shop) -> None:
    """49 CFR 569.7(a)(2)(iii)-(iv): groove 3/16 to 5/16 in wide, 90 in of edge to the foot of girth. Read.

    We ask neither: both are about the tool and the pattern. What they leave over the cord is asked, (a)(2)(ii).
    """
    silent = {c.place: c for c in shop.book.sources["49 cfr 569.7"].clauses if c.not_expressed}
    assert set(silent) == {"(a)(2)(iii)", "(a)(2)(iv)"}
    assert "3/16 to 5/16 in" in silent["(a)(2)(iii)"].says
    assert pytest.approx((4.7625, 7.9375, 7.5)) == (3 / 16 * 25.4, 5 / 16 * 25.4, 90 / 12)
    assert "90 in" in silent["(a)(2)(iv)"].says


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


@pytest.mark.parametrize(("sign", "is_barred"), [("none", False), ("ripple", True), ("growing bulge", True)])
def test_a_bump_or_bulge_by_separation_ends_road_service(sign: str, is_barred: bool, shop: Shop) -> None:
    """49 CFR 570.62(c) and 570.9(c). From memory. Before the law speaks the tyre is a stop, for the sake of people."""
    [rule] = [rule for rule in shop.book.rules if rule.id == "law/us/bulge"]
    assert (rule.speaks({"law": "us", "use": "road", "signs on inflation": sign}) is not None) is is_barred
    assert (triage(but(US, found={"signs on inflation": sign}), shop).outcome == "stop") is is_barred


@pytest.mark.parametrize(
    ("hole", "position", "verdict"),
    [
        ("6 ± 0 mm", "steered", "spot"),
        ("8 ± 0 mm", "steered", "reject"),
        ("8 ± 0 mm", "not steered", "reinforce"),
        ("12 ± 0 mm", "steered", "reject"),
    ],
)
def test_a_reinforced_repair_is_not_for_the_front(hole: str, position: str, verdict: str, shop: Shop) -> None:
    """49 CFR 570.62(d): repairs of the cord body only on tyres that are not at the front. From memory."""
    nail = but(NAIL, length=hole, width="4 ± 0 mm")
    docket = triage(but(US, service={"position": position}, injuries=[nail]), shop)
    said = [f for f in docket.findings if f.rule == "service/front_repair_us" and f.readings["as read"]]
    assert docket.uses["road"] == verdict
    assert bool(said) is (verdict == "reject")
    assert all((f.sources[0].place, f.sources[0].known) == ("(d)", "from memory") for f in said)


@pytest.mark.parametrize(("run_out", "is_held"), [("1/8 in", False), ("3.175 mm", False), ("3.2 mm", True)])
def test_a_rim_runs_true_to_an_eighth_of_an_inch(run_out: str, is_held: bool, shop: Shop) -> None:
    """49 CFR 570.63: 1/8 in at the bead seat. Read in the twin clause for light vehicles, 570.10."""
    value = "3.175" if run_out == "1/8 in" else run_out.split()[0]
    assert float(value) == pytest.approx(25.4 / 8) or is_held
    docket = triage(but(US, found={"rim run-out": f"{value} ± 0 mm"}), shop)
    assert ("law/us/rim_run_out" in by_law(docket)) is is_held
    assert (docket.outcome == "hold") is is_held


def test_light_vehicles_are_left_to_their_own_clause(shop: Shop) -> None:
    """49 CFR 570.9(a), (c): up to 10 000 lb. From memory. Outside this rulebook, whose 2/32 in are 393.75(c)."""
    clauses = shop.book.sources["49 cfr 570.9"].clauses
    assert [clause.place for clause in clauses] == ["(a)", "(c)"]
    assert all(clause.not_expressed and not clause.is_read for clause in clauses)


def test_a_date_code_of_three_digits_leaves_the_decade_open(shop: Shop) -> None:
    """0301 is week 3 of 2001, 031 of 1981 or 1991. Read in an owner's manual that quotes the scheme."""
    old = triage(but(US, tyre={"date code": "031"}), shop)
    assert old.tyre.age == "35.8 to 45.9 years"
    assert triage(but(US, tyre={"date code": "0301"}), shop).tyre.age == "25.8 years"
