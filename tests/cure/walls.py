"""Walls, pads and orders that the checks share. Every figure is an example, none a measurement."""

from typing import Any

from mendbook.cure.faces import meet
from mendbook.cure.heating import Heating
from mendbook.cure.stack import Stack, build_stack
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_wall import Compound, Layer, Material

FILL = Material(name="fill", conductivity_W_mK=0.25, density_kg_m3=1120, heat_capacity_J_kgK=1850, basis="an example")
GUM = Material(name="gum", conductivity_W_mK=0.19, density_kg_m3=1050, heat_capacity_J_kgK=1900, basis="an example")
STEEL_CASING = Material(
    name="casing", conductivity_W_mK=0.31, density_kg_m3=1790, heat_capacity_J_kgK=1245, basis="an example"
)
CLOTH = Material(name="cloth", conductivity_W_mK=0.22, density_kg_m3=1120, heat_capacity_J_kgK=1800, basis="an example")


def compound(t90: float, limit: float = 6.0, activation: float = 90.0) -> Compound:
    return Compound(
        name=f"t90 {t90:g}", t90_min=t90, reference_C=150, activation_kJ_mol=activation, face_limit=limit,
        basis="an example",
    )  # fmt: skip


def fill(thickness: float, **fields: Any) -> Layer:
    return Layer(**{"name": "fill", "thickness_mm": thickness, "material": FILL, "compound": compound(12), **fields})


def reacting(layer: Layer, heat: float) -> Layer:
    """Return `layer` with a heat of reaction [kJ/kg]."""
    assert layer.compound is not None
    warm = Compound.model_validate({**layer.compound.model_dump(), "reaction_heat_kJ_kg": heat})
    return layer.model_copy(update={"compound": warm})


def varied(thickness: float, conductivity: float = 0, capacity: float = 0, reaction: float = 0) -> Layer:
    """Return fill whose properties change [1/K] and which gives off heat [kJ/kg]."""
    changes = {"conductivity_per_K": conductivity, "heat_capacity_per_K": capacity}
    material = Material.model_validate({**FILL.model_dump(), **changes})
    return reacting(fill(thickness, material=material), reaction)


def gum() -> Layer:
    return Layer(name="gum", thickness_mm=2, material=GUM, compound=compound(8))


def cured(name: str, thickness: float, material: Material) -> Layer:
    return Layer(name=name, thickness_mm=thickness, material=material, compound=compound(15, 8), cured_before=True)


def through(thickness: float) -> tuple[Layer, ...]:
    """Return the column through an injury: fill, gum, reinforcement of 3 mm and a twentieth of the whole."""
    reinforcement = 3 + thickness / 20
    return fill(thickness - reinforcement - 2), gum(), cured("reinforcement", reinforcement, CLOTH)


def beside(thickness: float) -> tuple[Layer, ...]:
    """Return the column beside an injury, where old steel-cord casing lies between fill and reinforcement."""
    reinforcement = 3 + thickness / 20
    half = (thickness - reinforcement - 4) / 2
    casing = cured("casing", half, STEEL_CASING)
    return fill(half), gum(), casing, gum(), cured("reinforcement", reinforcement, CLOTH)


def pad(setpoint: float = 140, rate: float | None = 6, **fields: Any) -> Pad:
    return Pad(setpoint_C=setpoint, heating_rate_C_min=rate, **fields)


def step(setpoint: float = 140, **fields: Any) -> Pad:
    """Return a preheated pad."""
    return Pad(setpoint_C=setpoint, start_C=setpoint, **fields)


def ideal(setpoint: float = 140) -> Pad:
    """Return a preheated pad in perfect contact."""
    return step(setpoint, contact_resistance_m2K_W=0)


INSULATED = Pad(present=False, loss_W_m2K=0)


def order(layers: tuple[Layer, ...], outside: Pad, inside: Pad | None = None, **fields: Any) -> CureOrder:
    return CureOrder(
        **{
            "layers": layers, "outside": outside, "inside": inside or outside, "ambient_C": 20, "clamp_bar": 2.1,
            **fields,
        }
    )  # fmt: skip


def heating(layers: tuple[Layer, ...], outside: Pad, inside: Pad | None = None, tyre: float = 20,
            elements: int = 48) -> tuple[Stack, Heating]:  # fmt: skip
    """Return a wall in a shop at 20 °C as nodes and as its heating phase."""
    stack = build_stack(layers, elements)
    return stack, Heating(stack, (meet(outside, 20), meet(inside or outside, 20)), tyre)


def along_cords(layers: tuple[Layer, ...], ratio: float) -> tuple[Layer, ...]:
    """Return layers whose casing, or which all where there is none, conduct `ratio` times as well along the wall."""
    names = {layer.name for layer in layers}
    chosen = {"casing"} & names or names
    return tuple(
        layer.model_copy(update={"material": layer.material.model_copy(update={"in_plane_ratio": ratio})})
        if layer.name in chosen
        else layer
        for layer in layers
    )
