"""How sure it is: held against what is known exactly, and against drawing at random."""

from dataclasses import replace

import numpy as np
import pytest

from mendbook.worth.odds import draw_odds, run_once
from mendbook.worth.spread import Spread
from mendbook.worth.sums import work_out
from tests.worth.invented import figures

EVEN_LUCK = (np.arange(200_000) + 0.5) / 200_000


@pytest.mark.parametrize("is_discounted", [False, True])
@pytest.mark.parametrize("early_loss", [0.0, 0.3])
def test_the_luck_of_single_tyres_averages_to_the_value(is_discounted: bool, early_loss: float) -> None:
    f = figures(early_loss=early_loss, discount_rate=0.15, use_a_year=1500.0, standing_cost=100.0, lead_time=480.0)
    f = replace(f, is_discounted=is_discounted, has_spare=False)
    sums = work_out(f)
    assert float(np.mean(run_once(f, sums, EVEN_LUCK))) == pytest.approx(float(sums.value), abs=0.5)


def test_a_price_that_may_be_anything_in_a_range_wins_by_its_share_of_the_range() -> None:
    # Below 5,401.93 repairing wins: of 4,000 to 6,000 that is 70.096 %.
    odds = draw_odds(figures(), {"repair_price": Spread(5000.0, 4000.0, 6000.0, "even")}, has_retread=False)
    assert odds.wins == pytest.approx(0.70096, abs=0.002)
    assert odds.low == pytest.approx(3441.93 + 1960 - 5900, abs=3.0)
    assert odds.high == pytest.approx(3441.93 + 1960 - 4100, abs=3.0)


SPREADS = {
    "new_price": Spread(14800.0, 9000.0, 16000.0, "peaked"),
    "mean_life": Spread(5000.0, 1000.0, 9000.0, "even"),
    "failure_cost": Spread(8000.0, 2000.0, 16000.0, "peaked"),
    "early_loss": Spread(0.1, 0.0, 0.4, "peaked"),
}


def test_drawing_at_random_says_the_same() -> None:
    odds = draw_odds(figures(), SPREADS, has_retread=True)
    rng = np.random.default_rng(7)
    n = 200_000

    def at_random(spread: Spread) -> np.ndarray:
        if spread.shape == "even":
            return rng.uniform(spread.low, spread.high, n)
        return rng.triangular(spread.low, spread.value, spread.high, n)

    drawn = figures().changed(**{name: at_random(spread) for name, spread in SPREADS.items()})
    sums = work_out(drawn)
    assert 0.1 < odds.wins < 0.9
    assert odds.wins == pytest.approx(float(np.mean(sums.value > 0)), abs=0.005)
    assert odds.wins_once == pytest.approx(float(np.mean(run_once(drawn, sums, rng.random(n)) > 0)), abs=0.008)
    assert odds.low == pytest.approx(float(np.percentile(sums.value, 5)), rel=0.02)
    assert 0.0 < odds.wins_error < 0.005


def test_the_same_seed_draws_the_same_and_another_nearly() -> None:
    first, again = (draw_odds(figures(), SPREADS, has_retread=False) for _ in range(2))
    other = draw_odds(figures(), SPREADS, has_retread=False, seed=2)
    assert first == again
    assert first != other
    assert first.wins == pytest.approx(other.wins, abs=6 * (first.wins_error + other.wins_error))


def test_exact_figures_are_not_drawn() -> None:
    odds = draw_odds(figures(), {"new_price": Spread.exact(14800.0)}, has_retread=True)
    assert odds.drawn == ()
    assert (odds.wins, odds.wins_error) == (1.0, 0.0)
    assert odds.low == odds.high == 3441.93
    assert 0.0 < odds.wins_once < 1.0
