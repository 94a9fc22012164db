from pathlib import Path

from mendbook.proof.dead_lines import find_dead_lines
from mendbook.rulebook.book import Rulebook
from tests.proof.sound_ladders import CHART_FILE, SOUND, SOUND_CHART, SOUND_WHEN, WHEN_FILE, replaced
from tests.rulebook.ladders import open_ladders, write_book


def dead(folder: Path, file: str, text: str) -> list[str]:
    write_book(folder, **{**SOUND, file: text})
    book: Rulebook = open_ladders(folder)
    return [fault.removeprefix(f"{folder}/") for fault in find_dead_lines(book)]


def test_a_line_that_the_line_above_always_beats(tmp_path: Path) -> None:
    first = "  - crack length: up to 25 mm\n    wood left: at least 10 mm\n"
    text = replaced(SOUND_CHART, first, "  - crack length: up to 80 mm\n")
    assert dead(tmp_path, CHART_FILE, text) == [
        f"{CHART_FILE}:9: this line never decides: whenever it fits, a line above it fits first. "
        "Tighten the limits above, or delete the line."
    ]


def test_a_line_that_two_lines_above_beat_together(tmp_path: Path) -> None:
    middle = "  - rot: up to light\n    verdict: keep\n    because: Sound.\n    source: house, rot\n"
    last = "  - crack length: up to 10 mm\n    verdict: mend\n    because: Sound.\n    source: house, rot\n"
    head = replaced(SOUND_CHART, "    wood left: at least 10 mm\n", "")
    text = replaced(head, "  - crack length: up to 60 mm\n", f"{middle}{last}  - crack length: up to 60 mm\n")
    [narrow, wide] = dead(tmp_path, CHART_FILE, text)
    assert narrow.startswith(f"{CHART_FILE}:13: this line never decides")
    assert wide.startswith(f"{CHART_FILE}:17: this line never decides")


def test_a_when_whose_list_lies_outside_applies_to(tmp_path: Path) -> None:
    text = replaced(SOUND_WHEN, "when:\n", "when:\n  kind: spruce\n")
    [fault] = dead(tmp_path, WHEN_FILE, text)
    assert fault.startswith(f"{WHEN_FILE}:1: this line can never fit: no value is within all its limits")


def test_a_limit_beyond_the_range_of_its_fact(tmp_path: Path) -> None:
    text = replaced(SOUND_WHEN, "  wood left: below 20 mm", "  wood left: below 0 mm")
    [fault] = dead(tmp_path, WHEN_FILE, text)
    assert fault.startswith(f"{WHEN_FILE}:1: this line can never fit")


def test_an_otherwise_that_is_never_reached(tmp_path: Path) -> None:
    text = replaced(SOUND_CHART, "  - crack length: up to 60 mm\n    rot: up to light\n", "  - rot: up to through\n")
    [fault] = dead(tmp_path, CHART_FILE, text)
    assert fault.startswith(f"{CHART_FILE}:15: 'otherwise' is never reached")
