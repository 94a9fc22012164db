from pathlib import Path

import pytest

from tests.proof.sound_ladders import SOUND_WINDOW, WINDOW_FILE, faults, replaced

MORE = """\
rule: more glue
asks: How much load?
applies to: {{kind: ash}}
when: {{}}
cap: {{load: {cap}}}
because: It is glued.
source: house, glue
examples:
  - {{kind: ash, says: cap}}
  - {{kind: spruce, says: nothing}}
"""


def told(folder: Path, first: str, second: str) -> list[str]:
    text = replaced(SOUND_WINDOW, "{load: half}", f"{{load: {first}}}")
    return faults(folder, {WINDOW_FILE: text, "rules/mending/more.yaml": MORE.format(cap=second)})


@pytest.mark.parametrize(("first", "second"), [("40 kg", "60 kg"), ("half", "a third"), ("40", "50.5")])
def test_caps_in_one_unit_can_be_compared(first: str, second: str, tmp_path: Path) -> None:
    assert told(tmp_path, first, second) == []


@pytest.mark.parametrize(
    ("first", "second", "known"),
    [("40 kg", "60 lb", "in kg"), ("half", "40 kg", "in words"), ("40", "40 kg", "as a plain figure")],
)
def test_caps_in_two_units_cannot(first: str, second: str, known: str, tmp_path: Path) -> None:
    assert told(tmp_path, first, second) == [
        f"rules/mending/more.yaml:1: 'load' is capped at '{second}', and {known} at "
        f"{tmp_path}/rules/mending/glue.yaml:1, so nobody can tell which is smaller. Write both {known}."
    ]
