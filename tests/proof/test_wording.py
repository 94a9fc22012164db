from pathlib import Path

import pytest

from tests.proof.sound_ladders import (
    CHART_FILE,
    SOUND_CHART,
    SOUND_WHEN,
    SOUND_WINDOW,
    VOCABULARY_FILE,
    WHEN_FILE,
    WINDOW_FILE,
    faults,
    replaced,
)
from tests.rulebook.ladders import VOCABULARY

ROT = "because: Rot this deep leaves no sound wood."


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("because: Too rotten", "because: the sentence does not end. Close it with a full stop."),
        ("because: Long split length.", "because: this is not the word of the vocabulary. Write 'crack length'"),
        ("because: Bad Material.", "because: this is not the word of the vocabulary. Write 'kind' for 'material'."),
        ("because: Rot < wood.", "because: a '<' or '>' stands alone."),
        (f"{ROT}\nhold: Look at it in 2 weeks.\ncleared by: {{rot: none}}",
         "hold: a number is typed in the sentence. Write <limit>"),
        (f"{ROT}\nstop: Get down", "stop: the sentence does not end."),
        (f"{ROT}\ndo: [Saw it up., Burn it]", "do: the sentence does not end."),
        (f"{ROT}\ncaution: [Mind splinters]", "caution: the sentence does not end."),
    ],
)  # fmt: skip
def test_a_slip_in_a_sentence_is_named(tmp_path: Path, said: str, told: str) -> None:
    [fault] = faults(tmp_path, {WHEN_FILE: replaced(SOUND_WHEN, ROT, said)})
    assert fault.startswith(f"{WHEN_FILE}:1: {told}")
    assert "It reads: " in fault


def test_the_line_of_a_chart_is_named(tmp_path: Path) -> None:
    text = replaced(SOUND_CHART, "more than a mend holds.", "more than a mend of this material holds.")
    [fault] = faults(tmp_path, {CHART_FILE: text})
    assert fault.startswith(f"{CHART_FILE}:16: because: ")


@pytest.mark.parametrize("said", ["Immaterial.", "Damp of <damp>.", "A crack length as long."])
def test_only_whole_words_outside_the_brackets_count(tmp_path: Path, said: str) -> None:
    text = replaced(SOUND_WINDOW, "Damp of <damp> keeps the glue from setting.", said)
    assert faults(tmp_path, {WINDOW_FILE: text}) == []


def test_of_two_synonyms_the_longer_is_answered(tmp_path: Path) -> None:
    vocabulary = replaced(VOCABULARY, "synonyms: [material]", "synonyms: [split, material]")
    rule = replaced(SOUND_WHEN, ROT, "because: The split length is too much.")
    [fault] = faults(tmp_path, {VOCABULARY_FILE: vocabulary, WHEN_FILE: rule})
    assert "Write 'crack length' for 'split length'." in fault


def test_a_synonym_that_is_part_of_a_fact_is_a_plain_word(tmp_path: Path) -> None:
    vocabulary = replaced(VOCABULARY, "synonyms: [material]", "synonyms: [wood]")
    assert faults(tmp_path, {VOCABULARY_FILE: vocabulary}) == []
