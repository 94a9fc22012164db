"""The engine against an independent solver, and against what may not be lost: energy."""

import numpy as np
import pytest
from scipy.integrate import simpson

from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import power_off_time
from mendbook.terms.cure_order import CureOrder
from tests.cure.lines import Lines
from tests.cure.walls import beside, fill, heating, order, pad, through


@pytest.mark.parametrize(
    "wanted",
    [order(through(30), pad()), order(beside(80), pad(), pad(150, 4), ambient_C=5)],
    ids=["through 30 mm", "beside 80 mm, unequal pads"],
)
def test_scipy_s_radau_finds_the_same_cure(wanted: CureOrder) -> None:
    wall = Wall(wanted)
    power_off = power_off_time(wall)
    course = follow(wall, power_off)
    lines = Lines(wanted, cells_per_mm=4)
    cells = len(lines.capacity)

    heated = lines.heat(power_off)
    # Half a cell from the interface, where the engine has a node, a cell cures 0.1 % more.
    assert heated[cells:][lines.must].min() == pytest.approx(1, abs=2e-3)
    here = np.interp(lines.depth, wall.stack.depth, course.profile)
    assert heated[:cells] == pytest.approx(here, abs=0.1)

    cooled = lines.cool(heated, power_off, 4 * 3600.0)
    after = course.cooling.temperatures(np.array([4 * 3600.0]))[:, 0]
    assert cooled[1 : cells + 1] == pytest.approx(np.interp(lines.depth, wall.stack.depth, after), abs=0.1)
    slowest = int(np.argmin(np.where(lines.must, heated[cells:], np.inf)))
    assert cooled[cells + 2 :][slowest] == pytest.approx(course.after_cooling[course.slowest], rel=5e-3)


def test_all_heat_that_goes_in_is_stored() -> None:
    outside, inside = pad(), pad(150, 4)
    stack, phase = heating(beside(80), outside, inside)
    times = np.linspace(0, 9000, 6001)
    wall = phase.temperatures(times)
    pads = np.array([face.temperatures(times) for face in phase.faces])
    flow = (pads[0] - wall[0]) / 5e-4 + (pads[1] - wall[-1]) / 5e-4
    stored = stack.capacity @ (wall[:, -1] - wall[:, 0])
    assert simpson(flow, x=times) == pytest.approx(stored, rel=2e-5)


def test_all_heat_that_is_lost_came_from_wall_and_pads() -> None:
    """The pads are not among the wall's nodes: their heat is what the contact hands on to them."""
    wall = Wall(order(beside(80), pad()))
    course = follow(wall, 9000.0)
    times = np.linspace(0, 7200, 6001)
    nodes, pads = course.cooling.temperatures(times), course.cooling.pads(times)
    lost = simpson(10 * (pads[0] - 20) + 10 * (pads[1] - 20), x=times)
    fall = pads[:, 0] - pads[:, -1]
    stored = wall.stack.capacity @ (nodes[:, 0] - nodes[:, -1]) + 20e3 * fall.sum()
    assert lost == pytest.approx(stored, rel=1e-9)


def test_time_is_exact_whatever_the_way_to_it() -> None:
    """A moment asked for alone and among others is the same moment; so is a ramp cut in two."""
    stack, phase = heating((fill(60),), pad(), pad(150, 4))
    times = np.array([700.0, 1500.0, 4000.0])
    together = phase.temperatures(times)
    alone = np.column_stack([phase.temperatures(times[i : i + 1]) for i in range(3)])
    assert together == pytest.approx(alone, abs=1e-10)
    assert phase.temperatures(np.array([0.0]))[:, 0] == pytest.approx(np.full(len(stack.depth), 20.0), abs=1e-9)
