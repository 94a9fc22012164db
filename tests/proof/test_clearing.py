from pathlib import Path

import pytest

from mendbook.proof.clearing import find_lasting_holds
from tests.proof.sound_ladders import SOUND, WHEN_FILE, replaced
from tests.rulebook.ladders import CHART, VOCABULARY, WHEN, open_ladders, write_book

CHART_FILE, VOCABULARY_FILE = "rules/rails/crack.yaml", "knowledge/vocabulary/all.yaml"
# Wood left is made a given fact here, so that a hold can name it.
GIVEN = replaced(VOCABULARY, "    range: 0 to 100\n  damp", "    range: 0 to 100\n    written in: rails\n  damp")


def lasting(folder: Path, file: str, text: str) -> list[str]:
    write_book(folder, **{**SOUND, VOCABULARY_FILE: GIVEN, file: text})
    return [fault.removeprefix(f"{folder}/") for fault in find_lasting_holds(open_ladders(folder))]


def held(way: str) -> str:
    return replaced(WHEN, "verdict: scrap\nb", f"hold: Probe it.\ncleared by: {way}\nb")


@pytest.mark.parametrize(
    "way",
    [
        "{rot: none}",
        "{rot: [none, light]}",
        "{rot: up to light}",
        "{wood left: at least 20 mm}",
        "[{rot: none}, {wood left: at least 20 mm}]",
    ],
)
def test_a_way_that_silences_the_line_clears_it(tmp_path: Path, way: str) -> None:
    assert lasting(tmp_path, WHEN_FILE, held(way)) == []


@pytest.mark.parametrize(
    ("way", "why"),
    [
        ("{rot: deep}", "'cleared by' does not clear this hold: it still holds for kind: ash, wood left: below 20 mm"),
        ("{rot: up to deep}", "'cleared by' does not clear this hold"),
        ("{wood left: at least 19.9 mm}", "'cleared by' does not clear this hold"),
        ("{wood left: over 100 mm}", "'cleared by' can never be written: wood left: over 100 mm."),
        ("{crack length: up to 5 mm}", "'cleared by' does not clear this hold"),
        ("{rot: none, wood left: at least 20 mm}", "'cleared by' names 'rot', which it does not need."),
        ("{rot: none, crack length: up to 5 mm}", "'cleared by' names 'crack length', which it does not need."),
        ("[{rot: none}, {rot: deep}]", "'cleared by' does not clear this hold"),
    ],
)
def test_a_way_that_leaves_some_case_held_is_named(tmp_path: Path, way: str, why: str) -> None:
    [fault] = lasting(tmp_path, WHEN_FILE, held(way))
    assert fault.startswith(f"{WHEN_FILE}:1: {why}")


HELD_CHART = replaced(
    CHART, "  verdict: scrap\n  because", "  verdict: scrap\n  hold: Ask the smith.\n  cleared by: WAY\n  because"
)


def test_in_a_chart_a_way_may_need_two_facts(tmp_path: Path) -> None:
    """The line above bounds crack and rot, so both must be written; that above it needs the wood."""
    both = "{crack length: up to 60 mm, rot: none}"
    assert lasting(tmp_path, CHART_FILE, HELD_CHART.replace("WAY", both)) == []
    assert lasting(tmp_path, CHART_FILE, HELD_CHART.replace("WAY", "{crack length: up to 25 mm, rot: none}")) == []
    [fault] = lasting(tmp_path, CHART_FILE, HELD_CHART.replace("WAY", "{rot: none}"))
    assert "it still holds for kind: [ash, spruce], " in fault


def test_a_way_that_reaches_another_hold_of_the_rule_clears_nothing(tmp_path: Path) -> None:
    text = HELD_CHART.replace("WAY", "{crack length: up to 60 mm, rot: none}")
    text = replaced(
        text, "    verdict: mend\n", "    verdict: mend\n    hold: Ask.\n    cleared by: {crack length: 0 mm}\n"
    )
    text = text.replace("{crack length: 0 mm}", "{crack length: up to 25 mm, wood left: at least 10 mm}")
    [fault] = lasting(tmp_path, CHART_FILE, text)
    assert "does not clear this hold" in fault
    assert fault.startswith(f"{CHART_FILE}:18: ")
