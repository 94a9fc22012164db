"""Facts of the whole tyre: class, pressure, age, tread, factors."""

from datetime import date

import polars as pl
import pytest

from mendbook.facts.readings import BAD, GOOD, READ
from mendbook.terms.date_code import week_days
from mendbook.triage import Shop
from tests.facts.derived import derive
from tests.triage.cases import LOADER, but


def tyre(shop: Shop, fact: str, at: int = READ, **changes: object) -> object:
    return derive(but(LOADER, **changes), shop).tyre(fact, at)


@pytest.mark.parametrize(
    ("designation", "name", "edge"),
    [
        ("11R22.5", "W1", "clear"),
        ("300/80R22.5", "W1", "near"),
        ("12.00R20", "W2", "near"),
        ("14.00-24", "W3", "near"),
        ("17.75-25", "W3", "near"),  # 17.75 in lies just under the edge
        ("18.00-25", "W4", "near"),  # 18.0 in lies on it
        ("20.5R25", "W4", "near"),
        ("21.00-35", "W5", "near"),
        ("23.5R25", "W5", "near"),
        ("24.00R35", "W6", "near"),
        ("26.5R25", "W6", "clear"),
        ("29.5R25", "W6", "near"),
        ("875/65R29", "W7", "clear"),
        ("37.5R39", "W7", "near"),  # the last width of its class
        ("45/65R45", "W8", "clear"),
    ],
)
def test_the_class_of_a_section_width(designation: str, name: str, edge: str, shop: Shop) -> None:
    facts = derive(but(LOADER, tyre={"designation": designation, "casing": "unknown"}), shop)
    assert (facts.tyre("width class"), facts.tyre("class edge")) == (name, edge)


def test_a_width_a_tenth_of_an_inch_under_the_edge_is_in_the_smaller_class(shop: Shop) -> None:
    """17.9 in is 454.7 mm and 18.0 in is 457.2 mm; metric sizes of 454 and 458 mm lie either side."""
    assert tyre(shop, "width class", tyre={"designation": "454/80R25"}) == "W3"
    assert tyre(shop, "width class", tyre={"designation": "458/80R25"}) == "W4"


def test_a_size_that_was_not_read_is_judged_in_the_class_with_the_smallest_limits(shop: Shop) -> None:
    assert tyre(shop, "width class", tyre={"designation": "unknown"}) == "W1"


def test_five_per_cent_low_in_the_cold_is_not_low_at_all(shop: Shop) -> None:
    """Gas law at constant volume, absolute pressure and kelvin: p2 = p1 x T2 / T1 (ideal gas)."""
    cold = {"pressure at removal": "4.75 bar", "temperature at removal": "-20 °C"}
    expected = ((4.75 + 1.01325) * 293.15 / 253.15 - 1.01325) / 5.0 * 100
    assert tyre(shop, "pressure ratio", found=cold) == pytest.approx(expected, abs=0.001)
    assert expected > 110
    # What 5.0 bar at 20 °C reads at -20 °C: 4.18 bar on the gauge, sixteen per cent less, and still all there.
    full = {"pressure at removal": "4.18 bar", "temperature at removal": "-20 °C"}
    assert tyre(shop, "pressure ratio", found=full) == pytest.approx(100.0, abs=0.2)


def test_low_after_a_hot_day_is_lower_than_it_reads(shop: Shop) -> None:
    hot = {"pressure at removal": "4.2 bar", "temperature at removal": "60 °C"}
    assert tyre(shop, "pressure ratio", found=hot) < 75
    assert tyre(shop, "pressure ratio", found=but(hot, temperature_at_removal="20 °C")) == 84.0


def test_four_fifths_of_the_pressure_is_exactly_eighty_per_cent(shop: Shop) -> None:
    at = {"found": {"pressure at removal": "6.64 bar"}, "service": {"pressure specified": "8.3 bar"}}
    assert tyre(shop, "pressure ratio", **at) == 80.0
    assert tyre(shop, "pressure ratio", BAD, **at) == pytest.approx(80.0 * 0.97)
    assert tyre(shop, "pressure ratio", GOOD, **at) == pytest.approx(80.0 * 1.03)


def test_a_pressure_nobody_wrote_down_is_none(shop: Shop) -> None:
    assert tyre(shop, "pressure ratio", found={"pressure at removal": "unknown"}) == 0.0
    assert tyre(shop, "pressure record", found={"pressure at removal": None}) == "unknown"
    assert tyre(shop, "pressure record") == "known"


def test_a_retread_has_two_clocks(shop: Shop) -> None:
    """The house counts the casing's years, the law those since the retread (UK SI 2020/1178, read)."""
    facts = derive(but(LOADER, tyre={"date code": "4717", "retread date code": "4725"}), shop)
    built, judged = week_days(2017, 47)[0], date(2026, 11, 25)
    assert facts.tyre("age") == pytest.approx((judged - built).days / 365.25)
    assert 8.9 < facts.tyre("age") < 9.1
    assert 0.9 < facts.tyre("age by law") < 1.1
    assert facts.tyre("retreaded") == "yes"


def test_without_a_retread_both_clocks_are_one(shop: Shop) -> None:
    facts = derive(LOADER, shop)
    assert facts.tyre("age") == facts.tyre("age by law")
    assert facts.tyre("retreaded") == "no"


def test_a_date_code_that_was_not_read_leaves_every_age_open(shop: Shop) -> None:
    facts = derive(but(LOADER, tyre={"date code": "unknown"}), shop)
    assert [facts.tyre("age", at) for at in (GOOD, READ, BAD)] == [0.0, 60.0, 60.0]
    assert facts.tyre("serial") == "unread"


def test_three_digits_leave_the_decade_open(shop: Shop) -> None:
    facts = derive(but(LOADER, tyre={"date code": "031"}), shop)
    assert facts.tyre("age", BAD) - facts.tyre("age", GOOD) > 9.9


def test_the_least_reading_of_the_tread_counts(shop: Shop) -> None:
    facts = derive(LOADER, shop)
    assert facts.tyre("tread ratio") == pytest.approx(57 / 97 * 100)
    assert facts.tyre("tread ratio", GOOD) == pytest.approx(59 / 97 * 100)
    assert facts.tyre("tread ratio", BAD) == pytest.approx(55 / 97 * 100)
    assert facts.tyre("tread spread") == pytest.approx(5 / 97 * 100)
    assert facts.tyre("tread readings") == 4


def test_a_tread_nobody_measured_is_worn_out_at_the_bad_reading(shop: Shop) -> None:
    facts = derive(but(LOADER, tyre={"tread depths": None}), shop)
    assert [facts.tyre("tread ratio", at) for at in (GOOD, READ, BAD)] == [100.0, 0.0, 0.0]


@pytest.mark.parametrize(
    ("duty", "code", "extra", "factor"),
    [
        ("loader v-cycle", "3123", {}, 1.00),
        ("haul short", "3123", {}, 0.90),
        ("haul long", "3123", {}, 0.85),
        ("mobile crane", "3123", {}, 0.80),
        ("haul long", "3120", {}, 0.85 * 0.95),  # six years
        ("haul long", "3118", {}, 0.85 * 0.85),  # eight
        ("haul long", "3123", {"tkph use": "91 ± 0 %"}, 0.85 * 0.90),
        ("haul long", "3123", {"tkph use": "90 ± 0 %"}, 0.85),
        ("haul long", "3123", {"ambient": "41 °C"}, 0.85 * 0.90),
        ("haul long", "3123", {"ambient": "41 °C", "tkph use": "95 ± 0 %"}, 0.85 * 0.90),  # one sign of heat, not two
    ],
)
def test_duty_age_and_heat_shrink_the_limits(
    duty: str, code: str, extra: dict[str, str], factor: float, shop: Shop
) -> None:
    changes = {"tyre": {"date code": code}, "service": {"duty": duty, **extra}}
    assert tyre(shop, "severity factor", **changes) == pytest.approx(factor)
    assert tyre(shop, "severity floor", **changes) == "above"


def test_factors_never_go_below_their_floor(shop: Shop) -> None:
    changes = {"tyre": {"date code": "3118"}, "service": {"duty": "mobile crane", "ambient": "45 °C"}}
    product = 0.80 * 0.85 * 0.90
    assert product > 0.60
    assert tyre(shop, "severity factor", **changes) == pytest.approx(product)
    unknown = {"tyre": {"date code": "unknown"}, "service": {"duty": "mobile crane", "ambient": "45 °C"}}
    assert tyre(shop, "severity factor", **unknown) == pytest.approx(product)


@pytest.mark.parametrize(
    ("mark", "loads"),
    [
        ("149/146L", (3250.0, 3250.0, 3250.0)),
        (None, (0.0, 200_000.0, 200_000.0)),
        ("unknown", (0.0, 200_000.0, 200_000.0)),
    ],
)
def test_the_load_that_a_load_index_stands_for(mark: str | None, loads: tuple[float, ...], shop: Shop) -> None:
    assert tuple(tyre(shop, "load capacity", at, tyre={"load index": mark}) for at in (GOOD, READ, BAD)) == loads


def test_a_rim_nobody_read_is_small_at_the_bad_reading(shop: Shop) -> None:
    assert tyre(shop, "rim diameter") == pytest.approx(25 * 25.4)
    named = {"designation": "unknown", "construction": "radial"}
    rows = derive(but(LOADER, tyre=named), shop).tyres.filter(pl.col("size family") == "off-road")
    unread = rows.get_column("rim diameter").to_list()
    assert unread == [2000.0, 100.0, 100.0]


@pytest.mark.parametrize(
    ("designation", "diameter", "permitted"),
    [
        ("11R22.5", "762 mm", 6.35), ("11R22.5", "763 mm", 9.525), ("11R22.5", "1016 mm", 9.525),
        ("11R22.5", "1017 mm", 12.7), ("11R22.5", "1270 mm", 12.7), ("11R22.5", "1271 mm", 19.05),
        ("11R22.5", None, 12.7), ("26.5R25", None, 19.05), ("unknown", None, 6.35),
    ],
)  # fmt: skip
def test_a_dual_pair_may_differ_by_its_diameter(
    designation: str, diameter: str | None, permitted: float, shop: Shop
) -> None:
    """US Army TM 9-2610-200-14 table 2-1: 1/4, 3/8, 1/2 and 3/4 in up to 30, 40, 50 in and beyond. Read."""
    share = tyre(
        shop, "share of dual difference", tyre={"designation": designation, "outside diameter": diameter},
        service={"dual difference": "10 ± 0 mm"},
    )  # fmt: skip
    assert share == pytest.approx(10 / permitted * 100)
