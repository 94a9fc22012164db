"""The worked example, all of its figures invented: every row of its tables, to the cent, at every door."""

import pytest

from mendbook.terms.worth import Worth
from mendbook.triage import Shop, judge
from mendbook.worth.break_evens import find_break_evens
from mendbook.worth.sums import work_out, work_out_retread
from tests.worth.invented import WRITTEN, case, figures


def cents(figure: object) -> float:
    return round(float(figure), 2)  # type: ignore[arg-type]  # an array of one


def test_the_sums_of_the_first_table() -> None:
    sums = work_out(figures())
    assert cents(sums.remaining) == 3416.20
    assert (cents(sums.survival), cents(1 - sums.survival)) == (0.66, 0.34)
    assert cents(sums.hours) == 2728.94
    assert cents(sums.new_rate) == 2.45
    assert cents(sums.gross) == 3323.84
    assert cents(sums.repair) == 3235.18
    assert cents(sums.repair_rate) == 1.19
    assert cents(sums.value) == 3441.93


def test_the_break_evens_of_the_first_table() -> None:
    found = {one.name: one.at for one in find_break_evens(figures())}
    assert cents(found["repair price"]) == 5401.93
    assert cents(found["hours bought"]) == 1322.22
    assert cents(found["tread ratio"]) == 0.21
    assert cents(found["early loss"]) == 0.43


@pytest.mark.parametrize(
    ("changed", "hours", "rate", "value"),
    [
        ({"tread_ratio": 0.40}, 1989.95, 1.51, 1870.66),
        ({"tread_ratio": 0.20}, 1060.00, 2.55, -106.62),
        ({"repair_price": 3500.0}, 2728.94, 1.75, 1901.93),
        ({"failure_cost": 15000.0}, 2728.94, 2.73, -762.47),
        ({"mean_life": 4000.0}, 2205.36, 1.79, 1445.00),
        ({"early_loss": 0.15}, 2416.25, 1.43, 2459.73),
        ({"new_price": 10000.0}, 2728.94, 1.19, 1329.20),
        ({"new_price": 20000.0}, 2728.94, 1.19, 5730.72),
    ],
)
def test_the_second_table(changed: dict[str, float], hours: float, rate: float, value: float) -> None:
    sums = work_out(figures(**changed))
    assert (cents(sums.hours), cents(sums.repair_rate), cents(sums.value)) == (hours, rate, value)


def test_the_retread_path() -> None:
    retread = work_out_retread(figures())
    assert (cents(retread.hours), cents(retread.cost), cents(retread.rate)) == (3551.22, 10720.73, 3.02)


def worth(shop: Shop, **money: str) -> Worth:
    found = judge(case(shop.book.vocabulary, WRITTEN | money), shop).worth
    assert found is not None
    return found


def test_a_case_file_gives_the_same(shop: Shop) -> None:
    found = worth(shop)
    assert (found.value, found.gross, found.cost, found.ceiling) == (3441.93, 3323.84, 3235.18, 5401.93)
    assert (found.hours, found.remaining) == (pytest.approx(2728.94, abs=0.005), pytest.approx(3416.20))
    rates = {choice.name: choice.rate for choice in found.choices}
    assert cents(rates["repair"]) == 1.19
    assert cents(rates["new tyre"]) == 2.45
    assert cents(rates["repair and retread"]) == 3.02
    assert found.best == "repair"
    assert found.answer.startswith("Repair it: 3,441.93 EUR cheaper than a new tyre over the 2,729 h")


@pytest.mark.parametrize(
    ("money", "value"),
    [
        ({"tread ratio": "0.40"}, 1870.66),
        ({"tread ratio": "20 %"}, -106.62),
        ({"repair price": "3500,00"}, 1901.93),
        ({"failure cost": "15000"}, -762.47),
        ({"mean life": "4000 h"}, 1445.00),
        ({"early loss": "15 %"}, 2459.73),
        ({"new price": "10000"}, 1329.20),
        ({"new price": "20000.00"}, 5730.72),
    ],
)
def test_a_case_file_with_one_thing_changed(shop: Shop, money: dict[str, str], value: float) -> None:
    found = worth(shop, **money)
    assert found.value == value
    assert (found.best == "repair") == (value > 0)
