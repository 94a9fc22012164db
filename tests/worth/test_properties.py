"""What must hold of every sum, whatever the figures."""

from dataclasses import replace

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from mendbook.worth.break_evens import find_break_evens
from mendbook.worth.figures import Figures
from mendbook.worth.spread import Spread
from mendbook.worth.streams import stream
from mendbook.worth.sums import work_out
from tests.worth.invented import figures

SHARES = st.floats(0.0, 1.0)
AMOUNTS = st.floats(0.0, 50_000.0)


@st.composite
def drawn_figures(draw: st.DrawFn) -> Figures:
    """Draw figures as a fleet could have them."""
    changed = {name: draw(AMOUNTS) for name in ("fitting", "disposal", "repair_price", "failure_cost", "casing_value")}
    changed |= {name: draw(SHARES) for name in ("casing_sold_new", "casing_sold_repaired", "casing_sold_now")}
    changed |= {
        "new_price": draw(st.floats(100.0, 100_000.0)), "new_life": draw(st.floats(100.0, 20_000.0)),
        "tread_ratio": draw(st.floats(0.01, 1.0)), "usable_tread": draw(st.floats(0.01, 1.0)),
        "early_loss": draw(st.floats(0.0, 0.95)), "mean_life": draw(st.floats(50.0, 1e6)),
        "standing_cost": draw(AMOUNTS), "lead_time": draw(st.floats(0.0, 3000.0)),
        "repair_time": draw(st.floats(0.0, 300.0)), "discount_rate": draw(st.floats(0.0, 0.4)),
        "use_a_year": draw(st.floats(500.0, 8000.0)),
    }  # fmt: skip
    return replace(figures(**changed), has_spare=draw(st.booleans()), is_discounted=draw(st.booleans()))


@given(drawn_figures())
def test_no_repair_runs_longer_than_its_tread(f: Figures) -> None:
    sums = work_out(f)
    assert 0.0 <= sums.bought <= sums.hours * (1 + 1e-12)
    assert sums.hours <= sums.remaining * (1 + 1e-12)
    assert 0.0 <= sums.survival <= 1.0 - f.early_loss


@given(drawn_figures(), st.floats(0.0, 1.0))
def test_more_tread_is_never_worth_less_where_running_on_pays(f: Figures, more: float) -> None:
    # Where failures and the casing cost more an hour than a new tyre does, running on loses, and the page says so.
    sums = work_out(f)
    running_on = (f.failure_cost + f.casing_sold_repaired * f.casing_value) / f.mean_life
    kept_back = f.casing_sold_repaired * f.casing_value * f.interest
    assume(sums.new_rate >= running_on + kept_back)
    longer = f.changed(tread_ratio=f.tread_ratio + more * (1.0 - f.tread_ratio))
    assert work_out(longer).value >= sums.value - 1e-6


@given(drawn_figures())
def test_a_break_even_really_breaks_even(f: Figures) -> None:
    fields = {"repair price": "repair_price", "tread ratio": "tread_ratio", "early loss": "early_loss"}
    sums = work_out(f)
    lost = (f.failure_cost + f.casing_value) * (1.0 + f.new_life / f.mean_life)
    whole = f.new_life * np.abs(sums.new_rate) + lost  # what a share of one can move
    for found in find_break_evens(f):
        if found.at is not None and found.name in fields:
            at = work_out(f.changed(**{fields[found.name]: found.at}))
            assert np.abs(at.value) <= 2e-6 * (1.0 + whole)  # it is told to six decimals
            if found.says in ("repairing wins above it", "repairing wins below it") and found.name != "repair price":
                end = 1.0 if "above" in found.says else 0.0
                assert work_out(f.changed(**{fields[found.name]: end or 1e-9})).value > 0.0
        if found.at is not None and found.name == "hours bought":
            at_hours = found.at * sums.new_rate + sums.short - sums.sold_now
            assert np.isclose(at_hours, sums.repair, rtol=1e-9, atol=1e-6 * (1.0 + np.abs(sums.new_rate)))


@given(drawn_figures())
def test_a_tyre_that_never_fails_runs_all_its_tread(f: Figures) -> None:
    endless = replace(f, is_discounted=False).changed(mean_life=np.inf, early_loss=0.0)
    sums = work_out(endless)
    assert np.isclose(sums.hours, sums.remaining, rtol=1e-12)
    assert sums.survival == 1.0
    nearly = work_out(endless.changed(mean_life=1e15))
    assert np.isclose(nearly.hours, sums.hours, rtol=1e-9)
    assert np.isclose(nearly.value, sums.value, rtol=1e-9, atol=1e-6)


@given(st.floats(0.0, 0.01), st.floats(0.1, 5000.0))
def test_a_stream_is_the_integral_it_says(rate: float, length: float) -> None:
    expected, _ = quad(lambda t: np.exp(-rate * t), 0.0, length, epsrel=1e-11)
    assert np.isclose(stream(np.asarray(rate), np.asarray(length)), expected, rtol=1e-9)


@given(st.floats(0.0, 100.0), st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.booleans())
def test_a_spread_is_drawn_between_its_ends(low: float, first: float, second: float, is_even: bool) -> None:
    spread = Spread(low + first, low, low + first + second, "even" if is_even else "peaked")
    drawn = spread.drawn(np.linspace(0.0, 1.0, 101))
    assert np.all(np.diff(drawn) >= -1e-9)
    assert np.all((drawn >= spread.low - 1e-9) & (drawn <= spread.high + 1e-9))


@given(drawn_figures())
def test_discounting_at_nothing_changes_nothing(f: Figures) -> None:
    plain = replace(f, is_discounted=False)
    discounted = replace(f, is_discounted=True).changed(discount_rate=0.0)
    assert np.isclose(work_out(plain).value, work_out(discounted).value, rtol=1e-12, atol=1e-9)
