"""Against published formulas and tables of engineering economy. Each says where it is from, and whether it was read."""

import numpy as np
import numpy_financial as npf
import pytest

from mendbook.worth.streams import force_of_interest, present, stream
from mendbook.worth.sums import work_out, work_out_retread
from mendbook.worth.yardstick import hourly_repair, hourly_wear
from tests.worth.invented import figures

YEAR = np.asarray(1.0)


def force(rate: float) -> np.ndarray:
    return force_of_interest(np.asarray(rate), YEAR)


def annuity(rate: float, years: float) -> float:
    """P/A of yearly payments out of our steady stream: one paid a year later is a stream of i / ln(1 + i) meanwhile."""
    return float(stream(force(rate), np.asarray(years)) * np.log1p(rate) / rate)


def test_hourly_wear_of_the_corps_of_engineers() -> None:
    # US Army Corps of Engineers, EP 1110-1-8, 31 July 2003, worksheets 5.e and 5.f; read in an excerpt.
    wear = hourly_wear(10_000.0, 3000.0)
    assert wear == pytest.approx(2.7778, abs=5e-5)
    assert hourly_repair(wear) == pytest.approx(0.4167, abs=5e-5)


@pytest.mark.parametrize(("price", "pays"), [(0.79, True), (0.81, False)])
def test_a_retread_pays_where_its_share_of_the_price_is_below_its_share_of_the_life(price: float, pays: bool) -> None:
    # The 1.5 and 1.8 of EP 1110-1-8, read as a retread for half the price and 80 % of the life (from memory).
    plain = dict.fromkeys(("fitting", "disposal", "casing_value", "repair_price", "failure_cost"), 0.0)
    f = figures(
        **plain, new_price=1.0, new_life=1.0, retread_price=price, retread_life=0.8, retread_early_loss=0.0,
        retread_mean_life=np.inf,
    )  # fmt: skip
    assert (work_out_retread(f).rate < work_out(f).new_rate) == pays


def test_the_tread_is_worth_what_a_straight_line_leaves() -> None:
    # Peurifoy & Schexnayder, Construction Planning, Equipment and Methods: P 350,000, N 5, m 3, S 0 -> book value
    # 140,000. The inputs were read in an excerpt.
    price, years, gone = 350_000.0, 5.0, 3.0
    assert price * (1.0 - gone / years) == 140_000.0
    f = figures(new_price=price, tread_ratio=1.0 - gone / years)
    assert float(f.new_price * f.tread_ratio) == pytest.approx(140_000.0)


@pytest.mark.parametrize("rate", [0.02, 0.05, 0.08])
@pytest.mark.parametrize("salvage", [0.0, 0.3])
def test_cost_an_hour_with_interest_is_depreciation_and_interest_on_the_mean_investment(
    rate: float, salvage: float
) -> None:
    # ASAE EP496/D497 as machinery cost sheets cite them (read): (P - S)/life + (P + S) i / 2 an hour. It leaves out
    # interest on interest, which over three years is less than 1 % of the whole.
    f = figures(
        fitting=0.0, disposal=0.0, casing_sold_new=1.0, new_price=1000.0, casing_value=salvage * 1000.0, new_life=3.0,
        use_a_year=1.0, discount_rate=rate,
    )  # fmt: skip
    ours = work_out(type(f)(**{**f.__dict__, "is_discounted": True})).new_rate
    theirs = (1.0 - salvage) * 1000.0 / 3.0 + (1.0 + salvage) * 1000.0 * np.log1p(rate) / 2.0
    assert float(ours) == pytest.approx(theirs, rel=0.01)
    assert float(ours) > theirs


@pytest.mark.parametrize(
    ("rate", "years", "factor"),
    [(0.10, 5, 3.7908), (0.08, 10, 6.7101), (0.06, 20, 11.4699), (0.12, 5, 3.6048), (0.05, 3, 2.7232)],
)
def test_series_present_worth_factors(rate: float, years: int, factor: float) -> None:
    # P/A of any table of compound interest, such as Blank & Tarquin, Engineering Economy; quoted from memory.
    assert annuity(rate, years) == pytest.approx(factor, abs=5e-5)
    assert annuity(rate, years) == pytest.approx(-npf.pv(rate, years, 1.0), rel=1e-12)


def test_single_payment_and_capital_recovery_factors() -> None:
    # P/F and A/P at 10 % over 5 years, the same tables; quoted from memory.
    assert float(present(force(0.10), np.asarray(5.0))) == pytest.approx(0.6209, abs=5e-5)
    assert 1.0 / annuity(0.10, 5) == pytest.approx(0.26380, abs=5e-6)
    assert 1.0 / annuity(0.10, 5) == pytest.approx(-npf.pmt(0.10, 5, 1.0), rel=1e-12)


@pytest.mark.parametrize("rate", [0.01, 0.07, 0.25])
@pytest.mark.parametrize("years", [1, 4, 30])
def test_identities(rate: float, years: int) -> None:
    # (F/P)(P/F) = 1, and a perpetuity is worth 1/i; identities of the same tables.
    assert float(present(force(rate), np.asarray(float(years)))) == pytest.approx((1 + rate) ** -years, rel=1e-12)
    assert float(present(force(rate), np.asarray(float(years)))) == pytest.approx(-npf.pv(rate, years, 0, 1.0))
    assert annuity(rate, 1e6) == pytest.approx(1.0 / rate, rel=1e-9)


def test_a_discounted_new_tyre_pays_itself_back() -> None:
    f = figures(discount_rate=0.09, use_a_year=2000.0)
    f = type(f)(**{**f.__dict__, "is_discounted": True})
    sums = work_out(f)
    years = np.arange(0.0, 6200.0, 0.5) + 0.25
    paid = 0.5 * float(sums.new_rate) * np.sum(1.09 ** -(years / 2000.0))
    owed = 14_800.0 + 420.0 + (310.0 - 0.4 * 900.0) * 1.09**-3.1
    assert paid == pytest.approx(owed, rel=1e-7)
