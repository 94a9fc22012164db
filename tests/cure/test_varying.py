"""Orders whose properties change with temperature or whose rubber gives off heat: whole cures, against other roads."""

import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from mendbook.cure import NeverCuredError, compute
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import power_off_time
from mendbook.cure.vapour import clamp_needed
from mendbook.cure.varying import varies
from mendbook.terms.cure_order import CureOrder
from tests.cure.lines import Lines
from tests.cure.walls import CLOTH, cured, fill, order, pad, reacting, step, varied

CHANGES: dict[str, dict[str, float]] = {
    "conductivity falls": {"conductivity": -0.002},
    "heat capacity rises": {"capacity": 0.004},
    "heat of reaction": {"reaction": 20},
    "a strong heat of reaction": {"reaction": 100},
    "all of it": {"conductivity": -0.001, "capacity": 0.002, "reaction": 20},
}


@pytest.mark.parametrize("changes", CHANGES.values(), ids=CHANGES.keys())
def test_scipy_s_radau_finds_the_same_cure(changes: dict[str, float]) -> None:
    """Cell-centred cells, conductivity half a cell at a time, the pads as states: nothing shared but the order."""
    wanted = order((varied(30, **changes),), pad(), pad(150, 4))
    wall = Wall(wanted, elements=192)
    power_off = power_off_time(wall)
    course = follow(wall, power_off)
    lines = Lines(wanted, cells_per_mm=8)
    heated = lines.heat(power_off)
    temperatures, reached = np.split(heated, 2)
    assert temperatures == pytest.approx(np.interp(lines.depth, wall.stack.depth, course.profile), rel=1e-4)
    assert reached == pytest.approx(np.interp(lines.depth, wall.stack.depth, course.at_power_off), rel=4e-4)
    assert reached.min() == pytest.approx(1, rel=4e-4)  # cure grows 4 % with every per cent of time: 1e-4 of the time

    end = 2.5 * 3600.0
    cooled = lines.cool(heated, power_off, end)
    cells = len(lines.capacity)
    after = np.interp(lines.depth, wall.stack.depth, course.cooling.temperatures(np.array([end]))[:, 0])
    assert cooled[1 : cells + 1] == pytest.approx(after, rel=2e-4)
    most = np.interp(lines.depth, wall.stack.depth, course.after_cooling)
    assert cooled[cells + 2 :] == pytest.approx(most, rel=3e-3)  # counted a little longer than 2.5 h


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"capacity": 0.002}, (1.8, 0.5, -0.7)),
        ({"capacity": 0.002, "conductivity": -0.001}, (3.5, 2.6, 1.1)),
        ({"reaction": 10}, (-4.0, -4.7, -5.1)),
        ({"reaction": 20}, (-7.9, -9.3, -10.0)),
    ],
)
def test_what_each_effect_does_to_the_time(changes: dict[str, float], expected: tuple[float, ...]) -> None:
    """Per cent of the heating-only time of 30, 80 and 150 mm; an earlier program of our own wrote these down."""
    found = [
        100 * (power_off_time(Wall(order((varied(thick, **changes),), pad())))
               / power_off_time(Wall(order((fill(thick),), pad()))) - 1)
        for thick in (30, 80, 150)
    ]  # fmt: skip
    assert found == pytest.approx(expected, abs=0.07)


def test_heat_of_reaction_shortens_the_cure_and_overcures_more() -> None:
    plain, warm = (compute(order((reacting(fill(80), heat),), pad())) for heat in (0, 20))
    assert warm.minutes_from_switch_on < plain.minutes_from_switch_on
    at_same_time = follow(Wall(order((reacting(fill(80), 20),), pad())), 60 * plain.minutes_from_switch_on)
    assert at_same_time.after_cooling[0] > plain.layers[0].most
    assert warm.slowest.peak_C > plain.slowest.peak_C


def test_rubber_that_was_cured_before_gives_off_nothing() -> None:
    before = cured("casing", 30, CLOTH)
    old = (fill(30), reacting(before, 50))
    assert not varies(order(old, pad()))
    assert compute(order(old, pad())) == compute(order((fill(30), before), pad())).model_copy(
        update={"notes": compute(order(old, pad())).notes}
    )


def test_the_sheet_says_what_is_counted() -> None:
    plain, warm, changing = (
        " ".join(compute(order((layer,), pad())).notes)
        for layer in (fill(40), reacting(fill(40), 10), varied(40, conductivity=-0.001))
    )
    assert "Not counted: heat of reaction" in plain
    assert "Counted: heat of reaction" in warm
    assert "Not counted: tread lugs" in warm
    assert "the change of conductivity and heat capacity" in changing
    assert "Not counted: heat of reaction" in changing


def test_the_heat_of_reaction_counts_among_the_temperatures_a_material_may_get() -> None:
    """100 kJ/kg over 400 J/(kg K) would warm it up from 140 to 390 °C."""
    layer = varied(40, conductivity=-0.004, reaction=100)
    light = layer.model_copy(update={"material": layer.material.model_copy(update={"heat_capacity_J_kgK": 400.0})})
    with pytest.raises(ValidationError, match=r"at 390 °C next to nothing of it is left. Write -0.0029 or more"):
        order((light,), pad())


def test_rubber_hotter_than_its_pads_is_said_with_the_clamp_that_it_takes() -> None:
    wanted = order((reacting(fill(30), 100),), pad(), clamp_bar=2.1)
    said = [line for line in compute(wanted).warnings if "heat of reaction" in line]
    assert len(said) == 1
    wall = Wall(wanted)
    hottest = wall.heating.temperatures(np.linspace(0, power_off_time(wall), 5000)).max()
    assert hottest == pytest.approx(165, abs=0.5)
    figures = re.search(r"to (\d+) °C.*give ([\d.]+) bar, but it gives 2.10", said[0])
    assert figures is not None
    assert float(figures[1]) == round(hottest)
    assert float(figures[2]) == pytest.approx(clamp_needed(hottest, 1, 0), abs=0.02)
    assert not [line for line in compute(order((fill(30),), pad())).warnings if "reaction" in line]


@pytest.mark.parametrize(
    ("changes", "fields", "words"),
    [
        ({"capacity": 0.009}, {"ambient_C": -40}, "the heat capacity of 'fill' changes by 0.009 a kelvin .* at -40 °C"),
        ({"conductivity": 0.009}, {"tyre_C": -30}, "the conductivity of 'fill' .* Write 0.0081 or less"),
    ],
)
def test_a_property_that_would_come_to_nothing_is_refused(
    changes: dict[str, float], fields: dict[str, Any], words: str
) -> None:
    with pytest.raises(ValidationError, match=words):
        order((varied(40, **changes),), pad(), **fields)


@settings(max_examples=8, deadline=None)
@given(
    st.floats(-0.004, 0.007), st.floats(-0.004, 0.007), st.sampled_from([0.0, 5.0, 100.0]), st.floats(0.5, 120),
    st.sampled_from([0.0, 1e-6, 5e-4, 0.05]), st.floats(20, 250),
)  # fmt: skip
def test_any_order_gets_a_sheet(
    conductivity: float, capacity: float, reaction: float, thick: float, contact: float, activation: float
) -> None:
    layer = varied(thick, conductivity=conductivity, capacity=capacity, reaction=reaction)
    assert layer.compound is not None
    layer = layer.model_copy(update={"compound": layer.compound.model_copy(update={"activation_kJ_mol": activation})})
    wanted: CureOrder = order((layer,), pad(contact_resistance_m2K_W=contact), step(150))
    try:
        sheet = compute(wanted)
    except NeverCuredError:
        return
    assert 0 < sheet.minutes_from_switch_on <= 72 * 60 + 0.1
    assert all(layer.least_at_power_off >= 0.995 for layer in sheet.layers)
    assert sheet.slowest.peak_C >= sheet.slowest.temperature_C - 0.11
