from pathlib import Path

import pytest

from mendbook.proof.lone_places import is_one_slip
from tests.proof.sound_ladders import CHART_FILE, SOUND_CHART, TABLE_FILE, faults, replaced
from tests.rulebook.ladders import TABLE


def test_a_place_misspelt_once_is_named(tmp_path: Path) -> None:
    slipped = replaced(SOUND_CHART, "more than a mend holds.\n  source: house, cracks", "more.\n  source: house, craks")
    found = faults(tmp_path, {CHART_FILE: slipped, TABLE_FILE: replaced(TABLE, "house, loads", "house, cracks")})
    assert found == [
        f"{CHART_FILE}:16: 'house, craks' is cited here alone, 'house, cracks' elsewhere. Write one place one way."
    ]


def test_two_places_that_are_cited_often_may_be_alike(tmp_path: Path) -> None:
    both = SOUND_CHART.replace("house, cracks", "house, load")
    again = TABLE.replace("table: load by kind", "table: more").replace("[load, reach]", "[more, most]")
    assert faults(tmp_path, {CHART_FILE: both, "rules/limits/more.yaml": again}) == []


@pytest.mark.parametrize(
    ("one", "other", "slip"),
    [
        ("cracks", "craks", True),
        ("cracks", "crackss", True),
        ("cracks", "crocks", True),
        ("cracks", "carcks", True),
        ("cracks", "cracks", False),
        ("cracks", "crook", False),
        ("cracks", "ackscr", False),
        ("a", "", True),
        ("ab", "", False),
    ],
)
def test_what_counts_as_one_slip(one: str, other: str, slip: bool) -> None:
    assert is_one_slip(one, other) is slip
    assert is_one_slip(other, one) is slip
