"""Time against thickness, and the straight-line rule beside it."""

import numpy as np
import pytest

from mendbook.cure import compute
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import power_off_time
from mendbook.cure.thicknesses import scale_wall, vary_thickness, wall_thickness
from mendbook.terms.cure_pad import Bend, Pad
from tests.cure.walls import INSULATED, fill, order, pad, through

SLAB = order((fill(80),), pad())


def test_the_curves_pass_through_the_wall_ordered_and_through_walls_written_by_hand() -> None:
    sheet = compute(SLAB)
    varied = vary_thickness(SLAB, sheet)
    for schedule in sheet.schedules:
        here = varied.minutes[schedule.name][varied.thickness_mm == 80]
        assert schedule.minutes_from_switch_on - 0.1 <= here[0] <= schedule.minutes_from_switch_on
    for at in (0, 4, -1):
        by_hand = power_off_time(Wall(order((fill(float(varied.thickness_mm[at])),), pad()))) / 60
        assert varied.minutes["safe"][at] == pytest.approx(by_hand, rel=1e-9)
    assert varied.ordered_mm == 80
    assert np.all(np.diff(varied.minutes["safe"]) > 0)


def test_a_scaled_wall_keeps_its_make_up() -> None:
    scaled = scale_wall(order(through(60), pad()), 1.5)
    assert wall_thickness(scaled) == pytest.approx(90)
    shares = [layer.thickness_mm / 60 for layer in through(60)]
    assert [layer.thickness_mm / 90 for layer in scaled.layers] == pytest.approx(shares)


def test_the_rule_is_right_where_it_is_calibrated_and_short_of_time_beyond() -> None:
    varied = vary_thickness(SLAB, compute(SLAB))
    rule = varied.rule
    assert rule is not None
    assert rule.timer_start == pytest.approx(100 / 6)
    at_40 = power_off_time(Wall(order((fill(40),), pad()))) / 60
    assert rule.minutes(np.array([40.0]))[0] == pytest.approx(at_40)
    assert rule.minutes_per_mm == pytest.approx((at_40 - 100 / 6) / 40)
    beyond = varied.thickness_mm > 40
    assert np.all(rule.minutes(varied.thickness_mm[beyond]) < varied.minutes["safe"][beyond])


def test_a_wall_cured_by_the_rule_gets_what_the_trial_says() -> None:
    rule = vary_thickness(SLAB, compute(SLAB)).rule
    assert rule is not None
    (trial,) = rule.trials
    course = follow(Wall(SLAB), 60 * (100 / 6 + 80 * rule.minutes_per_mm))
    assert trial.given == pytest.approx(course.power_off / 60)
    assert trial.needed == pytest.approx(power_off_time(Wall(SLAB)) / 60)
    assert trial.at_power_off == pytest.approx(course.at_power_off.min())
    assert trial.after_cooling == pytest.approx(course.after_cooling.min())
    # An earlier program of our own, reinforcement not scaled along: 0.26 at power-off, 1.19 when cold.
    assert 0.2 < trial.at_power_off < 0.3
    assert 1.1 < trial.after_cooling < 1.3


def test_a_thin_wall_is_told_of_a_thick_one_too() -> None:
    thin = order((fill(20),), pad())
    rule = vary_thickness(thin, compute(thin)).rule
    assert rule is not None
    here, thick = rule.trials
    assert (here.thickness_mm, thick.thickness_mm) == (20, 80)
    assert here.given > here.needed
    assert thick.given < thick.needed


def test_where_no_heating_suffices_the_curve_ends() -> None:
    bare = order((fill(20),), pad(130), Pad(present=False, loss_W_m2K=10))
    varied = vary_thickness(bare, compute(bare))
    assert np.isnan(varied.minutes["safe"][-1])
    assert np.isfinite(varied.minutes["safe"][varied.thickness_mm == 20]).all()


def test_no_rule_is_made_where_40_mm_are_cured_before_the_timer_starts() -> None:
    late = Pad(programme=(Bend(at_min=0, temperature_C=110), Bend(at_min=900, temperature_C=110),
                          Bend(at_min=910, temperature_C=150)))  # fmt: skip
    wanted = order((fill(30),), late, INSULATED)
    assert vary_thickness(wanted, compute(wanted)).rule is None
