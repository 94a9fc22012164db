"""Power and energy of the pads against a worked example and the circuits of the catalogue."""

import pytest

from mendbook.plan import Stock
from mendbook.plan.energy import Load, energy, overload, power_words


def test_the_worked_energy() -> None:
    """Two pads of 400 W, 1.2 h warming up and 4.0 h held at a duty of 0.45: 2.40 kWh."""
    assert energy(800, 1.2, 4.0) == pytest.approx(2.40)


def test_a_circuit_carries_four_fifths_of_its_rating(stock: Stock) -> None:
    small = next(circuit for circuit in stock.kit.circuits if circuit.power == 2400)
    assert overload(1920, small, stock.kit) == ""
    lack = overload(1921, small, stock.kit)
    assert "would serve" in lack
    assert small.id in lack
    assert "more than" not in power_words([Load("A", 1920, ())], small, stock.kit)
    assert "more than" in power_words([Load("A", 1921, ())], small, stock.kit)


def test_without_a_circuit_no_voltage_is_guessed(stock: Stock) -> None:
    """Whether a shop has 120 V or 230 V is not known here; 2500 W are 80 % of 3125 W."""
    said = power_words([Load("A", 2500, ())], None, stock.kit)
    assert "a circuit of at least 3125 W carries it" in said
    assert not any(circuit.id in said for circuit in stock.kit.circuits)
    assert overload(2500, None, stock.kit) == ""


def test_several_repairs_are_counted_both_ways(stock: Stock) -> None:
    said = power_words([Load("A", 800, ()), Load("B", 600, ()), Load("C", 0, ())], stock.kit.circuits[0], stock.kit)
    assert "800 W one repair after the other" in said
    assert "1400 W all at once" in said
    assert "enough for all at once" in said


def test_nothing_heated_nothing_said(stock: Stock) -> None:
    assert power_words([Load("A", 0, ())], None, stock.kit) == ""


def test_more_than_any_circuit_asks_for_a_larger_one(stock: Stock) -> None:
    assert "50000 W or more would serve" in overload(40_000, stock.kit.circuits[0], stock.kit)
