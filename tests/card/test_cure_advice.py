"""Advice in print: all that it holds is told, it fits the page, and figures err to the safe side."""

import pytest
from rich.cells import cell_len

from mendbook.card.cure_advice import advice_part
from mendbook.card.cure_report import cure_report
from mendbook.card.printing import as_text
from mendbook.cure import compute
from mendbook.cure.advice import advise
from mendbook.terms.cure_advice import Advice, Kept, Pair
from tests.cure.walls import INSULATED, compound, fill, order, pad, through

WANTED = order(through(80), pad(), clamp_bar=2.0, case="an invented loader tyre")
ADVICE = advise(WANTED)


def flat(advice: Advice, width: int = 100) -> str:
    return " ".join(as_text(advice_part(advice, width), width).split())


@pytest.mark.parametrize("width", [40, 60, 80, 100, 120])
def test_it_is_a_part_of_the_report_and_fits(width: int) -> None:
    sheet = compute(WANTED).model_copy(update={"advice": ADVICE})
    said = as_text(cure_report(sheet, width), width)
    parts = ("CURE", "\nAdvice", "\nClamp against water", "\nWhat if", "Last word", "\nWhat the figure", "\nCautions")
    places = [said.index(part) for part in parts]
    assert places == sorted(places)
    assert all(cell_len(line) <= min(width, 100) for line in said.splitlines())
    assert "Advice" not in as_text(cure_report(compute(WANTED), width), width)


def test_it_tells_what_it_holds() -> None:
    said = flat(ADVICE)
    for words in (
        "129.5 °C at most, the same on every pad: 274 min (4 h 34 min) of heat. Above it fill would overcure.",
        "As ordered, up to 140 °C, it is 234 min (3 h 54 min), PAST a limit.",
        "Unequal outside 130 °C, inside 133 °C: 265 min (4 h 25 min), 8 min less than the same on both, within",
        "Sparing the tread, outside 130 °C, inside 140 °C: 252 min (4 h 12 min), PAST a limit.",
        "the tread, outside 120 °C, inside 140 °C: 279 min (4 h 39 min), PAST a limit. Outside cured 3.23 x t90",
        "safe: a wall of 99 mm at most, 318 min of heat and 160 min to release.",
        "Grown in proportion: fill, reinforcement; thin layers stay.",
        "One stage 359 min (5 h 59 min) in all",
        "One stage is quicker. Two are for looking at the fill, and buffing it",
        "the 2.00 bar ordered does NOT hold that, at moisture 1.",
        "pads kept at 130 °C until 74 min after switching on",
        "0.80 / 2.23",
        "outside pad dead from switch-on, bare never - - 0, 0 SHORT never starts",
        "Danger Pads and clamp off at power-off: the rubber is at up to 140 °C",
        "Minutes learned on the pads ordered (217) are too few on preheated pads, which need 224",
        "Local codes, site rules, the limits and instructions of the makers",
    ):
        assert words in said, words


def test_figures_err_to_the_safe_side() -> None:
    first = ADVICE.what_ifs[0].model_copy(
        update={
            "minutes_from_switch_on": 100.01,
            "more_minutes": -9.99,
            "by_clock": Kept(at_power_off=0.999, after_cooling=1.999, is_short=True),
        }
    )
    pair = Pair(
        outside_C=120, inside_C=130, minutes_from_switch_on=100.1, outside_multiples=5.001, inside_multiples=None,
        within=True,
    )  # fmt: skip
    said = flat(ADVICE.model_copy(update={"what_ifs": (first,), "sparing": (pair,)}))
    assert "101 227 -9 0.99, 1.99 SHORT" in said
    assert "101 min (1 h 41 min), within every limit. Outside cured 5.01 x t90." in said


def test_what_is_not_there_is_not_told() -> None:
    """One face and no reinforcement; no setpoint will do, and nothing fits the shift."""
    bare = order((fill(60, compound=compound(12, limit=1)),), pad(), INSULATED, water_activity=0)
    said = flat(advise(bare, 1))
    assert "none from 105 °C up is within every limit: fill would overcure" in said
    assert "safe: a wall of" in said
    assert "no wall, however thin, is heated and cool enough to open within 0.5 h" in flat(advise(WANTED, 0.5))
    assert "Two stages:" in said
    assert "One stage " not in said
    assert "Unequal" not in said
    assert "Sparing" not in said


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"clamp_bar": 2.0}, "Above it the clamp would no longer hold water."),
        ({"water_activity": 0}, "Above it nothing hotter was looked at (house default"),
    ],
)
def test_it_says_what_stands_against_more(change: dict[str, float], words: str) -> None:
    assert words in flat(advise(order(through(20), pad(), **change)))


def test_the_edge_of_the_injury_is_named_where_it_counts() -> None:
    assert "edge of the injury" not in flat(ADVICE)
    said = flat(ADVICE.model_copy(update={"longer": 1.082}))
    assert "those at the edge of the injury, 9 % slower than the middle as ordered." in said
