from math import inf, nan
from typing import Any

import pytest
from pydantic import ValidationError

from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

Written = dict[str, Any]

FILL = {
    "name": "fill rubber",
    "conductivity_W_mK": 0.25,
    "density_kg_m3": 1120,
    "heat_capacity_J_kgK": 1850,
    "basis": "an example",
}
CURVE = {"name": "fill", "t90_min": 12, "reference_C": 150, "activation_kJ_mol": 90, "basis": "an example"}


def written(**changes: Any) -> Written:
    """Return an order as a file would give it, with `changes`: 'outside.start_C' reaches into a part."""
    order: Written = {
        "layers": [{"name": "fill", "thickness_mm": 60, "material": dict(FILL), "compound": dict(CURVE)}],
        "outside": {"heating_rate_C_min": 6},
        "inside": {"heating_rate_C_min": 6},
        "ambient_C": 20,
        "clamp_bar": 2.1,
    }
    for way, value in changes.items():
        part: Any = order
        *steps, last = way.split("__")
        for step in steps:
            part = part[int(step) if step.isdigit() else step]
        part[last] = value
    return order


def refusal(order: Written) -> str:
    with pytest.raises(ValidationError) as refused:
        CureOrder.model_validate(order)
    assert refused.value.error_count() == 1
    return refused.value.errors()[0]["msg"].removeprefix("Value error, ")


def test_an_order_is_read_as_text_too() -> None:
    """A file gives every scalar as text."""

    def as_text(part: Any) -> Any:
        if isinstance(part, dict):
            return {key: as_text(value) for key, value in part.items()}
        return [as_text(one) for one in part] if isinstance(part, list) else str(part)

    assert CureOrder.model_validate(as_text(written())) == CureOrder.model_validate(written())


def test_an_order_survives_the_way_through_json() -> None:
    order = CureOrder.model_validate(written(rationale=("thickest wall of the two",)))
    assert CureOrder.model_validate_json(order.model_dump_json()) == order


@pytest.mark.parametrize(
    "way",
    [
        "layers__0__thickness_mm",
        "layers__0__material__conductivity_W_mK",
        "layers__0__material__density_kg_m3",
        "layers__0__material__heat_capacity_J_kgK",
        "layers__0__compound__t90_min",
        "layers__0__compound__reference_C",
        "layers__0__compound__activation_kJ_mol",
        "layers__0__compound__face_limit",
        "outside__setpoint_C",
        "outside__heating_rate_C_min",
        "outside__start_C",
        "outside__contact_resistance_m2K_W",
        "outside__heat_capacity_kJ_m2K",
        "inside__loss_W_m2K",
        "ambient_C",
        "tyre_C",
        "clamp_bar",
        "altitude_m",
        "water_activity",
        "release_C",
        "target",
    ],
)
@pytest.mark.parametrize("absurd", [nan, inf, -1e6, 1e6, "nan"])
def test_absurd_numbers_are_refused_with_what_to_write(way: str, absurd: float | str) -> None:
    message = refusal(written(**{way: absurd}))
    assert "is not between" in message
    assert ". Write " in message


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        (
            {"outside__setpoint_C": 1400},
            "1400 °C is not between 80 and 200 °C. Write the temperature set on the controller, such as 140.",
        ),
        (
            {"outside__heating_rate_C_min": None},
            "nothing says how fast the pad heats. Write heating_rate_C_min, such as 6, "
            "or start_C: 140 for a preheated pad.",
        ),
        (
            {"outside__start_C": 150},
            "the pad starts at 150 °C, above its setpoint of 140 °C. Write start_C: 140 for a preheated pad.",
        ),
        (
            {"outside__loss_W_m2K": 0.1},
            "a pad that loses no heat never cools. Write loss_W_m2K: 3 if it is insulated.",
        ),
        (
            {"outside": {"present": False}, "inside": {"present": False}},
            "no face is heated. Put a pad on the outside or the inside: 'present: true'.",
        ),
        (
            {"layers__0__compound": None},
            "nothing says how fast 'fill' cures. Write its compound, or 'cured_before: true' "
            "when it is vulcanised already.",
        ),
        (
            {"layers__0__cured_before": True},
            "every layer is cured already. Write 'cured_before: false' for the new rubber.",
        ),
        (
            {"layers": written()["layers"] * 7},
            "the wall is 420 mm thick, over 400 mm. Check the layers: they are in mm.",
        ),
        (
            {"release_C": 40, "ambient_C": 38},
            "a wall in a shop at 38 °C does not cool to 40 °C. Write release_C: 43 or more; 100 is usual.",
        ),
    ],
)
def test_what_cannot_be_worked_out_is_refused(changes: Written, message: str) -> None:
    assert refusal(written(**changes)) == message


def test_a_preheated_pad_needs_no_heating_rate() -> None:
    order = CureOrder.model_validate(written(outside={"start_C": 140}))
    assert order.outside.heating_rate_C_min is None


def test_a_bare_face_needs_nothing() -> None:
    assert not CureOrder.model_validate(written(inside={"present": False})).inside.present
    assert CureOrder.model_validate(written(inside={"present": False, "loss_W_m2K": 0})).inside.loss_W_m2K == 0


def test_a_cured_layer_needs_no_compound() -> None:
    casing = {"name": "casing", "thickness_mm": 20, "material": FILL, "cured_before": True}
    order = CureOrder.model_validate(written(layers=[*written()["layers"], casing]))
    assert order.layers[1].compound is None


def test_a_key_that_is_not_known_is_refused() -> None:
    assert refusal(written(presure=2)) == "Extra inputs are not permitted"
    assert refusal(written(outside__setpoint=140)) == "Extra inputs are not permitted"


def test_the_layers_are_counted() -> None:
    assert refusal(written(layers=[])).startswith("there are 0 layers, not 1 to 20. Write them")
    assert refusal(written(layers=written()["layers"] * 21)).startswith("there are 21 layers")


def test_an_order_cannot_be_changed() -> None:
    order: Any = CureOrder.model_validate(written())
    with pytest.raises(ValidationError, match="frozen"):
        order.ambient_C = 5


@pytest.mark.parametrize("model", [CureOrder, CureSheet])
def test_the_schema_describes_every_field_but_the_plainest(model: type[CureOrder] | type[CureSheet]) -> None:
    schema = model.model_json_schema()
    for part in [schema, *schema["$defs"].values()]:
        assert part["description"]
        assert part["additionalProperties"] is False
        for name, field in part["properties"].items():
            if name[-1].isupper() or "_" in name:
                assert "description" in field or "$ref" in field or field.get("type") == "boolean", name


@pytest.mark.parametrize("unit", ["mm", "min", "C", "bar", "m"])
def test_the_description_repeats_the_unit_of_the_name(unit: str) -> None:
    in_words = {"C": "[°C", "mm": "[mm", "min": "min", "bar": "[bar", "m": "[m"}[unit]
    for model in (CureOrder, CureSheet):
        schema = model.model_json_schema()
        for part in [schema, *schema["$defs"].values()]:
            for name, field in part["properties"].items():
                if name.endswith(f"_{unit}"):
                    assert in_words in field["description"], name


def test_the_schema_gives_bounds() -> None:
    pad = CureOrder.model_json_schema()["$defs"]["Pad"]["properties"]
    assert (pad["setpoint_C"]["minimum"], pad["setpoint_C"]["maximum"]) == (80, 200)
