from pathlib import Path

from tests.proof.sound_ladders import SOUND_WHEN, VOCABULARY_FILE, WHEN_FILE, faults, replaced
from tests.rulebook.ladders import VOCABULARY

DAMP = "  damp:\n    means: damp of the air\n"


def of_stage(stage: str) -> str:
    """Return the vocabulary in which damp is known from a stage on."""
    return replaced(VOCABULARY, DAMP, f"{DAMP}    stage: {stage}\n")


PRINTED = replaced(SOUND_WHEN, "Rot this deep leaves no sound wood.", "Rot is deep, and the air holds <damp>.")
LOOKED_AT = replaced(VOCABULARY, "    means: wood left beside the crack\n", "    means: wood left\n    stage: work\n")


def told(folder: Path, changed: dict[str, str | None]) -> list[str]:
    return [fault for fault in faults(folder, changed) if "is known from the stage" in fault]


def test_a_rule_that_looks_at_a_fact_of_a_later_stage_is_named(tmp_path: Path) -> None:
    found = told(tmp_path, {VOCABULARY_FILE: LOOKED_AT})
    assert found
    for fault in found:
        assert "'wood left' is known from the stage 'work' on, and this rule speaks before, in 'look'." in fault
    assert any(fault.startswith(f"{WHEN_FILE}:1: ") for fault in found)


def test_a_fact_that_is_only_printed_counts_too(tmp_path: Path) -> None:
    [fault] = told(tmp_path, {VOCABULARY_FILE: of_stage("work"), WHEN_FILE: PRINTED})
    assert fault.startswith(f"{WHEN_FILE}:1: 'damp' is known from the stage 'work' on")


def test_a_fact_of_its_own_or_an_earlier_stage_may_be_looked_at(tmp_path: Path) -> None:
    assert told(tmp_path, {VOCABULARY_FILE: of_stage("look"), WHEN_FILE: PRINTED}) == []
    assert told(tmp_path, {VOCABULARY_FILE: of_stage("work")}) == []
