"""Four invented cases, each judged as an experienced foreman would."""

from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, triage

PORT: Tree = but(
    LOADER,
    tyre={
        "designation": "18.00-25", "casing": "nylon", "ply rating": "40 PR", "plies": "22", "date code": "4220",
        "tread code": "IND-4", "tread new": "63 mm", "tread depths": ["30 mm", "31 mm", "30 mm", "32 mm"],
    },
    service={"duty": "port handler", "speed": "25 km/h", "pressure specified": "10.0 bar"},
    found={"pressure at removal": "9.3 bar"},
)  # fmt: skip
SHOULDER_CUT: Tree = but(
    CUT,
    clock="77 deg",
    distance_from_bead="480 mm",
    reaches="plies",
    length="112 mm",
    width="78 mm",
    depth="38 mm",
    cords_cut=None,
    plies_damaged="7",
)
HAUL: Tree = but(
    LOADER,
    tyre={
        "designation": "24.00R35", "belts": "5", "date code": "4723", "tread code": "E-4", "tread new": "60 mm",
        "tread depths": ["33 mm", "34 mm", "33 mm", "35 mm"],
    },
    service={
        "duty": "haul long", "fitment": "dual", "speed": "42 km/h", "tkph use": "92 %", "pressure specified": "7.0 bar",
    },
    found={"pressure at removal": "6.7 bar"},
)  # fmt: skip
ROCK_CUT: Tree = but(
    CUT,
    distance_from_bead=None,
    distance_from_centreline="190 mm",
    reaches="plies",
    length="60 mm",
    width="45 mm",
    depth="55 mm",
    cords_cut=None,
    belts_damaged="3",
    belt_edge_distance="38 mm",
    separation_halo="40 mm",
)


def test_a_clean_stone_cut_on_a_slow_loader_is_a_section_repair(shop: Shop) -> None:
    """Deep tread, fresh tyre, clean edges, slow machine: do it."""
    docket = triage(but(LOADER, injuries=[CUT]), shop)
    assert (docket.outcome, docket.verdict, docket.decided) == ("repair", "section", True)
    (injury,) = docket.injuries
    assert (injury.zone, injury.box) == ("upper sidewall", "60 x 150 mm")
    assert injury.shares["share of length limit"] == "80 %"
    assert injury.shares["share of width limit"] == "78.7 %"
    assert injury.shares["share of area limit"] == "83.9 %"
    assert injury.shares["share of cord limit"] == "72.2 %"
    assert (docket.holds, docket.measure_next) == ((), ())
    assert docket.basis == "house"


def test_the_same_cut_before_the_skive_is_held_until_it_is_measured(shop: Shop) -> None:
    """The outside lies: 57 mm may be 62, and 60 is the limit."""
    unskived = but(CUT, length="57 mm", width="95 mm", cords_cut="15", depth=None, skived="no")
    docket = triage(but(LOADER, injuries=[unskived]), shop)
    assert (docket.outcome, docket.bracket, docket.decided) == ("hold", ("section", "reject"), False)
    assert "length" in [look.fact for look in docket.measure_next]
    skived = but(unskived, skived="yes", depth="46 mm")
    assert triage(but(LOADER, injuries=[skived]), shop).bracket == ("section", "section")


def test_a_bias_shoulder_on_a_reach_handler_is_reinforced_near_its_limit(shop: Shop) -> None:
    """Seven of 22 plies, 112 mm where 115 may be: repair it, and not for the axle under the load."""
    docket = triage(but(PORT, injuries=[SHOULDER_CUT]), shop)
    assert (docket.outcome, docket.verdict, docket.decided) == ("repair", "reinforce", True)
    (injury,) = docket.injuries
    assert (injury.zone, injury.box, injury.shares["ply share"]) == ("shoulder", "115 x 125 mm", "32 %")
    spoke = {finding.rule for finding in docket.findings}
    assert {"any_zone/near_class_edge", "release/position_port_handler"} <= spoke


def test_one_more_reading_over_the_limit_would_have_rejected_the_reach_handler(shop: Shop) -> None:
    docket = triage(but(PORT, injuries=[but(SHOULDER_CUT, length="114 mm")]), shop)
    assert docket.bracket == ("reinforce", "reject")
    assert triage(but(PORT, injuries=[but(SHOULDER_CUT, length="118 mm")]), shop).verdict == "reject"


def test_a_shoulder_cut_that_runs_into_the_crown_edge_keeps_the_stricter_box(shop: Shop) -> None:
    docket = triage(but(PORT, injuries=[but(SHOULDER_CUT, distance_from_bead="540 mm")]), shop)
    assert (docket.verdict, docket.injuries[0].zone) == ("reinforce", "shoulder (also touches crown edge)")


def test_a_rock_cut_that_ran_on_for_two_weeks_on_a_long_haul_is_rejected(shop: Shop) -> None:
    docket = triage(but(HAUL, injuries=[ROCK_CUT]), shop)
    assert (docket.outcome, docket.verdict, docket.decided, docket.basis) == ("reject", "reject", True, "house")
    assert docket.plan is None


def test_pulled_after_the_cut_it_would_have_been_repairable(shop: Shop) -> None:
    """The nearest change names the separation, and without it on the short haul it is a section repair."""
    docket = triage(but(HAUL, injuries=[ROCK_CUT]), shop)
    halo = next(change for change in docket.would_change if change.fact == "separation halo")
    assert halo.verdict == "section"
    early = but(HAUL, service={"duty": "haul short", "tkph use": "75 %"})
    docket = triage(but(early, injuries=[but(ROCK_CUT, separation_halo=None)]), shop)
    assert (docket.outcome, docket.verdict, docket.injuries[0].box) == ("repair", "section", "85 x 85 mm")


def test_what_looks_like_a_nail_is_a_run_flat(shop: Shop) -> None:
    """A perfect nail hole in a tyre that ran at 47 per cent: nobody repairs it and nobody puts air in."""
    found = {"pressure at removal": "3.9 bar", "run flat": "confirmed", "zipper signs": "seen"}
    docket = triage(but(TRUCK, service={"country": "uk"}, found=found, injuries=[NAIL]), shop)
    assert (docket.outcome, docket.verdict, docket.basis) == ("reject", "reject", "guidance")
    assert docket.injuries[0].verdict == "spot"
    assert docket.nothing_to_change
    assert "casing/zipper_signs" in {finding.rule for finding in docket.findings if "caution" in finding.says}


def test_air_before_the_inside_look_at_a_low_tyre_is_a_stop(shop: Shop) -> None:
    found = {"pressure at removal": "3.9 bar", "inflate before look": "yes"}
    docket = triage(but(TRUCK, found=found, injuries=[NAIL]), shop)
    assert docket.outcome == "stop"
    assert any("Put no air in" in stop for stop in docket.stops)


def test_low_pressure_without_a_sign_is_held_for_the_x_ray(shop: Shop) -> None:
    docket = triage(but(TRUCK, found={"pressure at removal": "3.9 bar"}, injuries=[NAIL]), shop)
    assert (docket.outcome, docket.verdict) == ("hold", "spot")
    assert any("X-rayed" in hold for hold in docket.holds)


def test_a_pressure_nobody_wrote_down_is_held_as_if_it_had_been_low(shop: Shop) -> None:
    docket = triage(but(TRUCK, found={"pressure at removal": "unknown"}, injuries=[NAIL]), shop)
    assert docket.outcome == "hold"
    assert any("X-rayed" in hold for hold in docket.holds)
    assert [look.fact for look in docket.measure_next] == ["pressure at removal", "casing X-ray"]


def test_with_its_pressure_the_nail_is_a_short_job(shop: Shop) -> None:
    docket = triage(but(TRUCK, injuries=[NAIL]), shop)
    assert (docket.outcome, docket.verdict) == ("repair", "spot")
