"""Limits and the ladder back to service."""

import pytest

from mendbook.plan import Stock
from mendbook.plan.release import ladder_of, limits_of
from mendbook.plan.request import Release, Said
from tests.plan.requests import RELEASE

SAID = Said("Bulge", "because", "house default")


def test_the_smaller_cap_wins() -> None:
    release = Release(caps=(("bulge", "10 mm", SAID), ("bulge", "6 mm", SAID), ("tkph rating", "85 %", SAID)))
    assert [(limit.what, limit.limit) for limit in limits_of(release)] == [("bulge", "6 mm"), ("tkph rating", "85 %")]


@pytest.mark.parametrize(
    ("width_class", "hours"),
    [("W1", 12), ("W2", 12), ("W3", 24), ("W5", 24), ("W6", 36), ("W7", 36), ("W8", 36)],
)
def test_the_wider_the_tyre_the_longer_it_rests(width_class: str, hours: int, stock: Stock) -> None:
    """House defaults of the ladder."""
    release = Release(verdict="section", facts={**RELEASE.facts, "width class": width_class})
    assert any(step.figures.startswith(f"{hours} h;") for step in ladder_of(release, stock.scripts["ladder"]))


def test_inflation_goes_up_in_stages_behind_a_restraint(stock: Stock) -> None:
    (step,) = [step for step in ladder_of(RELEASE, stock.scripts["ladder"]) if "1.4 bar" in step.figures]
    assert "restraint" in step.caution
    for figure in ("2.5 bar for 5 min", "3.8 bar for 10 min", "5.0 bar for 20 min"):
        assert figure in step.figures
    assert "29 cfr 1910.177" in step.basis


def test_without_a_pressure_the_stages_are_shares(stock: Stock) -> None:
    steps = ladder_of(Release(verdict="section"), stock.scripts["ladder"])
    assert any("50 % for 5 min" in step.figures for step in steps)


def test_a_spot_repair_does_not_climb_the_whole_ladder(stock: Stock) -> None:
    spot = Release(verdict="spot", facts={"use": "road", "reaches": "plies"})
    assert len(ladder_of(spot, stock.scripts["ladder"])) < len(ladder_of(RELEASE, stock.scripts["ladder"]))


def test_the_road_has_a_last_look(stock: Stock) -> None:
    road = Release(verdict="spot", facts={"use": "road"})
    assert any("no bare cord" in step.hold_point for step in ladder_of(road, stock.scripts["ladder"]))
