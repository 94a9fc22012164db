"""The materials and compounds of the shelf: complete, within their own ranges, and fit for an order."""

import re
from pathlib import Path

import pytest

from mendbook.cure import compute
from mendbook.terms.cure_wall import Compound, Layer, Material
from mendbook.terms.document import Tree, read_document
from tests.cure.walls import order, pad

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"
MATERIALS = sorted((KNOWLEDGE / "materials").glob("*.yaml"))
COMPOUNDS = sorted((KNOWLEDGE / "compounds").glob("*.yaml"))

# Bounds for any filled or unfilled rubber with cord, by text: Voigt and Reuss bounds with 10 to 20 % steel of
# 45 to 60 W/(m K) across the cords, and Incropera & DeWitt table A.3 for soft rubber (0.13), from memory.
CONDUCTIVITY = (0.13, 0.46)
DIFFUSIVITY = (0.6e-7, 2.0e-7)  # m2/s


def text(value: Tree) -> str:
    assert isinstance(value, str)
    return value


def number(value: Tree, unit: str) -> float:
    written = text(value)
    assert written.endswith(unit), f"{written} is not in {unit}"
    return float(written.removesuffix(unit))


def bounds(value: Tree) -> tuple[float, float]:
    found = re.match(r"([\d.]+) to ([\d.]+) ", text(value))
    assert found
    return float(found[1]), float(found[2])


def material(path: Path) -> Material:
    entry = read_document(path).tree
    return Material(
        name=text(entry["material"]),
        conductivity_W_mK=number(entry["conductivity"], "W/m/K"),
        density_kg_m3=number(entry["density"], "kg/m3"),
        heat_capacity_J_kgK=number(entry["heat capacity"], "J/kg/K"),
        basis=text(entry["basis"]),
    )


def compound(path: Path) -> Compound:
    entry = read_document(path).tree
    return Compound(
        name=text(entry["compound"]),
        t90_min=number(entry["t90"], "min"),
        reference_C=number(entry["reference temperature"], "°C"),
        activation_kJ_mol=number(entry["activation energy"], "kJ/mol"),
        face_limit=number(entry["face limit"], "x t90"),
        basis=text(entry["basis"]),
    )


def test_there_is_a_shelf() -> None:
    assert len(MATERIALS) >= 5
    assert len(COMPOUNDS) >= 4


@pytest.mark.parametrize("path", [*MATERIALS, *COMPOUNDS], ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_value_lies_in_its_range_and_has_a_basis(path: Path) -> None:
    entry = read_document(path).tree
    assert "memory" in text(entry["basis"])
    assert "replace by a measured value" in text(entry["basis"])
    ranges = [key for key in entry if key.endswith(" range")]
    assert len(ranges) == 3
    for key in ranges:
        low, high = bounds(entry[key])
        value, unit = text(entry[key.removesuffix(" range")]).split(" ", 1)
        assert low <= float(value) <= high
        assert text(entry[key]).endswith(unit)


@pytest.mark.parametrize("path", MATERIALS, ids=lambda path: path.stem)
def test_materials_conduct_like_rubber(path: Path) -> None:
    found = material(path)
    assert CONDUCTIVITY[0] <= found.conductivity_W_mK <= CONDUCTIVITY[1]
    diffusivity = found.conductivity_W_mK / found.density_kg_m3 / found.heat_capacity_J_kgK
    assert DIFFUSIVITY[0] <= diffusivity <= DIFFUSIVITY[1]


def test_steel_casing_is_the_mixture_it_says() -> None:
    """By hand: 10 % of steel in rubber of 0.25 W/(m K), 1120 kg/m3 and 1850 J/(kg K)."""
    found = material(KNOWLEDGE / "materials" / "steel_casing.yaml")
    heat = 0.1 * 7850 * 470 + 0.9 * 1120 * 1850
    assert found.density_kg_m3 == pytest.approx(0.1 * 7850 + 0.9 * 1120, rel=0.005)
    assert found.density_kg_m3 * found.heat_capacity_J_kgK == pytest.approx(heat, rel=0.01)
    assert found.conductivity_W_mK == pytest.approx(0.25 * 1.1 / 0.9, rel=0.02)


def test_a_wall_from_the_shelf_gets_a_sheet() -> None:
    rubber = material(KNOWLEDGE / "materials" / "fill_rubber.yaml")
    layers = tuple(
        Layer(
            name=path.stem, thickness_mm=20, material=rubber, compound=compound(path),
            cured_before=path.stem.startswith("cured"),
        )
        for path in COMPOUNDS
    )  # fmt: skip
    sheet = compute(order(layers, pad()))
    assert {layer.layer for layer in sheet.layers} == {path.stem for path in COMPOUNDS}
    assert any("from memory" in note for note in sheet.notes)
