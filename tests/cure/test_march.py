"""The march in time: what it must give back exactly, how its error falls, and what may not be lost on the way."""

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import simpson

from mendbook.cure import march
from mendbook.cure.chain import Chain, Sites
from mendbook.cure.course import Wall, follow
from mendbook.cure.faces import Face
from mendbook.cure.march import March
from mendbook.cure.marched import MarchedHeating
from mendbook.cure.schedules import plan_courses
from mendbook.cure.varying import vary
from mendbook.terms.cure_order import CureOrder
from tests.cure.walls import INSULATED, beside, fill, ideal, order, pad, reacting, through, varied


def marched(wanted: CureOrder, elements: int = 48) -> Wall:
    """Return the wall of an order, marched through whether or not anything in it varies."""
    wall = Wall(wanted, elements)
    wall.heating = MarchedHeating(
        vary(wanted.layers, wall.stack, wall.points), wall.faces, wall.begun.profile, wall.begun.cure
    )
    return wall


PLAIN = {
    "through 80 mm": order(through(80), pad()),
    "through 150 mm, hot pads, cold shop": order(through(150), pad(150), ambient_C=5),
    "beside 100 mm, unequal pads": order(beside(100), pad(), pad(150, 4)),
    "perfect contact, preheated": order((fill(60),), ideal()),
    "perfect contact, other face bare": order((fill(40),), pad(contact_resistance_m2K_W=0), INSULATED),
    "a programme": order(
        through(60), pad(150, None, programme=[
            {"at_min": 0, "temperature_C": 20}, {"at_min": 20, "temperature_C": 150},
            {"at_min": 60, "temperature_C": 150}, {"at_min": 70, "temperature_C": 130},
        ])
    ),
}  # fmt: skip


@pytest.mark.parametrize("wanted", PLAIN.values(), ids=PLAIN.keys())
def test_a_wall_that_does_not_vary_cures_as_its_modes_say(wanted: CureOrder) -> None:
    """Power-off, overcure, temperatures and release of every schedule, against the path that has no step error."""
    exact, stepped = (plan_courses(wall, ("safe", "economy", "floor")) for wall in (Wall(wanted), marched(wanted)))
    assert stepped.keys() == exact.keys()
    for name, course in exact.items():
        assert stepped[name].power_off == pytest.approx(course.power_off, rel=1e-4)
        same = follow(marched(wanted), course.power_off)
        assert same.after_cooling == pytest.approx(course.after_cooling, rel=1e-4)
        assert same.profile == pytest.approx(course.profile, abs=2e-3)
        assert same.cooling.time_to(100) == pytest.approx(course.cooling.time_to(100), rel=1e-4)


def error_of(wanted: CureOrder, set_to: Callable[[pytest.MonkeyPatch], None], exact: float) -> float:
    with pytest.MonkeyPatch.context() as patch:
        set_to(patch)
        wall = Wall(wanted)
        return abs(float(wall.heating.temperatures(np.array([9000.0]))[24, 0]) - exact)


def test_the_error_falls_at_least_with_the_square_of_the_step() -> None:
    """Even steps of 240, 120 and 60 s against 7.5 s, everything varying; third order is found."""
    wanted = order((varied(80, conductivity=-0.001, capacity=0.002, reaction=20),), pad(rate=2))

    def even(seconds: float) -> Callable[[pytest.MonkeyPatch], None]:
        def set_to(patch: pytest.MonkeyPatch) -> None:
            patch.setattr(march, "ERROR", 1e9)
            patch.setattr(march, "FIRST", seconds)
            patch.setattr(march, "LONGEST", seconds)

        return set_to

    with pytest.MonkeyPatch.context() as patch:
        even(7.5)(patch)
        exact = float(Wall(wanted).heating.temperatures(np.array([9000.0]))[24, 0])
    errors = [error_of(wanted, even(seconds), exact) for seconds in (240, 120, 60)]
    assert errors[0] < 0.05
    assert errors[0] / errors[1] > 3.8
    assert errors[1] / errors[2] > 3.8


def test_the_error_falls_with_the_square_of_the_element() -> None:
    wanted = order((varied(80, conductivity=-0.002, capacity=0.004, reaction=20),), pad())
    times = [plan_courses(Wall(wanted, elements), ("safe",))["safe"].power_off for elements in (12, 24, 48, 192)]
    errors = [abs(time / times[-1] - 1) for time in times[:3]]
    assert errors[2] < 3e-4
    assert errors[0] / errors[1] == pytest.approx(4, abs=0.5)
    assert errors[1] / errors[2] == pytest.approx(4.3, abs=0.5)  # 192 elements are not exact either


@pytest.mark.parametrize("angle", [180, 150, 120, 90])
def test_no_mode_grows(angle: float) -> None:
    """|R(z)| <= 1 wherever a mode of a chain may lie, and 0 for the stiffest; R written out by hand.

    Taken off after one smoothing, the error would make the stiffest modes grow by 1.6 a step.
    """
    z = np.logspace(-3, 8, 2000) * np.exp(1j * np.deg2rad(angle))
    d, w = march.IMPLICIT, march.EXPLICIT
    middle = (1 + d * z) / (1 - d * z)
    end = (1 + w * z + w * z * middle) / (1 - d * z)
    missed = z * (march.EMBEDDED[0] + march.EMBEDDED[1] * middle + march.EMBEDDED[2] * end)
    factor = end - missed / (1 - d * z) ** 2
    assert np.abs(factor).max() <= 1 + 1e-12
    assert abs(factor[-1]) < 1e-6
    assert abs((end - missed / (1 - d * z))[-1]) == pytest.approx(1.609, abs=1e-3)


@pytest.mark.parametrize("z", [-0.3, -3.0, -30.0])
def test_one_step_is_the_function_written_out_by_hand(z: float) -> None:
    """Two like nodes between two like ends, both 1 K above them: one mode, and the R(z) of the test above."""
    none = np.zeros(0)
    chain = Chain(
        np.full(3, 2.0), np.zeros(3), np.full(2, 50.0), np.zeros(2), Sites(none.astype(int), none, none, none)
    )
    step = -z * 50 / 2
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(march, "ERROR", 1e9)
        patch.setattr(march, "FIRST", step)
        patch.setattr(march, "LONGEST", step)
        end = March(chain, np.full(2, 81.0), none, lambda _: np.full(2, 80.0), ()).at(np.array([step]))[0][:, 0] - 80
    d, w = march.IMPLICIT, march.EXPLICIT
    middle = (1 + d * z) / (1 - d * z)
    plain = (1 + w * z + w * z * middle) / (1 - d * z)
    missed = z * (march.EMBEDDED[0] + march.EMBEDDED[1] * middle + march.EMBEDDED[2] * plain)
    assert end == pytest.approx(plain - missed / (1 - d * z) ** 2, abs=1e-12)


def test_a_steady_wall_between_two_temperatures_is_exact() -> None:
    """Carslaw & Jaeger 1.6 (from memory), Kirchhoff's transform: with k = k0 (1 + b t), k0 (t + b t^2 / 2) is linear.

    So at every depth t is the root of that, t counted from 80 °C; the flow follows from both faces.
    """
    change = 0.004
    wall = Wall(order((varied(40, conductivity=change),), ideal(180), ideal(90)))
    profile = wall.heating.temperatures(np.array([5e5]))[:, 0]
    potential = [t + change / 2 * t**2 for t in (100.0, 10.0)]
    linear = np.interp(wall.stack.depth, [0, 0.04], potential)
    assert profile - 80 == pytest.approx((np.sqrt(1 + 2 * change * linear) - 1) / change, abs=1e-3)
    assert profile[24] == pytest.approx(140.0, abs=10)
    assert abs(profile[24] - 135) > 1  # not the middle, as with constant conductivity


def test_without_a_way_out_the_heat_of_reaction_warms_the_rubber_up() -> None:
    """By hand: dT = dH / c, 20 kJ/kg over 1850 J/(kg K), less the 10^-E of it that is still to come."""
    wall = Wall(order((varied(30, reaction=20),), pad()))
    closed = Face(False, 0.0, (0.0,), (100.0,), 0.0, 0.0)
    heating = MarchedHeating(vary(wall.order.layers, wall.stack, wall.points), (closed, closed), 100.0, wall.begun.cure)
    times = np.array([3600.0, 36000.0, 4e5])
    cured = np.array([heating.cure(wall.points, np.array([0.0, time]))[0, -1] for time in times])
    rise = heating.temperatures(times) - 100
    assert rise == pytest.approx(np.tile(2e4 / 1850 * (1 - 10**-cured), (len(rise), 1)), rel=2e-4)
    assert rise[0, -1] == pytest.approx(10.811, abs=1e-3)


def test_with_a_heat_capacity_that_grows_it_warms_it_up_by_less() -> None:
    """By hand: c0 (t + g t^2 / 2) gains dH, t counted from 80 °C."""
    wall = Wall(order((varied(30, capacity=0.005, reaction=50),), pad()))
    closed = Face(False, 0.0, (0.0,), (120.0,), 0.0, 0.0)
    heating = MarchedHeating(vary(wall.order.layers, wall.stack, wall.points), (closed, closed), 120.0, wall.begun.cure)
    gained = 40 + 0.0025 * 40**2 + 5e4 / 1850
    final = 80 + (np.sqrt(1 + 0.01 * gained) - 1) / 0.005
    assert heating.temperatures(np.array([2e5])) == pytest.approx(final, abs=1e-3)


def test_all_heat_comes_from_somewhere() -> None:
    """What flows in through the outermost elements and the heat of reaction are what the nodes between have gained."""
    wall = Wall(order((varied(80, conductivity=-0.001, capacity=0.002, reaction=20),), pad(), pad(150, 4)))
    times = np.linspace(0, 9000, 20001)
    warm = wall.heating.temperatures(times) - 80
    conductance = 0.25 / (0.08 / 48)

    def through_element(a: int, b: int) -> np.ndarray:
        return conductance * (1 - 0.001 * (warm[a] + warm[b]) / 2) * (warm[a] - warm[b])

    flow = simpson(through_element(0, 1) + through_element(-1, -2), x=times)
    capacity = 1120 * 1850 * 0.08 / 48
    stored = capacity * (warm + 0.001 * warm**2)[1:-1]
    cured = wall.heating.cure(wall.points, np.array([0.0, 9000.0]))[1:-1, -1]
    reaction = (1120 * 2e4 * 0.08 / 48 * (1 - 10**-cured)).sum()
    assert flow + reaction == pytest.approx((stored[:, -1] - stored[:, 0]).sum(), rel=1e-5)
    assert reaction > 0.05 * flow


def test_all_heat_that_the_cool_down_loses_was_there() -> None:
    wanted = order((varied(60, conductivity=-0.001, capacity=0.002),), pad())
    cooling = follow(Wall(wanted), 6000.0).cooling
    times = np.linspace(0, 7200, 20001)
    wall, pads = cooling.temperatures(times) - 80, cooling.pads(times)
    lost = simpson(10 * (pads - 20).sum(axis=0), x=times)
    weight = np.full(len(wall), 1120 * 1850 * 0.06 / 48)
    weight[[0, -1]] /= 2
    stored = weight @ (wall + 0.001 * wall**2) + 20e3 * pads.sum(axis=0)
    assert lost == pytest.approx(stored[0] - stored[-1], rel=1e-5)


def test_a_moment_is_the_same_whatever_was_asked_for_before() -> None:
    wanted = order((reacting(through(60)[0], 20), *through(60)[1:]), pad())
    times = np.array([700.0, 1500.0, 9000.0])
    together = Wall(wanted).heating.temperatures(times)
    one = Wall(wanted).heating
    alone = np.column_stack([one.temperatures(times[i : i + 1]) for i in (0, 2, 1)])
    assert together == pytest.approx(alone[:, [0, 2, 1]], abs=1e-9)
