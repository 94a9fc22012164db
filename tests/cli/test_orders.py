import json
from typing import Any

import pytest

from mendbook.cli.orders import OrderError, read_order
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.document import parse_document

# An invented order; every value is a plausible guess, measured by nobody.
RUBBER = {
    "name": "fill rubber",
    "conductivity_W_mK": 0.25,
    "density_kg_m3": 1120,
    "heat_capacity_J_kgK": 1850,
    "basis": "invented",
}
COMPOUND = {
    "name": "fill rubber",
    "t90_min": 12,
    "reference_C": 150,
    "activation_kJ_mol": 90,
    "basis": "invented",
}
ORDER: dict[str, Any] = {
    "case": "an invented order",
    "layers": [{"name": "fill", "thickness_mm": 45, "material": RUBBER, "compound": COMPOUND}],
    "outside": {"heating_rate_C_min": 6},
    "inside": {"heating_rate_C_min": 6},
    "ambient_C": 20,
    "clamp_bar": 2.0,
}


def read(order: dict[str, Any]) -> CureOrder:
    return read_order(parse_document(json.dumps(order, indent=1), "order.json"))


def test_an_order_reads_from_json_with_its_numbers() -> None:
    order = read(ORDER)
    assert order.layers[0].thickness_mm == 45.0
    assert order.outside.present is True
    assert order.release_C == 100.0


def test_an_order_taken_from_a_docket_reads_back_the_same() -> None:
    order = read(ORDER)
    assert read(json.loads(order.model_dump_json(by_alias=True))) == order


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"clamp_bar": "much"}, "order.json:30: clamp_bar: 'much' is not a number."),
        ({"clamp_bars": 2}, "clamp_bars: no field is called 'clamp_bars' here. Did you mean 'clamp_bar'?"),
        ({"ambient_C": None}, "order.json:29: ambient_C: it is missing. Add it."),
        ({"layers": "fill"}, "order.json:3: layers: 'fill' stands where fields or a list should be."),
        ({"inside": {"heating_rate_C_min": 6, "setpoint_C": 20}}, "inside.setpoint_C: "),
        ({"inside": {}}, "inside: nothing says how fast the pad heats."),
    ],
)
def test_a_fault_says_file_line_field_and_what_to_write(change: dict[str, Any], fault: str) -> None:
    with pytest.raises(OrderError) as refused:
        read({**ORDER, **change})
    assert fault in str(refused.value)
    assert str(refused.value).count("\n") == 0


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(OrderError) as refused:
        read({**ORDER, "clamp_bar": "much", "ambient_C": "warm"})
    assert str(refused.value).count("is not a number") == 2
