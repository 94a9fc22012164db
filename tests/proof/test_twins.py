from pathlib import Path

from tests.proof.sound_ladders import SOUND_WHEN, WHEN_FILE, faults, replaced

COPY = "rules/rails/rot_again.yaml"


def test_a_rule_that_stands_twice_is_named(tmp_path: Path) -> None:
    [fault] = faults(tmp_path, {COPY: replaced(SOUND_WHEN, "rule: rotten rail", "rule: rot again")})
    assert fault.startswith(f"{COPY}:1: this rule says what ")
    assert fault.endswith(f"{WHEN_FILE} says. Delete one of the two.")


def test_the_same_words_for_another_place_are_no_copy(tmp_path: Path) -> None:
    elsewhere = SOUND_WHEN.replace("kind: ash", "kind: spruce")
    assert faults(tmp_path, {COPY: elsewhere}) == []
