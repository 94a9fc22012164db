"""Any order that can be written gets a sheet or one clear refusal: never a NaN, a warning of numpy or a traceback."""

from math import isfinite
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import NeverCuredError, compute
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.cure_wall import Compound, Layer, Material

materials = st.builds(
    Material,
    name=st.just("layer"), basis=st.just("drawn"), conductivity_W_mK=st.floats(0.02, 20),
    density_kg_m3=st.floats(100, 8000), heat_capacity_J_kgK=st.floats(300, 4500),
)  # fmt: skip
compounds = st.builds(
    Compound,
    name=st.just("compound"), basis=st.just("drawn"), t90_min=st.floats(0.2, 600), reference_C=st.floats(80, 220),
    activation_kJ_mol=st.floats(20, 250), face_limit=st.floats(1, 100),
)  # fmt: skip


@st.composite
def pads(draw: st.DrawFn) -> Pad:
    setpoint = draw(st.floats(80, 200))
    start = draw(st.sampled_from([None, setpoint]) | st.floats(-40, 80))
    rate = draw(st.none() | st.floats(0.1, 100)) if start == setpoint else draw(st.floats(0.1, 100))
    return Pad(
        setpoint_C=setpoint, start_C=start, heating_rate_C_min=rate,
        contact_resistance_m2K_W=draw(st.just(0.0) | st.floats(1e-6, 0.05)),
        heat_capacity_kJ_m2K=draw(st.floats(0.5, 500)), loss_W_m2K=draw(st.floats(0.5, 1000)),
    )  # fmt: skip


bare = st.builds(Pad, present=st.just(False), loss_W_m2K=st.just(0.0) | st.floats(0, 1000))
shops: dict[str, st.SearchStrategy[Any]] = {
    "ambient_C": st.floats(-40, 60), "tyre_C": st.none() | st.floats(-40, 150), "clamp_bar": st.floats(0, 20),
    "altitude_m": st.floats(-500, 6000), "water_activity": st.floats(0, 1), "release_C": st.floats(65, 150),
    "target": st.floats(0.5, 10),
}  # fmt: skip


def orders_of(materials: st.SearchStrategy[Material]) -> st.SearchStrategy[CureOrder]:
    """Return orders of walls of `materials`, with whatever else can be written."""
    layers = st.builds(
        Layer,
        name=st.just("layer"), thickness_mm=st.floats(0.1, 100), material=materials, compound=compounds,
        cured_before=st.just(False),
    )  # fmt: skip
    wall = st.lists(layers, min_size=1, max_size=4).map(tuple)
    return st.builds(CureOrder, layers=wall, outside=pads(), inside=pads() | bare, **shops)


orders = orders_of(materials)


def numbers(part: Any) -> list[float]:
    if isinstance(part, dict):
        part = list(part.values())
    if isinstance(part, list | tuple):
        return [number for one in part for number in numbers(one)]
    return [part] if isinstance(part, float) else []


@given(orders)
@settings(max_examples=80, deadline=None)
def test_any_order_gets_a_sheet_or_a_refusal(order: CureOrder) -> None:
    try:
        sheet = compute(order)
    except NeverCuredError:
        return
    found = numbers(sheet.model_dump())
    assert len(found) > 10
    assert all(isfinite(number) for number in found)
    assert 0 < sheet.minutes_from_switch_on <= 72 * 60 + 0.1
    assert sheet.slowest.peak_C >= sheet.slowest.temperature_C - 0.11
    assert all(layer.least_at_power_off >= order.target * 0.995 for layer in sheet.layers)
    assert CureSheet.model_validate_json(sheet.model_dump_json()) == sheet
