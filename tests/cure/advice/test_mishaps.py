"""Mishaps, against scipy's Radau on another grid, against orders of their own, and at their two ends."""

from itertools import pairwise
from math import floor

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from mendbook.cure import compute
from mendbook.cure.advice.mishaps import mishaps
from mendbook.cure.advice.programmes import cut_power
from mendbook.cure.course import Begun, Wall, follow
from mendbook.cure.schedules import power_off_time
from mendbook.terms.cure_advice import WhatIf
from mendbook.terms.cure_order import CureOrder
from tests.cure.lines import Lines
from tests.cure.walls import INSULATED, beside, order, pad, step, through, varied

WANTED = order(through(60), pad())


def found(wanted: CureOrder) -> dict[str, WhatIf]:
    return {one.name: one for one in mishaps(wanted, compute(wanted))}


def named(what_ifs: dict[str, WhatIf], *words: str) -> WhatIf:
    (one,) = (one for name, one in what_ifs.items() if all(word in name for word in words))
    return one


def run(lines: Lines, state: np.ndarray, *stops: float) -> np.ndarray:
    """Return the state of a wall under heat, carried on from the first to the last of `stops` [s]."""
    cells = len(lines.capacity)
    for start, end in pairwise(stops):
        solved = solve_ivp(
            lines.heating, (start, end), state, method="Radau", rtol=1e-7, atol=1e-7,
            jac_sparsity=lines.pattern(cells, 0), t_eval=[end],
        )  # fmt: skip
        state = solved.y[:, -1]
    return state


def test_a_pad_dead_half_way_by_the_method_of_lines() -> None:
    """The inside pad loses touch half-way: a contact of 1e6 m2 K/W is as good as insulation."""
    told = named(found(WANTED), "dead half-way, insulated")
    assert told.name.startswith("inside")
    assert told.minutes_from_switch_on is not None
    half = 30 * compute(WANTED).minutes_from_switch_on
    before = Lines(WANTED, 3)
    state = before.heat(half)
    lost = WANTED.inside.model_copy(update={"contact_resistance_m2K_W": 1e6})
    after = Lines(WANTED.model_copy(update={"inside": lost}), 3)
    ended = run(after, state, half, 60 * told.minutes_from_switch_on)
    assert ended[len(after.capacity) :][after.must].min() == pytest.approx(1, abs=4e-3)
    kept = run(after, state, half, 2 * half)
    assert told.by_clock.at_power_off == pytest.approx(kept[len(after.capacity) :][after.must].min(), abs=2e-3)


class Cut(Lines):
    """Pads that rise again after a power cut from what they have cooled to."""

    def __init__(self, wanted: CureOrder, back_on: float, coldest: list[float]) -> None:
        super().__init__(wanted, 3)
        self.back_on, self.coldest = back_on, coldest

    def pad(self, side: int, time: float) -> float:
        return min(140.0, self.coldest[side] + 0.1 * (time - self.back_on))


def test_a_power_cut_by_the_method_of_lines() -> None:
    """20 min without power half-way, the pads as states that cool; then 6 °C/min up again."""
    told = named(found(WANTED), "power cut")
    assert told.minutes_from_switch_on is not None
    half, cut = 30 * compute(WANTED).minutes_from_switch_on, 1200.0
    before = Lines(WANTED, 3)
    cells = len(before.capacity)
    cooled = before.cool(before.heat(half), half, cut)
    ends = [float(cooled[0]), float(cooled[cells + 1])]
    state = np.concatenate([cooled[1 : cells + 1], cooled[cells + 2 :]])
    after = Cut(WANTED, half + cut, ends)
    bends = sorted({half + cut + (140 - end) / 0.1 for end in ends})
    ended = run(after, state, half + cut, *bends, 60 * told.minutes_from_switch_on)
    assert ended[cells:][after.must].min() == pytest.approx(1, abs=4e-3)


def test_a_cut_shows_in_the_pads() -> None:
    changed = cut_power(Wall(WANTED), 3600.0, 1200.0)
    assert changed is not None
    bends = changed.outside.programme
    assert [bend.at_min for bend in bends[:2]] == [0, pytest.approx(20)]
    assert bends[2].at_min == 60
    assert bends[-2].at_min == pytest.approx(80)
    assert 85 < bends[-2].temperature_C < 120
    assert bends[-1].temperature_C == 140
    assert cut_power(Wall(changed), 3600.0, 1200.0) is None
    Wall(CureOrder.model_validate(changed.model_dump()))  # a programme that an order may hold


def test_pads_without_a_rate_come_back_at_the_usual_one() -> None:
    changed = cut_power(Wall(order(through(60), step(), pad(130, 2))), 3600.0, 1200.0)
    assert changed is not None
    for one, rate in ((changed.outside, 6), (changed.inside, 2)):
        low, high = one.programme[-2:]
        assert (high.temperature_C - low.temperature_C) / (high.at_min - low.at_min) == pytest.approx(rate)


def test_a_pad_dead_from_switch_on_is_an_order_with_one_pad() -> None:
    told = named(found(WANTED), "dead from switch-on, insulated")
    each = [
        compute(order(through(60), *pads)).minutes_from_switch_on for pads in ((pad(), INSULATED), (INSULATED, pad()))
    ]
    assert told.minutes_from_switch_on == max(each)
    assert told.name.startswith("outside" if each[1] > each[0] else "inside")
    assert told.minutes_from_timer is None
    assert told.by_timer is None


def test_a_bare_face_never_cures_and_says_so() -> None:
    told = named(found(order(through(80), pad())), "dead from switch-on, bare")
    assert told.minutes_from_switch_on is None
    assert told.more_minutes is None
    assert told.by_clock.is_short
    assert told.by_clock.after_cooling < 0.1


@pytest.mark.parametrize("wanted", [WANTED, order(beside(100), pad(150, 3), pad(130), schedule="economy")])
def test_a_pad_is_missed_less_half_way_than_from_the_start(wanted: CureOrder) -> None:
    told, ordered = found(wanted), compute(wanted).minutes_from_switch_on
    early, late = (named(told, f"dead {when}, insulated") for when in ("from switch-on", "half-way"))
    assert early.minutes_from_switch_on is not None
    assert late.minutes_from_switch_on is not None
    assert ordered < late.minutes_from_switch_on < early.minutes_from_switch_on
    assert early.by_clock.at_power_off < late.by_clock.at_power_off
    assert late.by_timer == late.by_clock or late.by_timer is not None


@pytest.mark.parametrize("wanted", [WANTED, order((varied(30, -0.001, 0.002, 10),), pad()), order(through(40), step())])
def test_a_wall_that_goes_on_is_as_if_it_had_never_stopped(wanted: CureOrder) -> None:
    """Cut in two anywhere, heating ends as in one piece: also where properties vary and rubber gives off heat."""
    whole = Wall(wanted)
    off = power_off_time(whole)
    for share in (0.05, 0.3, 0.8):
        at = share * off
        so_far = follow(whole, at)
        outside, inside = (face.later(at) for face in whole.faces)
        rest = Wall(wanted, begun=Begun((outside, inside), so_far.profile, so_far.at_power_off))
        assert at + power_off_time(rest) == pytest.approx(off, rel=1e-4)


def test_what_has_cured_already_needs_no_more_heat() -> None:
    whole = Wall(WANTED)
    so_far = follow(whole, 1.2 * power_off_time(whole))
    outside, inside = (face.later(1.2 * power_off_time(whole)) for face in whole.faces)
    assert power_off_time(Wall(WANTED, begun=Begun((outside, inside), so_far.profile, so_far.at_power_off))) == 0


def test_opened_at_once_the_safe_cure_has_its_target_and_little_more() -> None:
    told, usual = named(found(WANTED), "clamp off"), compute(WANTED)
    assert told.more_minutes == 0
    assert told.by_clock.at_power_off == pytest.approx(1, abs=2e-3)
    assert told.by_clock.at_power_off < told.by_clock.after_cooling < usual.layers[0].least
    assert not told.by_clock.is_short
    assert "up to 140 °C" in told.remark
    assert f"boils at {floor(99.97)} °C" in told.remark
    assert "boils at 89 °C" in named(found(order(through(60), pad(), altitude_m=3000)), "clamp off").remark


def test_opened_at_once_the_economy_cure_falls_short() -> None:
    told = named(found(order(through(60), pad(), schedule="economy")), "clamp off")
    assert told.by_clock.is_short
    assert told.by_clock.at_power_off < 1
    assert told.minutes_from_switch_on == compute(WANTED).minutes_from_switch_on


def test_a_fan_asks_for_the_margin_of_forced_cooling() -> None:
    told = named(found(WANTED), "fan")
    assert told.minutes_from_switch_on == compute(order(through(60), pad(), cooling="fan")).minutes_from_switch_on
    assert told.by_clock.is_short
    assert told.by_clock.at_power_off == pytest.approx(1, abs=2e-3)
    assert told.by_clock.after_cooling < named(found(WANTED), "clamp off").by_clock.after_cooling * 1.2
    assert not any("fan" in name for name in found(order(through(60), pad(), cooling="fan")))


def test_one_pad_and_programmes_leave_some_out() -> None:
    assert not any("dead" in name for name in found(order(through(30), pad(), INSULATED)))
    bends = [{"at_min": 0, "temperature_C": 20}, {"at_min": 20, "temperature_C": 140}]
    steered = order(through(30), pad(140, None, programme=bends))
    assert not any("cut" in name for name in found(steered))
    assert any("dead half-way" in name for name in found(steered))
