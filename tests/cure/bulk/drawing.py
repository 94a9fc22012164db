"""Orders drawn by a seed, as shops might write them: random walls, pads and places. All values are invented."""

from random import Random
from typing import Any

from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Bend, Pad
from mendbook.terms.cure_wall import Compound, Layer, Material


def draw_orders(number: int, seed: int) -> list[CureOrder]:
    """Return `number` different orders."""
    rng = Random(seed)
    return [draw_order(rng) for _ in range(number)]


def draw_order(rng: Random) -> CureOrder:
    outside, kind = draw_pad(rng), rng.random()
    bare = Pad(present=False, loss_W_m2K=rng.choice([0, 10]))
    return CureOrder(
        layers=tuple(draw_wall(rng)),
        outside=outside,
        inside=outside if kind < 0.6 else draw_pad(rng) if kind < 0.85 else bare,
        ambient_C=rng.uniform(-20, 45),
        tyre_C=rng.choice([None, rng.uniform(-20, 60)]),
        clamp_bar=rng.uniform(0.5, 4),
        altitude_m=rng.uniform(-100, 4500),
        water_activity=rng.uniform(0.3, 1),
        release_C=rng.uniform(70, 110),
        target=rng.choice([1.0, rng.uniform(0.9, 3)]),
        schedule=rng.choice(["safe", "economy"]),
        cooling=rng.choice(["still air"] * 8 + ["fan", "water"]),
    )


def draw_wall(rng: Random) -> list[Layer]:
    thickness = rng.uniform(15, 150)
    reinforcement = 3 + thickness / 20
    new = (draw_layer(rng, "fill", thickness), draw_layer(rng, "gum", rng.uniform(1, 3), t90=rng.uniform(4, 12)))
    wall = [*new, draw_layer(rng, "reinforcement", reinforcement, cured_before=rng.random() < 0.7)]
    if rng.random() < 0.5:
        wall[1:1] = [
            draw_layer(rng, "gum", rng.uniform(1, 3)),
            draw_layer(rng, "casing", rng.uniform(5, 40), cured_before=True, known=rng.random() < 0.8),
        ]
    if rng.random() < 0.1:
        wall[-1] = draw_layer(rng, "liner", 3.0, cured_before=True, known=False)
    return wall if rng.random() < 0.9 else wall[:1]


def draw_layer(rng: Random, name: str, thickness: float, *, t90: float = 0.0, known: bool = True, **more: Any) -> Layer:
    material = Material(
        name=name, basis="drawn", conductivity_W_mK=rng.uniform(0.15, 0.45), density_kg_m3=rng.uniform(980, 1900),
        heat_capacity_J_kgK=rng.uniform(1200, 2100),
    )  # fmt: skip
    compound = Compound(
        name=name, basis="drawn", t90_min=t90 or rng.uniform(6, 25), reference_C=rng.uniform(140, 160),
        activation_kJ_mol=rng.uniform(80, 110), face_limit=rng.uniform(4, 12),
    )  # fmt: skip
    return Layer(name=name, thickness_mm=thickness, material=material, compound=compound if known else None, **more)


def draw_pad(rng: Random) -> Pad:
    setpoint = rng.uniform(115, 160)
    fields: dict[str, Any] = {
        "contact_resistance_m2K_W": rng.choice([0.0, rng.uniform(1e-4, 5e-3)]),
        "heat_capacity_kJ_m2K": rng.uniform(8, 40), "loss_W_m2K": rng.uniform(5, 30),
    }  # fmt: skip
    kind = rng.random()
    if kind < 0.15:
        return Pad(setpoint_C=setpoint, start_C=setpoint, **fields)
    if kind < 0.25:
        mid = rng.uniform(5, 60)
        bends = (
            Bend(at_min=0, temperature_C=rng.uniform(0, 40)), Bend(at_min=mid, temperature_C=rng.uniform(80, 120)),
            Bend(at_min=mid + rng.uniform(5, 60), temperature_C=setpoint),
        )  # fmt: skip
        return Pad(programme=bends, **fields)
    return Pad(setpoint_C=setpoint, heating_rate_C_min=rng.uniform(1.5, 15), **fields)
