"""The front door: whole plans, and nothing that cannot be served left out in silence."""

from dataclasses import replace
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.folders import folder
from mendbook.plan import Stock, open_stock, plan_repairs
from mendbook.plan.cavity import cavity_of
from mendbook.plan.flexible import fit_flexible
from mendbook.plan.request import Said, Wanted
from mendbook.plan.size import Size
from mendbook.plan.task import task_of
from mendbook.terms.plan import Plan, Repair
from mendbook.terms.quantity import Quantity
from mendbook.terms.units import Dimension
from tests.plan.requests import LOADER, METHODS, RELEASE, TRUCK, but, without

STOCK = open_stock(folder("knowledge"))


def plan(*wanted: Wanted, **workshop: object) -> Plan:
    written = {name.replace("_", " "): value for name, value in workshop.items()}
    return plan_repairs(wanted, RELEASE, written, METHODS, STOCK)


def repair(wanted: Wanted, **workshop: object) -> Repair:
    return plan(wanted, **workshop).repairs[0]


def kit(made: Repair) -> dict[str, str]:
    return {item.role: item.item for item in made.kit}


def test_the_worked_loader_cut() -> None:
    made = repair(LOADER)
    assert made.method is not None
    assert (made.method.heat, made.method.stages, made.method.kit) == ("hot", "one stage", "flexible pads")
    assert made.thickness_mm == 62
    assert made.reinforcement == "295 x 365 mm"
    assert not made.not_served
    assert list(kit(made)) == ["outside pad", "outside bag", "inside pad", "inside bag", "straps", "spreaders"]
    assert made.cure is not None
    assert all(layer.ok for layer in made.cure.layers)
    assert all(item.because for item in made.kit)


def test_the_steps_keep_their_order_and_their_hold_points() -> None:
    steps = repair(LOADER).steps
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    told = [step.do.casefold() for step in steps]
    order = [
        "skive",
        "moisture",
        "buff",
        "coats of cement",
        "fill",
        "pads before",
        "bags",
        "checks",
        "pressure first",
        "switch on",
        "heat off",
        "strip",
    ]
    places = [next(place for place, text in enumerate(told) if word in text) for word in order]
    assert places == sorted(places)
    assert sum(bool(step.hold_point) for step in steps) >= 8
    assert all(step.basis for step in steps)
    assert not any("<" in part for step in steps for part in (step.do, step.figures, step.caution, step.hold_point))


def test_the_clock_starts_twenty_degrees_below_the_setpoint() -> None:
    made = repair(LOADER)
    assert made.cure_order is not None
    assert made.cure is not None
    (step,) = [step for step in made.steps if "clock starts" in step.figures]
    setpoint = made.cure_order.outside.setpoint_C
    assert f"clock starts at {setpoint - 20:g} °C" in step.figures
    minutes = int(step.figures.split("heat on for ")[1].split(" min")[0])
    assert 0 <= minutes - made.cure.minutes_from_timer < 1


def test_leave_and_dress_need_no_process() -> None:
    left, dressed = plan(replace(TRUCK, verdict="leave"), replace(TRUCK, verdict="dress")).repairs
    assert left.method is None
    assert not left.steps
    assert dressed.steps
    assert dressed.cure_order is None
    assert not dressed.kit


def test_a_closed_group_leaves_no_method_and_says_what_would_serve() -> None:
    made = repair(without(LOADER, "heat from both faces", "heat from one face"))
    assert made.method is None
    assert made.cure is None
    assert "What would serve" in made.not_served[0]


def test_heat_from_one_face_has_one_pad() -> None:
    made = repair(without(TRUCK, "heat from both faces"))
    assert "inside pad" not in kit(made)
    assert made.cure_order is not None
    assert not made.cure_order.inside.present


def test_an_injury_too_large_for_the_catalogue_names_the_size_that_would_serve() -> None:
    made = repair(but(LOADER, deciding_length=2500.0, length=2500.0))
    assert any("outside pad: none in the catalogue serves; one heated" in lack for lack in made.not_served)
    assert made.method is not None


def test_a_tyre_outside_the_widths_of_the_catalogue_is_not_served() -> None:
    made = repair(but(LOADER, section_width=1100.0))
    assert made.not_served


def test_only_the_kit_on_hand_is_used() -> None:
    whole = kit(repair(LOADER))
    made = repair(LOADER, kit_on_hand=tuple(whole.values()))
    assert kit(made) == whole
    assert not made.not_served
    pads = (whole["outside pad"], whole["inside pad"])
    short = repair(LOADER, kit_on_hand=(*pads, whole["straps"], "magic blanket"))
    assert any(f"'{whole['inside bag']}' of the catalogue would" in lack for lack in short.not_served)
    assert any("'magic blanket' is on hand but not in the catalogue" in lack for lack in short.not_served)


def test_a_spot_repair_goes_cold_where_no_kit_serves_and_no_rule_forbids() -> None:
    made = repair(TRUCK, kit_on_hand=())
    assert made.method is not None
    assert made.method.heat == "cold"
    assert made.cure_order is None
    assert "chemical-cure fluid" in {amount.material for amount in made.materials}
    assert any(refused.method == "hot" for refused in made.why_not)
    hot = repair(without(TRUCK, "cold"), kit_on_hand=())
    assert hot.method is not None
    assert hot.method.heat == "hot"
    assert hot.not_served


def test_a_kind_of_kit_that_does_not_serve_is_passed_over_with_its_reason() -> None:
    arm = next(press.id for press in STOCK.kit.arm_presses if press.id == "arm press 450")
    made = repair(but(TRUCK, section_width=330.0), kit_on_hand=(arm,))
    assert made.method is not None
    assert made.method.kit == "arm press"
    assert any(refused.method == "flexible pads" for refused in made.why_not)
    assert any("Close the press" in step.do for step in made.steps)


def test_two_stages_have_two_cures() -> None:
    made = repair(without(but(LOADER, cavity_depth=90.0), "one stage"))
    assert made.second_cure is not None
    assert made.cure is not None
    assert any("Second stage" in step.do for step in made.steps)
    assert made.second_cure_order is not None
    assert made.second_cure_order.layers[0].cured_before
    (second,) = [step for step in made.steps if "Second stage" in step.do]
    setpoint = made.second_cure_order.outside.setpoint_C
    assert f"setpoint {setpoint:g} °C; clock starts at {setpoint - 20:g} °C" in second.figures
    assert f"heat on for {ceil(made.second_cure.minutes_from_timer)} min" in second.figures
    assert "slowest point is below 100 °C" in second.figures


def test_a_second_stage_that_never_cures_is_not_begun() -> None:
    thin = but(TRUCK, reaches="plies", cavity_depth=10.0, sidewall_high=16.0, reinforcement_thickness=6.0)
    thin = replace(thin, verdict="reinforce", zone="upper sidewall")
    made = repair(without(thin, "one stage", "heat from both faces"))
    assert made.cure is not None
    assert made.second_cure is None
    assert any("cure 2 of 2" in lack for lack in made.not_served)
    told = [step.do for step in made.steps]
    barred = next(place for place, do in enumerate(told) if do.startswith("Do not begin the cure yet"))
    assert barred < next(place for place, do in enumerate(told) if do.startswith("Switch on"))
    assert not any("Second stage" in do for do in told)


def test_the_pads_reach_as_far_as_the_minutes_of_the_cure_ask() -> None:
    """One figure in both places: overlap needed for the whole wall, also where casing is left under the cavity."""
    part = but(LOADER, reaches="plies", cavity_depth=20.0)
    for made in (repair(LOADER), repair(part)):
        assert made.cure is not None
        assert made.cure.reach is not None
        assert all(pad.ok for pad in made.cure.reach.pads)
        assert made.cure.reach.factor < 1.02
        (pads,) = (step.figures for step in made.steps if "heat reaches" in step.figures)
        assert f"the heat reaches {made.cure.reach.needed_mm:.0f} mm past the opening" in pads


def test_a_small_area_is_not_told_as_none() -> None:
    small = but(TRUCK, deciding_length=5.0, deciding_width=5.0, length=5.0, width=5.0, cavity_depth=4.0)
    told = " ".join(step.figures for step in repair(small).steps)
    assert "under 0.01 m2 outside" in told
    assert "0.00 m2" not in told


def test_a_circuit_too_weak_is_said_with_the_one_that_serves() -> None:
    wide = but(LOADER, deciding_length=200.0, deciding_width=300.0)
    weak, strong = (plan(wide, circuit=name) for name in ("120 V 20 A", "400 V 32 A three-phase"))
    assert any("circuit: 120 V 20 A" in lack and "would serve" in lack for lack in weak.repairs[0].not_served)
    assert "more than 120 V 20 A carries" in weak.power
    assert not any("circuit" in lack for lack in strong.repairs[0].not_served)


@pytest.mark.parametrize(("what", "name"), [("circuit", "a long lead"), ("compound", "chewing gum")])
def test_a_name_nobody_knows_is_said_and_what_was_taken(what: str, name: str) -> None:
    made = repair(LOADER, **{what: name})
    assert any(f"'{name}'" in lack and "Known:" in lack for lack in made.not_served)


def test_a_pressure_that_strains_is_not_taken() -> None:
    made = repair(LOADER, working_pressure=Quantity.of(4.0, Dimension.PRESSURE))
    assert made.cure_order is not None
    assert made.cure_order.clamp_bar == 2.5
    assert any("4 bar was asked for" in lack for lack in made.not_served)


def test_a_compound_that_bears_more_may_be_hotter() -> None:
    plain, tough = repair(LOADER), repair(LOADER, compound="fill rubber, low reversion")
    assert plain.cure_order is not None
    assert tough.cure_order is not None
    assert tough.cure_order.outside.setpoint_C >= plain.cure_order.outside.setpoint_C


def test_what_rules_say_of_a_way_not_chosen_is_left_out() -> None:
    lay = Said("Lay a precured reinforcement in dry.", "It may curl.", "common practice, no source")
    made = repair(replace(LOADER, do=(lay,)))
    assert not any("precured" in step.do for step in made.steps)
    precured = repair(replace(without(LOADER, "uncured reinforcement"), do=(lay,)))
    assert any("Lay a precured" in step.do for step in precured.steps)


def test_two_injuries_are_planned_in_order() -> None:
    made = plan(LOADER, replace(LOADER, injury="B"))
    assert [one.injury for one in made.repairs] == ["A", "B"]
    assert "all at once" in made.power
    assert made.ladder


def test_no_repairs_no_ladder() -> None:
    assert plan() == Plan()


def test_the_same_question_gets_the_same_answer() -> None:
    assert plan(LOADER).model_dump_json() == plan(LOADER).model_dump_json()


@given(st.floats(1.0, 2.4), st.floats(1.0, 2.4), st.floats(20, 300))
def test_more_pressure_never_asks_for_fewer_straps(one: float, other: float, side: float) -> None:
    cavity = cavity_of(LOADER)
    task = task_of(LOADER, cavity, Size(side, side), 62.0, 75.0, both_faces=True, pressure=2.0)
    sets = [fit_flexible(STOCK.kit, STOCK.kit, replace(task, pressure=bar)) for bar in sorted((one, other))]
    less, more = ([item.count for item in outfit.items if item.role == "straps"] for outfit in sets)
    assert 3 <= less[0] <= more[0]


def test_a_pressure_over_the_rating_of_every_bag_is_not_served() -> None:
    """Bags are rated 3.0 bar, 1.25 times 2.4 bar."""
    made = repair(LOADER, working_pressure=Quantity.of(2.5, Dimension.PRESSURE))
    assert any("bag: none in the catalogue serves" in lack and "rated 3.13 bar" in lack for lack in made.not_served)


@pytest.mark.parametrize("verdict", ["spot", "reinforce", "section"])
def test_every_class_of_repair_has_a_plan(verdict: str, stock: Stock) -> None:
    made = plan_repairs([replace(LOADER, verdict=verdict)], RELEASE, {}, METHODS, stock).repairs[0]
    assert made.steps
    assert made.cure is not None
    assert bool(made.reinforcement) == (verdict != "spot")


def test_what_is_laid_over_an_injury_is_told_as_rectangles() -> None:
    made = repair(LOADER)
    laid = {patch.what: patch for patch in made.patches}
    assert list(laid) == [
        "opening", "cord level", "reinforcement", "outside pad", "outside bag", "inside pad", "inside bag",
    ]  # fmt: skip
    assert made.depth_mm == 46
    assert made.reinforcement == f"{laid['reinforcement'].around_mm:.0f} x {laid['reinforcement'].across_mm:.0f} mm"
    sizes = {item.role: item.size for item in made.kit}
    for role in ("outside pad", "outside bag", "inside pad", "inside bag"):
        assert sizes[role].startswith(f"{laid[role].around_mm:.0f} x {laid[role].across_mm:.0f} mm")
    assert laid["outside pad"].shift_mm == laid["outside bag"].shift_mm
    steps = " ".join(step.figures for step in made.steps)
    assert f"{laid['outside pad'].shift_mm:.0f} mm towards the crown" in steps
