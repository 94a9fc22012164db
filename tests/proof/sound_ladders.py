"""The ladder rulebook without any fault that the static checks look for; tests break it one piece at a time."""

from collections.abc import Mapping
from pathlib import Path

from mendbook.proof.check import check_book
from tests.rulebook.ladders import CHART, COVER, WHEN, WINDOW, open_ladders, write_book

SOUND_COVER = f"{COVER}not covered:\n  - {{kind: metal, refer to: the smith}}\n"

SOUND_CHART = f"""{CHART}\
  - {{asks: too little wood, kind: ash, crack length: 25 mm, wood left: 9.9 mm, rot: none, verdict: mend}}
  - {{asks: on the line, kind: ash, crack length: 60 mm, wood left: 10 mm, rot: light, verdict: mend}}
  - {{asks: rotten, kind: ash, crack length: 60 mm, wood left: 10 mm, rot: deep, verdict: scrap}}
"""

SOUND_WHEN = f"""{WHEN}\
  - {{asks: just under, kind: ash, rot: deep, wood left: 19.5 mm, verdict: scrap}}
  - {{asks: on the line, kind: ash, rot: deep, wood left: 20 mm, says: nothing}}
  - {{asks: little rot, kind: ash, rot: light, wood left: 5 mm, says: nothing}}
"""

SOUND_WINDOW = f"""{WINDOW.replace("[warm the rail]", "[Warm the rail.]").replace("[gloves]", "[Wear gloves.]")}\
  - {{asks: on the line, damp: 40 %, says: do}}
  - {{asks: just under, damp: 39 %, says: nothing}}
  - {{asks: on the line, damp: 80 %, says: do}}
  - {{asks: just over, damp: 81 %, says: nothing}}
"""

COVER_FILE, CHART_FILE, WHEN_FILE = "rules/rulebook.yaml", "rules/rails/crack.yaml", "rules/rails/rot.yaml"
WINDOW_FILE, TABLE_FILE = "rules/mending/glue.yaml", "rules/limits/load.yaml"
VOCABULARY_FILE = "knowledge/vocabulary/all.yaml"

SOUND = {
    COVER_FILE: SOUND_COVER,
    CHART_FILE: SOUND_CHART,
    WHEN_FILE: SOUND_WHEN,
    WINDOW_FILE: SOUND_WINDOW,
}


def replaced(text: str, before: str, after: str) -> str:
    """Return `text` with the one place where `before` stands changed."""
    assert text.count(before) == 1, before
    return text.replace(before, after)


def faults(folder: Path, changed: Mapping[str, str | None]) -> list[str]:
    """Return what the checks say of the sound book with some files changed, with places from its folder on."""
    write_book(folder, **{**SOUND, **changed})
    return [fault.removeprefix(f"{folder}/") for fault in check_book(open_ladders(folder))]
