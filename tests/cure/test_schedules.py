"""Three ways to count the cool-down. Figures without another source were computed once by an earlier program of our
own, on another grid, and are held here as closely as they were written down."""

import numpy as np
import pytest
from scipy.optimize import brentq

from mendbook.cure import NeverCuredError, compute
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import MARGIN, plan_courses, power_off_time
from mendbook.terms.cure_order import CureOrder
from tests.cure.walls import INSULATED, beside, compound, fill, order, pad, step, through

ALL = ("safe", "economy", "floor")


def minutes(wanted: CureOrder, elements: int = 48) -> dict[str, float]:
    return {name: course.power_off / 60 for name, course in plan_courses(Wall(wanted, elements), ALL).items()}


@pytest.mark.parametrize(
    ("thickness", "economy", "floor"), [(30, 66.1, 50.7), (60, 138.6, 111.0), (100, 280.1, 226.7), (150, 527.1, 415.1)]
)
def test_schedules_of_the_usual_wall(thickness: float, economy: float, floor: float) -> None:
    found = minutes(order(through(thickness), pad()))
    assert found["economy"] == pytest.approx(economy, rel=1e-3)
    # The earlier program stopped counting at about 75 °C: its floor is a little later.
    assert found["floor"] == pytest.approx(floor, rel=5e-3)
    assert found["floor"] < floor


@pytest.mark.parametrize("name", ["economy", "floor"])
@pytest.mark.parametrize("wanted", [order(through(30), pad()), order(beside(100), pad(150), ambient_C=5)])
def test_the_moment_is_the_one_at_which_the_slowest_point_reaches_its_target(name: str, wanted: CureOrder) -> None:
    """Found again by another way: scipy's root finder over whole courses, cure counted by the trapezoid rule."""
    wall = Wall(wanted, 96)
    down = wall.cool_down if name == "floor" else wall.quick_cool_down
    target, floor = (1.0, 0.0) if name == "floor" else (1.25, 110.0)
    place = np.linspace(0, 1, 3001)
    times = down.end * place**2

    def excess(power_off: float) -> float:
        temperatures = wall.let_cool(power_off, down).temperatures(times)
        speed = wall.points.speed(temperatures) * (temperatures[wall.points.nodes] > floor)
        coasted = ((speed[:, 1:] + speed[:, :-1]) / 2 * np.diff(times)).sum(axis=1)
        cure = follow(wall, power_off).at_power_off + coasted
        return float(cure[wall.points.must_cure].min()) - target

    safe = power_off_time(wall)
    by_root = brentq(excess, 0.3 * safe, 1.2 * safe, rtol=1e-7)
    assert plan_courses(wall, (name,))[name].power_off == pytest.approx(by_root, rel=2e-4)


@pytest.mark.parametrize("thickness", [20, 60, 150])
def test_the_default_grid_errs_by_less_than_half_a_per_mille(thickness: float) -> None:
    wanted = order(through(thickness), pad())
    coarse, fine = minutes(wanted), minutes(wanted, 384)
    for name in ALL:
        assert coarse[name] == pytest.approx(fine[name], rel=5e-4)


def test_a_quicker_cool_down_asks_for_more_heat_and_a_slower_one_for_less() -> None:
    """Figures of the earlier program for 60 mm: 3, 10 and 30 W/(m2 K) from the back of the pads."""
    for loss, expected in [(3, 81.1), (10, 111.0), (30, 126.5)]:
        assert minutes(order(through(60), pad(loss_W_m2K=loss)))["floor"] == pytest.approx(expected, rel=6e-3)


def test_forced_cooling_switches_to_heating_alone_with_a_margin() -> None:
    wanted = order(through(60), pad(), schedule="economy", cooling="fan")
    sheet = compute(wanted)
    assert sheet.schedule == "safe"
    assert [schedule.name for schedule in sheet.schedules] == ["safe", "floor"]
    assert sheet.target == MARGIN
    assert sheet.minutes_from_switch_on == compute(order(through(60), pad(), target=1.25)).minutes_from_switch_on
    assert sheet.minutes_to_release < compute(order(through(60), pad(), target=1.25)).minutes_to_release
    assert any("Cooled by a fan" in warning for warning in sheet.warnings)
    assert not any("by itself" in caution for caution in sheet.cautions)


def test_an_order_may_ask_for_economy() -> None:
    usual, sparing = (compute(order(through(80), pad(), schedule=name)) for name in ("safe", "economy"))
    assert sparing.minutes_from_switch_on < usual.minutes_from_switch_on
    assert sparing.notes[0].startswith("Economy schedule")
    assert sparing.target == MARGIN
    assert {s.name: s for s in usual.schedules} == {s.name: s for s in sparing.schedules}
    assert sparing.outside is not None
    assert usual.outside is not None
    assert sparing.outside.multiples < usual.outside.multiples


def test_most_of_the_cure_of_a_thick_wall_comes_after_power_off() -> None:
    """Share of the slowest point's cure with all of it counted, computed by the earlier program."""
    for thickness, share in [(20, 0.58), (60, 0.77), (150, 0.84)]:
        floor = compute(order(through(thickness), pad())).schedules[2]
        assert floor.after_power_off == pytest.approx(share, abs=0.02)


def test_one_schedule_out_of_reach_leaves_the_others() -> None:
    """Asked for 1.25 times as much this wall needs more than 72 h; 1 times as much is reached before."""
    slow = (fill(200, compound=compound(90)),)
    low = pad(100)
    wanted = order(slow, low, target=1.0)
    safe = power_off_time(Wall(wanted))
    assert safe < 72 * 3600
    with pytest.raises(NeverCuredError, match=r"1\.25 x t90"):
        power_off_time(Wall(order(slow, low, target=1.25)))
    assert [s.name for s in compute(wanted).schedules] == ["safe", "floor"]
    sparing = compute(order(slow, low, schedule="economy"))
    assert sparing.schedule == "safe"
    assert any("saves nothing here" in warning for warning in sparing.warnings)


def test_economy_is_followed_only_where_it_saves() -> None:
    """A thin wall cools before anything counts, and the quarter on top of the target is all that is left of it."""
    for wanted in (order(through(10), pad()), order((fill(30),), pad(), INSULATED, ambient_C=30)):
        usual = compute(wanted)
        ordered = compute(wanted.model_copy(update={"schedule": "economy"}))
        assert ordered.minutes_from_switch_on <= usual.minutes_from_switch_on
        assert {s.name: s for s in ordered.schedules} == {s.name: s for s in usual.schedules}
        alone = compute(wanted.model_copy(update={"schedule": "economy"}), beside=False)
        assert alone.minutes_from_switch_on == ordered.minutes_from_switch_on
    assert "economy" not in [schedule.name for schedule in compute(order(through(10), pad())).schedules]


def test_a_timer_that_would_start_after_power_off_is_warned_of() -> None:
    late = programme((0, 20), (15, 125), (600, 125), (640, 150))
    sheet = compute(late)
    assert sheet.timer_starts_at_min > sheet.minutes_from_switch_on
    assert any("when power is off already" in warning for warning in sheet.warnings)


# Programmes: any course of a pad in straight lines.


def programme(*points: tuple[float, float]) -> CureOrder:
    bends = [{"at_min": at, "temperature_C": reads} for at, reads in points]
    wanted = order(through(60), pad()).model_dump()
    for side in ("outside", "inside"):
        wanted[side] = {"programme": bends}
    return CureOrder.model_validate(wanted)


def test_a_ramp_written_as_a_programme_is_the_same_ramp() -> None:
    written = compute(programme((0, 20), (20, 140)))
    assert written.schedules == compute(order(through(60), pad())).schedules


def test_a_programme_that_cuts_a_ramp_in_two_changes_nothing() -> None:
    whole, cut = (power_off_time(Wall(programme(*points))) for points in (
        [(0, 20), (20, 140)], [(0, 20), (7, 62), (20, 140)],
    ))  # fmt: skip
    assert cut == pytest.approx(whole, rel=1e-6)


def test_a_programme_takes_its_highest_point_for_the_setpoint() -> None:
    stepped = programme((0, 20), (15, 110), (60, 110), (70, 140))
    assert stepped.outside.setpoint_C == 140
    # 110 °C is passed at 60 min, and 120 °C a third of the way on to 140 °C.
    assert Wall(stepped).timer_start / 60 == pytest.approx(60 + 10 / 3)


def test_a_programme_that_cools_again_counts_what_it_does() -> None:
    held, let_down = (power_off_time(Wall(programme(*points))) for points in (
        [(0, 20), (20, 140)], [(0, 20), (20, 140), (60, 140), (70, 125)],
    ))  # fmt: skip
    assert let_down > held


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([(5, 20), (20, 140)], "begins 5 min after switch-on"),
        ([(0, 20), (20, 140), (15, 150)], "goes back to 15 min"),
        ([(0, 20), (0, 140)], "goes back to 0 min"),
    ],
)
def test_a_programme_out_of_order_is_refused(points: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        programme(*points)


def test_a_programme_leaves_no_room_for_a_rate() -> None:
    bends = [{"at_min": 0, "temperature_C": 20}, {"at_min": 20, "temperature_C": 140}]
    with pytest.raises(ValueError, match="Leave those out"):
        pad(140, 6, programme=bends)
    with pytest.raises(ValueError, match="Leave setpoint_C out"):
        pad(150, None, programme=bends)


def test_preheated_pads_are_a_programme_of_one_point() -> None:
    assert compute(programme((0, 140))).schedules == compute(order(through(60), step())).schedules
