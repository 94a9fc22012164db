"""One stage or two. The table was computed once by an earlier program of our own, cool-down to 100 °C after each."""

import pytest

from mendbook.cure import compute
from mendbook.cure.advice.stages import compare_stages
from mendbook.terms.cure_advice import Heat, Stages
from mendbook.terms.cure_order import CureOrder
from tests.cure.walls import INSULATED, beside, fill, order, pad, through


def stages(wanted: CureOrder) -> Stages | None:
    return compare_stages(wanted, compute(wanted))


def clock(*parts: Heat) -> float:
    return sum(part.minutes_from_switch_on + part.minutes_to_release for part in parts)


@pytest.mark.parametrize(
    ("thickness", "one", "two", "one_face", "two_face"),
    [
        (40, 156, 255, 3.8, 5.7), (60, 248, 382, 6.5, 9.2), (80, 358, 508, 9.9, 13.2), (100, 484, 599, 13.8, 17.6),
        (150, 858, 972, 25.9, 30.3),
    ],
)  # fmt: skip
def test_one_stage_wins_on_time_and_on_the_face(
    thickness: float, one: float, two: float, one_face: float, two_face: float
) -> None:
    found = stages(order(through(thickness), pad()))
    assert found is not None
    assert clock(found.one) == pytest.approx(one, abs=1.5)
    assert clock(found.first, found.second) == pytest.approx(two, rel=5e-3)
    assert found.one_outside == pytest.approx(one_face, abs=0.06)
    assert found.two_outside == pytest.approx(two_face, abs=0.06)
    assert clock(found.one) < clock(found.first, found.second)


@pytest.mark.parametrize(("thickness", "alone", "both"), [(40, 116, 72), (100, 161, 151)])
def test_the_second_stage_from_the_inside_alone_takes_longer(thickness: float, alone: float, both: float) -> None:
    found = stages(order(through(thickness), pad()))
    assert found is not None
    assert found.second_from_inside is not None
    assert found.second.minutes_from_switch_on == pytest.approx(both, abs=1.5)
    assert found.second_from_inside.minutes_from_switch_on == pytest.approx(alone, rel=0.02)


def test_each_stage_is_what_its_own_order_gives() -> None:
    whole = order(beside(80), pad())
    found = stages(whole)
    assert found is not None
    first = compute(whole.model_copy(update={"layers": whole.layers[:3]}))
    assert found.first.minutes_from_switch_on == first.minutes_from_switch_on
    again = tuple(layer.model_copy(update={"cured_before": True}) for layer in whole.layers[:3]) + whole.layers[3:]
    assert found.second.minutes_from_switch_on == compute(order(again, pad())).minutes_from_switch_on


def test_an_order_without_both_has_no_stages() -> None:
    assert stages(order((fill(60),), pad())) is None
    laid_before = tuple(layer.model_copy(update={"cured_before": layer.name == "fill"}) for layer in through(60))
    assert stages(order(laid_before, pad())) is None
    assert stages(order((fill(20), fill(8, name="reinforcement", cured_before=True)), pad())) is None


def test_one_pad_has_no_second_way() -> None:
    found = stages(order(through(30), pad(), INSULATED))
    assert found is not None
    assert found.second_from_inside is None
