"""Rigid kit only where it touches, covers and reaches."""

from dataclasses import replace

import pytest

from mendbook.cure import overlap_needed
from mendbook.plan import Stock
from mendbook.plan.cavity import cavity_of
from mendbook.plan.presses import FLAT, SHAPED, fit_arm_press, fit_mould, fit_spot_press, reach_in, touches
from mendbook.plan.size import Size
from mendbook.plan.task import Task, sag, task_of
from tests.plan.requests import TRUCK, but


def task(**facts: float | str) -> Task:
    wanted = but(TRUCK, **facts)
    return task_of(wanted, cavity_of(wanted), None, 20.0, overlap_needed(20.0), both_faces=True, pressure=2.0)


def test_the_worked_sag() -> None:
    """A shoe 200 mm long on a wall of radius 250 mm: 20 mm, too much for any rigid shoe."""
    assert sag(200, 250) == pytest.approx(20.0)
    assert sag(200, 250) > SHAPED > FLAT


def test_a_shoe_is_judged_both_ways() -> None:
    tight = replace(task(), place=replace(task().place, across_radius=250.0))
    assert not touches(Size(50, 200), tight, SHAPED)
    assert touches(Size(50, 100), tight, SHAPED)


def test_an_arm_press_must_reach_past_the_middle_of_the_injury(stock: Stock) -> None:
    found = fit_arm_press(stock.kit, task())
    assert found
    assert all(press.reach >= reach_in(task()) + 60 for press in found)
    assert not fit_arm_press(stock.kit, task(height=600.0))


def test_a_spot_press_is_for_thin_rubber_only(stock: Stock) -> None:
    flat = task(deciding_length=10.0, deciding_width=10.0, cavity_depth=5.0)
    flat = replace(flat, outside=Size(90, 90), inside=Size(60, 60))
    assert fit_spot_press(stock.kit, flat)[0].id == "spot press 100 x 100"
    assert not fit_spot_press(stock.kit, replace(flat, depth=26.0))
    assert not fit_spot_press(stock.kit, replace(flat, verdict="reinforce"))


def test_a_mould_fits_the_inflated_width_it_is_made_for(stock: Stock) -> None:
    assert [mould.id for mould in fit_mould(stock.kit, task(inflated_width=330.0))] == ["mould 330"]
    assert not fit_mould(stock.kit, task(inflated_width=355.0))
