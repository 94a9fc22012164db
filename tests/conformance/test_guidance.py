"""Guidance and safety law that is not road law: inflation, run flat, bead and sidewall rejects, heat, haulage."""

import pytest

from mendbook.facts.haulage import tkph
from mendbook.terms.docket import Docket, Finding
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, TRUCK, Tree, but, triage

INCH_32 = 25.4 / 32


def spoken(docket: Docket) -> dict[str, Finding]:
    return {finding.rule: finding for finding in docket.findings if finding.readings["as read"]}


@pytest.mark.parametrize(("pressure", "stops"), [("80", True), ("80.1", False), ("40", True)])
def test_at_four_fifths_of_its_pressure_a_wheel_on_the_machine_is_emptied_first(
    pressure: str, stops: bool, shop: Shop
) -> None:
    """29 CFR 1910.177(f)(2)(i): driven at 80 per cent or less of its recommended pressure. From memory."""
    bar = float(pressure) / 100 * 8.0
    found = {"wheel": "on the machine", "valve core": "in", "pressure at removal": f"{bar:.4f} bar"}
    docket = triage(but(TRUCK, service={"pressure specified": "8.0 bar"}, found=found), shop)
    said = spoken(docket).get("people/low_pressure_on_machine")
    assert (said is not None) is stops
    if said:
        assert (said.sources[0].id, said.sources[0].place, said.sources[0].kind) == (
            "29 cfr 1910.177",
            "(f)(2)(i)",
            "law",
        )


@pytest.mark.parametrize(("pressure", "stops"), [("1.0 bar", False), ("1.01 bar", True), ("15 psi", True)])
def test_outside_a_restraint_only_the_beads_are_seated(pressure: str, stops: bool, shop: Shop) -> None:
    """UK HSE web guidance: restraint above 15 psi (1.03 bar). Read; the rule stops at the round figure below it."""
    docket = triage(but(LOADER, found={"pressure outside restraint": pressure}), shop)
    assert (docket.outcome == "stop") is stops


@pytest.mark.parametrize(("casing", "pressure", "held"), [
    ("steel", 80.0, True), ("steel", 81.0, False), ("nylon", 80.0, False), ("nylon", 79.0, True),
])  # fmt: skip
def test_a_steel_casing_at_four_fifths_counts_as_run_flat(casing: str, pressure: float, held: bool, shop: Shop) -> None:
    """US tyre trade bulletin on zipper ruptures, vol. 33 no. 3: 80 per cent or less. Read in reports of it."""
    found = {"pressure at removal": f"{pressure * 0.05:.3f} ± 0 bar"}
    docket = triage(but(LOADER, tyre={"casing": casing}, found=found), shop)
    assert any("look inside" in hold.lower() for hold in docket.holds) is held


def test_soft_spots_in_a_row_are_the_end(shop: Shop) -> None:
    """US Army TM 9-2610-200-14 para 2-23b(6), and the bulletin above. Read."""
    finding = spoken(triage(but(LOADER, found={"zipper signs": "seen"}), shop))["casing/zipper_signs"]
    assert finding.verdict == "reject"
    assert (finding.sources[0].id, finding.sources[0].place) == ("us army tm 9-2610-200-14", "para 2-23b(6)")


@pytest.mark.parametrize(
    ("depth", "verdict"), [(2 * INCH_32, "dress"), (2 * INCH_32 + 0.01, "reject"), (3 * INCH_32, "reject")]
)
def test_a_bead_torn_deeper_than_two_thirty_seconds_is_rejected_for_the_road(
    depth: float, verdict: str, shop: Shop
) -> None:
    """US Army TM 9-2610-200-14 para 2-23a(1): bead tears over 2/32 in (1.5875 mm). Read."""
    docket = triage(but(TRUCK, found={"chafer tear depth": f"{depth:.4f} ± 0 mm"}), shop)
    assert docket.verdict == verdict


@pytest.mark.parametrize("bead", [
    {"bead wire": "exposed"}, {"bead wire": "kinked"}, {"bead wire": "broken"}, {"bead rubber": "burned"},
    {"bead rubber": "swollen by oil"},
])  # fmt: skip
def test_a_bead_with_bare_kinked_or_burned_wire_is_rejected_in_any_use(bead: dict[str, str], shop: Shop) -> None:
    """US Army TM 9-2610-200-14 para 2-23a(1)-(4). Read."""
    docket = triage(but(LOADER, found=bead), shop)
    assert (docket.uses, docket.basis) == ({"off-road": "reject", "road": "reject"}, "guidance")


@pytest.mark.parametrize(("crack", "road", "off_road"), [
    ("C1", "leave", "leave"), ("C2", "dress", "dress"), ("C3", "reject", "dress"),
])  # fmt: skip
def test_cracks_from_two_thirty_seconds_on_end_road_service(crack: str, road: str, off_road: str, shop: Shop) -> None:
    """US Army TM 9-2610-200-14 para 2-23b(5): 2/32 in deep, or joined in a line (C3). Read."""
    docket = triage(but(LOADER, found={"crack class": crack}), shop)
    assert docket.uses == {"off-road": off_road, "road": road}
    assert bool(docket.holds) is (crack == "C3")


def test_a_tyre_that_stood_flat_until_it_creased_is_rejected(shop: Shop) -> None:
    """US Army TM 9-2610-200-14 para 2-48f. Read."""
    docket = triage(but(LOADER, found={"sat flat": "creased"}), shop)
    assert (docket.verdict, docket.basis) == ("reject", "guidance")


def test_a_day_passes_before_a_heated_tyre_is_approached(shop: Shop) -> None:
    """NSW Resources Regulator on tyre fires: danger of explosion for up to 24 hours. Read."""
    early, late = (
        triage(but(LOADER, found={"heat event": "confirmed", "hours since heat": hours}), shop)
        for hours in ("23 ± 0 h", "24 ± 0 h")
    )
    assert "people/recent_heat" in spoken(early)
    assert spoken(early)["people/recent_heat"].sources[0].kind == "guidance"
    assert late.outcome == "hold"


def test_sealant_ends_the_repair_of_a_road_tyre(shop: Shop) -> None:
    """German guideline of 8 February 2001, 3.5. Read as quoted by third parties."""
    docket = triage(but(LOADER, found={"filled with": "sealant"}), shop)
    assert docket.uses == {"off-road": "leave", "road": "reject"}


def test_a_nail_hole_of_six_millimetres_may_be_filled(shop: Shop) -> None:
    """German StVZO paragraph 36 annex before 2001 (repealed): crown punctures up to 6 mm. Read."""
    nail = but(CUT, kind="puncture", distance_from_bead=None, distance_from_centreline="20 mm", cords_cut=None,
               depth=None, belts_damaged="2")  # fmt: skip
    for hole, verdict in (("6 ± 0 mm", "spot"), ("6.1 ± 0 mm", "reinforce"), ("10 ± 0 mm", "reinforce"),
                          ("10.1 ± 0 mm", "section")):  # fmt: skip
        tree = but(TRUCK, injuries=[but(nail, length=hole, width="4 ± 0 mm")])
        assert triage(tree, shop).verdict == verdict


# The trade-wide formula as several public pages print it (read): mean of empty and full load per tyre [t], times
# round trip [km] x trips / hours of the shift.
@pytest.mark.parametrize(
    ("empty", "full", "trip", "trips", "hours", "expected"),
    [
        (10.0, 26.0, 12.0, 40.0, 20.0, 432.0),  # worked out by hand
        (14.48, 25.32, 6.45, 52.0, 24.0, 278.10),  # the example of a public trade page, read; it prints 278
    ],
)
def test_tonne_kilometres_per_hour(
    empty: float, full: float, trip: float, trips: float, hours: float, expected: float
) -> None:
    assert tkph(empty, full, trip, trips, hours) == pytest.approx(expected, abs=0.005)


@pytest.mark.parametrize(("rating", "is_held"), [("400", True), ("600", False)])
def test_a_haul_above_the_heat_rating_is_held(rating: str, is_held: bool, shop: Shop) -> None:
    """432 t km/h are 108 per cent of a rating of 400 and 72 of 600; a figure of this kind is 15 per cent off."""
    haul: Tree = {
        "duty": "haul long", "tkph rating": rating, "load empty": "10 t", "load loaded": "26 t",
        "cycle length": "12 km", "cycles": "40", "shift": "20 h",
    }  # fmt: skip
    docket = triage(but(LOADER, service=haul), shop)
    assert any("within the rating" in hold for hold in docket.holds) is is_held
