"""The first word of each group that no rule rules out."""

from dataclasses import replace

from mendbook.plan.method import choose, cold_instead, may_be_cold
from mendbook.plan.request import Said
from tests.plan.requests import LOADER, METHODS, TRUCK, without


def test_the_best_of_each_group() -> None:
    choice = choose(LOADER, METHODS)
    assert (choice.heat, choice.stages, choice.reinforcement) == ("hot", "one stage", "uncured reinforcement")
    assert choice.both_faces
    assert choice.kits == METHODS["kit"]
    assert not choice.closed


def test_what_is_ruled_out_is_not_chosen_and_says_why() -> None:
    choice = choose(without(LOADER, "one stage", "uncured reinforcement", "flexible pads"), METHODS)
    assert (choice.stages, choice.reinforcement) == ("two stages", "precured reinforcement")
    assert "flexible pads" not in choice.kits
    assert {refused.method for refused in choice.why_not} >= {"one stage", "uncured reinforcement", "flexible pads"}
    assert all(refused.because and refused.source for refused in choice.why_not)


def test_every_reason_against_a_method_stands_once() -> None:
    twice = without(without(LOADER, "cold"), "cold")
    other = Said("Cold", "It is damp.", "common practice, no source")
    (cold,) = choose(replace(twice, ruled_out=(*twice.ruled_out, other)), METHODS).why_not
    assert cold.because == "No cold here. It is damp."
    assert cold.source == "house default; common practice, no source"


def test_a_group_ruled_out_as_a_whole_closes_the_work() -> None:
    choice = choose(without(LOADER, "heat from both faces", "heat from one face"), METHODS)
    assert len(choice.closed) == 1
    assert "No heat from one face here" in choice.closed[0]
    assert "What would serve" in choice.closed[0]


def test_a_spot_repair_has_no_reinforcement_and_may_be_cold() -> None:
    assert choose(TRUCK, METHODS).reinforcement == ""
    assert may_be_cold(TRUCK, METHODS)
    assert not may_be_cold(without(TRUCK, "cold"), METHODS)
    assert not may_be_cold(LOADER, METHODS)
    assert choose(without(TRUCK, "hot"), METHODS).kits == ()


def test_a_cold_repair_in_place_of_a_hot_one_says_so() -> None:
    choice = cold_instead(choose(TRUCK, METHODS), ["outside pad: none"])
    assert choice.heat == "cold"
    assert [refused.method for refused in choice.why_not] == ["hot"]
