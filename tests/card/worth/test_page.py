"""The manager's page: what stands in it, at any width, and what is struck out."""

from datetime import UTC, datetime

import pytest

from mendbook.card.printing import as_text
from mendbook.card.worth import worth_page
from mendbook.card.worth.chart import HIGH, LOW, NOTHING, VALUE, Scale
from mendbook.terms.docket import Docket
from mendbook.terms.worth import Lever
from mendbook.triage import Shop, judge
from tests.worth.invented import WRITTEN, case

STAMP = datetime(2026, 11, 25, 12, tzinfo=UTC)
MONEY = WRITTEN | {"new price": "14800 ± 5 %", "standing cost": "640", "lead time": "10 weeks", "weight": "780 kg"}


@pytest.fixture(scope="module")
def docket(shop: Shop) -> Docket:
    return judge(case(shop.book.vocabulary, MONEY), shop, now=STAMP)


def test_the_figures_of_the_worked_example_are_on_the_page(docket: Docket) -> None:
    page = as_text(worth_page(docket, 100), 100)
    for figure in ("3,441.93", "5,401.93", "3,416.20", "2,728.94", "1.19", "2.45", "3.02", "3,323.84", "3,235.18",
                   "1,322.22 h", "21 %", "42.5 %", "48,241.93", "780 kg"):  # fmt: skip
        assert figure in page
    assert "Money never changes a verdict." in page
    assert "[x]" not in page


@pytest.mark.parametrize("width", [40, 63, 64, 80, 100])
def test_no_line_runs_over_the_edge(docket: Docket, width: int) -> None:
    assert max(map(len, as_text(worth_page(docket, width), width).splitlines())) <= width


def test_every_figure_that_does_not_count_is_marked(docket: Docket) -> None:
    assert docket.worth is not None
    struck = docket.worth.model_copy(update={"struck": "rejected by law. No money overrides that."})
    page = as_text(worth_page(docket.model_copy(update={"worth": struck, "outcome": "reject"}), 100), 100)
    assert page.index("STRUCK OUT") < page.index("Choices (struck out)")
    assert "[x] 3,441.93 saved" in page
    assert "[x] 1.19" in page
    for part in ("Largest levers", "How sure", "Where it turns"):
        assert part not in page
    counted = page.partition("Reckoned with")[0].replace("[x] Repair it: 3,441.93", "")
    assert "3,235.18" not in counted.replace("[x] 3,235.18", "")


def test_a_bar_runs_from_end_to_end() -> None:
    lever = Lever(name="price", kind="amount", low=1, high=2, value_at_low=40.0, value_at_high=80.0, is_written=True)
    bar = Scale(0.0, 100.0, 11).bar(lever, 60.0).plain
    assert bar == f"{NOTHING}   {LOW}{LOW}{VALUE}{HIGH}{HIGH}"


def test_nothing_stands_where_the_sum_turns() -> None:
    lever = Lever(name="price", kind="amount", low=1, high=2, value_at_low=50.0, value_at_high=-50.0, is_written=True)
    bar = Scale(-100.0, 100.0, 21).bar(lever, 10.0).plain
    assert bar.index(NOTHING) == 10
    assert bar.index(VALUE) == 11
    assert bar.index(HIGH) == 5
    assert bar.rindex(LOW) == 15
