"""What is known of the money of a case, and what is lacking."""

import pytest

from mendbook.folders import folder
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.worth import Worth
from mendbook.triage import Shop, judge
from mendbook.worth import open_survival
from mendbook.worth.spread import Spread
from mendbook.worth.survival import Held, together
from tests.worth.invented import WRITTEN, case

KNOWLEDGE = folder("knowledge")


def weighed(shop: Shop, money: dict[str, str], **sections: object) -> Worth:
    found = judge(case(shop.book.vocabulary, money, **sections), shop).worth
    assert found is not None
    return found


def without(*names: str) -> dict[str, str]:
    return {name: value for name, value in WRITTEN.items() if name not in names}


@pytest.mark.parametrize(
    ("verdict", "zone", "construction", "early_loss", "mean_life"),
    [
        ("spot", "crown centre", "radial", 0.01, 20_000),
        ("reinforce", "upper sidewall", "bias", 0.03, 12_000),
        ("section", "lower sidewall", "bias", 0.04, 10_000),
        ("section", "upper sidewall", "radial", 0.04, 9_000),
        ("section", "shoulder", "bias", 0.08, 5_000),
        ("section", "upper sidewall (also touches shoulder)", "radial", 0.08, 5_000),
        ("section", "upper sidewall", "unknown", 0.04, 9_000),
    ],
)
def test_survival_by_class_zone_and_construction(
    verdict: str, zone: str, construction: str, early_loss: float, mean_life: float
) -> None:
    # House defaults; no publication gives them.
    held = open_survival(KNOWLEDGE).of(verdict, zone, construction)
    assert held is not None
    assert (held.early_loss.value, held.mean_life.value) == (early_loss, mean_life)
    assert held.early_loss.low < early_loss < held.early_loss.high
    assert held.basis == "house default"


def test_nothing_is_known_of_a_class_that_is_no_repair() -> None:
    assert open_survival(KNOWLEDGE).of("reject", "bead", "radial") is None


def test_two_repairs_fail_sooner_than_each() -> None:
    held = Held("section", (), (), Spread(0.04, 0.02, 0.08, "peaked"), Spread(9000, 5000, 14000, "peaked"), "house")
    early_loss, mean_life = together([held, held])
    assert early_loss.value == pytest.approx(1 - 0.96**2)
    assert (mean_life.low, mean_life.value, mean_life.high) == pytest.approx((2500, 4500, 7000))


def test_what_is_not_written_follows_from_the_tyre_and_the_verdict(shop: Shop) -> None:
    worth = weighed(shop, without("early loss", "mean life", "tread ratio", "usable tread"))
    read = {one.name: one for one in worth.reckoned}
    assert read["tread ratio"].value == pytest.approx(57 / 97, abs=1e-6)
    assert read["tread ratio"].low < 57 / 97 < read["tread ratio"].high
    assert (read["early loss"].value, read["mean life"].value) == (0.04, 9000.0)
    assert read["early loss"].origin == "house default, by class and zone"
    assert read["usable tread"].origin == "house default"
    assert set(worth.odds.drawn if worth.odds else ()) == {"early loss", "mean life", "tread ratio", "usable tread"}


def test_what_is_lacking_is_said_and_what_can_be_told_is_told(shop: Shop) -> None:
    worth = weighed(shop, without("repair price"))
    assert worth.answer.startswith("A repair is worth up to 5,401.93 EUR")
    assert worth.value is None
    assert any(said.startswith("repair price:") for said in worth.lacking)
    bare = weighed(shop, {"spare": "yes"})
    assert bare.answer == "The sum cannot be made: too little is known."
    assert bare.currency == ""
    assert any(said.startswith("new price:") for said in bare.lacking)


@pytest.mark.parametrize("left_out", [*sorted(set(WRITTEN) - {"currency"})])
def test_every_line_may_be_left_out(shop: Shop, left_out: str) -> None:
    worth = weighed(shop, without(left_out))
    assert worth.answer


def test_a_spot_of_money_in_km_needs_a_speed_for_the_survival(shop: Shop) -> None:
    by_km = {"new life": "60000 km", "retread life": "50000 km", "retread mean life": "80000 km"}
    lacks = weighed(shop, without("mean life", "early loss") | by_km)
    assert lacks.unit == "km"
    assert any("average speed" in said for said in lacks.lacking)
    told = weighed(shop, without("mean life", "early loss") | by_km | {"average speed": "10 km/h"})
    read = {one.name: one.value for one in told.reckoned}
    assert read["mean life"] == pytest.approx(90_000.0)
    assert told.value is not None
    assert told.yardstick == ""


def test_without_a_spare_standing_counts_against_the_new_tyre(shop: Shop) -> None:
    short = {"spare": "no", "lead time": "10 weeks", "standing cost": "640", "repair time": "2 days"}
    worth = weighed(shop, WRITTEN | short)
    assert worth.value == pytest.approx(3441.93 + 70 * 640 - 2 * 640)
    at_hand = weighed(shop, WRITTEN | short | {"spare": "yes"})
    assert at_hand.value == 3441.93
    assert {one.days: one.value for one in at_hand.without_spare}[70.0] == worth.value


def test_interest_is_left_out_within_a_year_and_counted_beyond(shop: Shop) -> None:
    within = weighed(shop, WRITTEN | {"discount rate": "10 %", "use a year": "6500 h"})
    assert within.value == 3441.93
    assert "left out" in within.discounting
    beyond = weighed(shop, WRITTEN | {"discount rate": "10 %", "use a year": "2000 h"})
    assert beyond.value != 3441.93
    assert "ln(1 + 10 %)" in beyond.discounting
    assert weighed(shop, WRITTEN | {"discount rate": "10 %"}).value == 3441.93


def test_a_casing_that_can_be_sold_now_is_a_choice_of_its_own(shop: Shop) -> None:
    worth = weighed(shop, WRITTEN | {"casing sold now": "20 %"})
    choices = {choice.name: choice for choice in worth.choices}
    # Sold with a chance of 20 %: the casing's 900 and the 310 of its disposal.
    assert choices["new tyre"].cost is not None
    assert choices["new tyre, casing sold"].cost == pytest.approx(choices["new tyre"].cost - 0.2 * (900 + 310))
    assert worth.casing_now == 180.0


def test_a_fault_in_the_survival_is_told_with_its_line(tmp_path: object) -> None:
    from pathlib import Path

    survival = Path(str(tmp_path)) / "survival"
    survival.mkdir()
    (survival / "spot.yaml").write_text("survival: spot\nitems:\n  - early loss: 1 %\n    mean life: 5 kg\n")
    with pytest.raises(RulebookError, match=r"spot.yaml:3: 'early loss range' is missing"):
        open_survival(survival.parent)
