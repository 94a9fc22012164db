from pathlib import Path

from tests.proof.sound_ladders import VOCABULARY_FILE, faults, replaced
from tests.rulebook.ladders import VOCABULARY


def test_a_synonym_of_two_facts_is_refused(tmp_path: Path) -> None:
    text = replaced(VOCABULARY, "synonyms: [material]", "synonyms: [split length]")
    assert faults(tmp_path, {VOCABULARY_FILE: text}) == [
        "knowledge/vocabulary/all.yaml:33: 'split length' is a synonym of 'crack length' and 'kind', so it names "
        "neither. Leave it with one of them."
    ]


def test_a_synonym_that_is_a_fact_is_refused(tmp_path: Path) -> None:
    text = replaced(VOCABULARY, "synonyms: [material]", "synonyms: [rot]")
    assert faults(tmp_path, {VOCABULARY_FILE: text}) == [
        "knowledge/vocabulary/all.yaml:33: 'rot' is a synonym of 'kind' and a fact of its own. "
        "Delete the synonym, or give the fact another name."
    ]
