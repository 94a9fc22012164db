"""Amounts against a worked example: opening 90 x 165, floor 48 x 118, depth 46, reinforcement 420 x 330 mm."""

from typing import Any

import pytest

from mendbook.plan import Stock
from mendbook.plan.cavity import Cavity
from mendbook.plan.materials import amounts, buffed_inside, buffed_outside, lining_of
from mendbook.plan.size import Size

CAVITY = Cavity(Size(90, 165), Size(48, 118), 46, is_through=True)
REINFORCEMENT = Size(420, 330)


def made(stock: Stock, **changes: Any) -> dict[str, float]:
    given: dict[str, Any] = {"reinforcement_kind": "uncured reinforcement", "reinforcement_thickness": 12.0}
    listed = amounts(CAVITY, REINFORCEMENT, "upper sidewall", stock.goods, **{**given, **changes})
    return {amount.material: amount.amount for amount in listed}


def test_buffed_areas_of_the_worked_example() -> None:
    assert buffed_outside(CAVITY) == pytest.approx(0.0294, abs=5e-5)
    assert buffed_inside(REINFORCEMENT) == pytest.approx(0.1702, abs=5e-5)


def test_masses_of_the_worked_example(stock: Stock) -> None:
    found = made(stock)
    assert found["fill rubber, sidewall"] == 0.45
    assert found["cushion gum"] == 0.29
    assert found["cement"] == 0.08


def test_every_amount_says_its_basis(stock: Stock) -> None:
    listed = amounts(CAVITY, REINFORCEMENT, "crown centre", stock.goods, reinforcement_kind="precured reinforcement")
    assert all("house default" in amount.basis for amount in listed)
    assert listed[0].material == "fill rubber, tread"


def test_a_cold_repair_takes_fluid_for_cement_and_no_cloth(stock: Stock) -> None:
    found = made(stock, is_cold=True)
    assert "chemical-cure fluid" in found
    assert not {"cement", "bleeder cloth", "release film"} & set(found)


def test_a_hole_right_through_without_reinforcement_is_sealed(stock: Stock) -> None:
    listed = amounts(CAVITY, None, "crown centre", stock.goods)
    assert "liner rubber" in {amount.material for amount in listed}
    assert lining_of(CAVITY, None) == Size(98, 168)
    part = Cavity(CAVITY.opening, CAVITY.floor, 20, is_through=False)
    assert lining_of(part, None) is None
