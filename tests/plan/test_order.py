"""Cure orders: layers, setpoint and caps."""

import pytest

from mendbook.cure import compute
from mendbook.plan import Stock
from mendbook.plan.bench import Bench, least_caps, read_bench
from mendbook.plan.cavity import cavity_of
from mendbook.plan.draft import Draft
from mendbook.plan.method import choose
from mendbook.plan.order import Cured, order_cure
from mendbook.plan.request import Wanted
from mendbook.plan.size import Size
from mendbook.plan.wall import Wall, wall_of
from mendbook.terms.quantity import Quantity
from mendbook.terms.units import Dimension
from tests.plan.requests import LOADER, METHODS, TRUCK, but, without


def wall(wanted: Wanted, stock: Stock) -> Wall:
    return wall_of(wanted, cavity_of(wanted), choose(wanted, METHODS), stock, stock.fill)


def cure(
    wanted: Wanted, stock: Stock, bench: Bench | None = None, *, casing: str = "steel", moisture: str = "dry"
) -> Cured:
    layers = wall(wanted, stock).cures[0]
    made = bench or read_bench({}, stock)
    return order_cure(Draft("A", layers, made, casing, moisture, both_faces=True), "Hot: it must be.")


def degrees(value: float) -> Quantity:
    return Quantity.of(value, Dimension.TEMPERATURE)


def test_the_layers_of_an_injury_right_through(stock: Stock) -> None:
    (layers,) = wall(LOADER, stock).cures
    assert [(layer.name, layer.thickness_mm) for layer in layers] == [("fill", 44), ("gum", 2), ("reinforcement", 16)]
    assert not any(layer.cured_before for layer in layers)
    assert wall(LOADER, stock).thickness == 62


def test_casing_left_under_the_cavity_is_part_of_the_wall(stock: Stock) -> None:
    part = but(LOADER, reaches="plies", cavity_depth=20.0)
    (layers,) = wall(part, stock).cures
    assert [layer.name for layer in layers] == ["fill", "gum", "casing", "gum", "reinforcement"]
    assert layers[2].thickness_mm == 32
    assert layers[2].cured_before


def test_the_wall_is_as_thick_as_the_rules_of_method_take_it(stock: Stock) -> None:
    """Thickness 70 mm with 16 mm of reinforcement: 54 mm of wall, 34 mm of it casing, and not a millimetre twice."""
    part = but(LOADER, reaches="plies", cavity_depth=20.0, thickness=70.0)
    made = wall(part, stock)
    assert made.cures[0][2].thickness_mm == 34
    assert made.thickness == 70 + 2  # gum under the reinforcement
    spot = but(TRUCK, thickness=10.0)  # without a reinforcement it is the cavity alone
    assert wall(spot, stock).thickness == TRUCK.facts["crown high"]


def test_two_stages_cure_the_fill_first(stock: Stock) -> None:
    first, second = wall(without(LOADER, "one stage"), stock).cures
    assert [layer.name for layer in first] == ["fill", "gum"]
    assert [(layer.name, layer.cured_before) for layer in second] == [
        ("cured fill", True), ("gum", False), ("reinforcement", False),
    ]  # fmt: skip


def test_two_lifts_where_there_is_no_reinforcement(stock: Stock) -> None:
    deep = without(but(TRUCK, cavity_depth=90.0, crown_high=160.0), "one stage")
    first, second = wall(deep, stock).cures
    assert [layer.name for layer in first] == ["fill", "gum", "casing"]
    assert [(layer.name, layer.cured_before) for layer in second][:2] == [("fill", False), ("cured fill", True)]


def test_a_precured_reinforcement_is_cured_already(stock: Stock) -> None:
    (layers,) = wall(without(LOADER, "uncured reinforcement"), stock).cures
    assert layers[-1].cured_before


def test_the_setpoint_comes_down_until_no_face_overcures(stock: Stock) -> None:
    made = cure(LOADER, stock)
    assert made.order is not None
    assert made.sheet is not None
    assert all(layer.ok for layer in made.sheet.layers)
    assert made.order.outside.setpoint_C < 140
    assert made.order.outside.setpoint_C % 5 == 0
    higher = made.order.outside.model_copy(update={"setpoint_C": made.order.outside.setpoint_C + 5})
    hotter = compute(made.order.model_copy(update={"outside": higher, "inside": higher}))
    assert not all(layer.ok for layer in hotter.layers)
    assert any("Lowered to" in reason and "x t90" in reason for reason in made.order.rationale)


def test_a_thin_repair_keeps_its_setpoint(stock: Stock) -> None:
    made = cure(TRUCK, stock)
    assert made.order is not None
    assert made.order.outside.setpoint_C == 140


@pytest.mark.parametrize("casing", ["polyester", "", "unknown"])
def test_polyester_and_unknown_cord_are_capped(casing: str, stock: Stock) -> None:
    hot = read_bench({"setpoint": degrees(150.0)}, stock)
    made = cure(TRUCK, stock, hot, casing=casing)
    assert made.order is not None
    assert made.order.outside.setpoint_C <= 140
    assert any("the most for this casing" in reason for reason in made.order.rationale)


def test_a_cap_of_the_rules_wins(stock: Stock) -> None:
    bench = read_bench({}, stock, least_caps([("setpoint", "130 °C"), ("bag pressure", "1.9 bar")]))
    made = cure(TRUCK, stock, bench)
    assert made.order is not None
    assert made.order.outside.setpoint_C <= 130
    assert made.order.clamp_bar == 1.9


def test_damp_cords_ask_for_a_cooler_pad(stock: Stock) -> None:
    """At 2 bar and a water activity of 1 water boils at 133.7 °C (IAPWS-IF97): the next step down is 130 °C."""
    made = cure(TRUCK, stock, moisture="damp")
    assert made.order is not None
    assert made.sheet is not None
    assert made.order.outside.setpoint_C == 130
    assert made.sheet.porosity.ok
    assert any("from boiling" in reason for reason in made.order.rationale)


def test_up_high_the_clamp_is_let_go_cooler(stock: Stock) -> None:
    high = read_bench({"altitude": Quantity.of(3_000_000.0, Dimension.LENGTH)}, stock)
    made = cure(TRUCK, stock, high)
    assert made.order is not None
    assert made.order.release_C == 90  # water boils at 90.0 °C at 3000 m (ISO 2533 and IAPWS-IF97)


def test_a_wall_too_thick_to_order_says_so(stock: Stock) -> None:
    made = cure(but(LOADER, cavity_depth=299.0, reinforcement_thickness=120.0), stock)
    assert made.order is None
    assert made.why_not


def test_the_order_says_why(stock: Stock) -> None:
    made = cure(LOADER, stock)
    assert made.order is not None
    why = " ".join(made.order.rationale)
    assert "Hot: it must be." in why
    assert "62 mm through the injury" in why
    assert "common practice, no source" in why
    assert "house default" in why


def test_damage_of_the_liner_is_filled_from_inside(stock: Stock) -> None:
    (layers,) = wall(but(TRUCK, kind="liner only", reaches="cord", cavity_depth=4.0), stock).cures
    assert [layer.name for layer in layers] == ["casing", "gum", "fill"]


def heated(stock: Stock, side: float) -> Cured:
    """Return the cure of an injury of 100 mm square under square pads."""
    pads = dict.fromkeys(("outside", "inside"), Size(side, side))
    layers, bench = wall(LOADER, stock).cures[0], read_bench({}, stock)
    return order_cure(Draft("A", layers, bench, "steel", "dry", True, Size(100, 100), pads), "Hot.")


def test_minutes_hold_for_the_edge_under_the_pads_there_are(stock: Stock) -> None:
    wide, near = heated(stock, 500), heated(stock, 250)
    for made in (wide, near):
        assert made.order is not None
        assert made.sheet is not None
        assert made.sheet == compute(made.order)
        assert made.sheet.reach is not None
    assert near.sheet is not None
    assert near.sheet.reach is not None
    assert near.sheet.reach.factor > 1


def test_the_setpoint_is_lowered_where_the_edge_asks_for_too_much(stock: Stock) -> None:
    """The longer heating under small pads must not overcure a face."""
    wide, small = heated(stock, 500), heated(stock, 190)
    assert wide.order is not None
    assert small.order is not None
    assert small.sheet is not None
    assert small.order.outside.setpoint_C < wide.order.outside.setpoint_C
    assert all(layer.ok for layer in small.sheet.layers)
    lowered = [reason for reason in small.order.rationale if reason.startswith("Lowered to")]
    assert len(lowered) == 1
    assert "x t90 and bears" in lowered[0]


def test_pads_too_small_are_said(stock: Stock) -> None:
    refused = heated(stock, 130)
    assert refused.sheet is None
    assert "is too small for an injury of 100 x 100 mm" in refused.why_not
