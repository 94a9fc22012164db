"""What an own book may be made of, and what it is when it lies over another."""

from pathlib import Path

import pytest

from mendbook.proof.permission import open_permitted
from mendbook.rulebook.errors import RulebookError
from tests.proof.sound_ladders import replaced
from tests.rulebook.ladders import CHART, COVER, FILES, SOURCES, TABLE, VOCABULARY, WHEN, open_ladders, write_book
from tests.rulebook.own_ladders import ANSWER, OWN_COVER, TODAY, answered, open_own, refusal

OWN_RULE = """\
rule: loose rung
asks: Is a rung loose?
applies to: {rung: loose}
when: {}
verdict: mend
because: A loose rung turns underfoot.
source: joiner's notes, rungs
examples:
  - {rung: loose, verdict: mend}
"""
OWN_FACT = """\
facts:
  rung:
    means: whether a rung turns
    about: injury
    worse when: later
    values: [firm, loose]
    written in: rails
"""
OWN_SOURCE = """\
source: joiner's notes
title: notes of the joiner
publisher: nobody
kind: house
known: ours
places: any
"""
OWN = {"rails/rung.yaml": OWN_RULE, "vocabulary/rungs.yaml": OWN_FACT, "sources/notes.yaml": OWN_SOURCE}


def test_an_own_rule_stands_on_an_own_fact_and_an_own_source(tmp_path: Path) -> None:
    book = open_own(tmp_path, OWN)
    assert {rule.id for rule in book.rules} == {"rails/crack", "rails/rot", "rails/rung", "mending/glue"}
    assert book.vocabulary["rung"].values == ("firm", "loose")
    assert book.vocabulary.synonyms["split length"] == "crack length"
    assert book.own is not None
    assert book.own.places == {"rails/rung"}
    assert (book.own.name, book.own.edition, book.own.owner) == ("our ladders", "third", "the joiner")


def test_what_lies_beneath_keeps_its_edition_and_digest(tmp_path: Path) -> None:
    book = open_own(tmp_path, OWN)
    beneath = open_ladders(tmp_path)
    assert (book.edition, book.owner, book.digest) == (beneath.edition, beneath.owner, beneath.digest)
    assert book.own is not None
    other = open_own(tmp_path, {**OWN, "rails/rung.yaml": OWN_RULE.replace("underfoot", "under a foot")})
    assert other.own is not None
    assert other.own.digest != book.own.digest


def test_a_whole_copy_is_no_change(tmp_path: Path) -> None:
    copy = {place.removeprefix("rules/"): text for place, text in FILES.items() if place.startswith("rules/")}
    del copy["rulebook.yaml"]
    copy["sources/house.yaml"] = SOURCES["house.yaml"]
    copy["vocabulary/all.yaml"] = VOCABULARY
    copy["rails/rot.yaml"] = f"# Read and kept.\n{WHEN}"
    book = open_own(tmp_path, copy, f"rulebook: a copy\n{COVER}")
    assert book.own is not None
    assert book.own.places == frozenset()
    assert {rule.id for rule in book.rules} == {rule.id for rule in open_ladders(tmp_path).rules}


def test_a_file_that_is_only_missing_is_not_withdrawn(tmp_path: Path) -> None:
    book = open_own(tmp_path, {"rails/crack.yaml": CHART})
    assert "rails/rot" in {rule.id for rule in book.rules}


@pytest.mark.parametrize(
    ("cover", "said"),
    [
        (OWN_COVER.replace("owner: the joiner\n", ""), "own/rulebook.yaml:1: the cover page does not say 'owner'"),
        (f"{OWN_COVER}loser: []\n", "own/rulebook.yaml:5: a cover page has no 'loser'\n  Did you mean 'looser'?"),
        (OWN_COVER.replace("2026-11-20", "last May"), "own/rulebook.yaml:3: 'last May' is no date"),
        (f"{OWN_COVER}verdicts: [keep, scrap]\n", "own/rulebook.yaml:5: 'verdicts' differs from the shipped book"),
        (f"{OWN_COVER}withdraw: rails/rot\n", "own/rulebook.yaml:5: withdraw is a list of rules"),
        (f"{OWN_COVER}withdraw: [rails/rod]\n", "no rule 'rails/rod'\n  Did you mean 'rails/rot'?"),
        (f"{OWN_COVER}withdraw: [limits/load]\n", "'limits/load' is a table, and a table cannot be withdrawn"),
        (f"{OWN_COVER}withdraw: [rails/rot, rails/rot]\n", "'rails/rot' is withdrawn twice"),
        (f"{OWN_COVER}looser: 'yes'\n", "own/rulebook.yaml:5: looser is a list"),
        (f"{OWN_COVER}looser: [{{{ANSWER}}}]\n", "this does not say which rule or which table is looser"),
        (f"{OWN_COVER}looser: [all]\n", "this does not say which rule or which table is looser"),
        (f"{OWN_COVER}looser:\n  - {{rule: rails/rot, on: 2026-11-20, why: So.}}\n", "does not say 'approved by'"),
        (f"{OWN_COVER}looser:\n  - {{rule: rails/rot, {ANSWER}, whim: a}}\n", "an entry has no 'whim'"),
        (OWN_COVER + answered("rule", "rails/rot").replace("2026-11-20", "20.11."), "'20.11.' is no date"),
        (OWN_COVER + 2 * "{}", "own/rulebook.yaml"),
        (f"{OWN_COVER}not covered: [{{kind: metal}}]\n", "to whom the fitter turns"),
    ],
)  # fmt: skip
def test_a_cover_that_cannot_be_used_is_one_error(cover: str, said: str, tmp_path: Path) -> None:
    try:
        message = refusal(tmp_path, {}, cover)
    except ValueError as error:  # not even YAML
        message = str(error)
    assert said in message


def test_an_entry_that_stands_twice_is_refused(tmp_path: Path) -> None:
    twice = f"{answered('rule', 'rails/rot')}  - {{rule: rails/rot, {ANSWER}}}\n"
    assert "own/rulebook.yaml:7: 'rails/rot' stands on line 6 already" in refusal(tmp_path, {}, OWN_COVER + twice)


def test_a_rule_cannot_be_withdrawn_and_stand_there(tmp_path: Path) -> None:
    message = refusal(tmp_path, {"rails/rot.yaml": WHEN}, f"{OWN_COVER}withdraw: [rails/rot]\n")
    assert message.startswith("own/rulebook.yaml:5: 'rails/rot' is withdrawn, and yet rails/rot.yaml stands")


def test_a_folder_without_a_cover_is_one_error(tmp_path: Path) -> None:
    write_book(tmp_path)
    (tmp_path / "own").mkdir()
    with pytest.raises(RulebookError, match=r"own: no rulebook.yaml here. A rulebook folder begins with its cover"):
        open_permitted(tmp_path / "rules", tmp_path / "knowledge", tmp_path / "own", today=TODAY)


def test_a_new_folder_is_refused_with_those_there_are(tmp_path: Path) -> None:
    message = refusal(tmp_path, {"rungs/rung.yaml": WHEN})
    assert message.startswith("own/rungs/rung.yaml:1: the folder 'rungs' belongs to no stage")
    assert message.endswith("An own book uses these folders: rails, mending, limits, vocabulary, sources.")


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("values: [none, light, deep, through]", "values: [none, light, deep]", "'values' of 'rot'"),
        ("values: [none, light, deep, through]", "values: [none, light, painted, deep, through]", "'values' of 'rot'"),
        ("    worse when: bigger", "    worse when: smaller", "'worse when' of 'crack length'"),
        ("range: 0 to 900", "range: 0 to 500", "'range' of 'crack length'"),
        ("reading error: 2 mm", "reading error: 1 mm", "'reading error' of 'crack length'"),
        ("    when missing: 0\n", "", "'when missing' of 'crack length'"),
    ],
)
def test_a_fact_beneath_keeps_what_rules_count_on(before: str, after: str, said: str, tmp_path: Path) -> None:
    message = refusal(tmp_path, {"vocabulary/all.yaml": replaced(VOCABULARY, before, after)})
    assert message.startswith("own/vocabulary/all.yaml:")
    assert f"{said} differs from the shipped vocabulary" in message


def test_a_fact_beneath_may_be_worded_anew(tmp_path: Path) -> None:
    text = replaced(VOCABULARY, "length of the longest crack", "the longest crack, tape held along it")
    assert open_own(tmp_path, {"vocabulary/all.yaml": text}).vocabulary["crack length"].means.startswith("the longest")


def test_a_fact_that_nobody_writes_or_works_out_is_refused(tmp_path: Path) -> None:
    message = refusal(tmp_path, {"vocabulary/rungs.yaml": replaced(OWN_FACT, "    written in: rails\n", "")})
    assert "'rung' is written in no part of a case file" in message
    assert "written in: ' and one of rails." in message


def test_a_fact_about_another_subject_than_its_part_is_refused(tmp_path: Path) -> None:
    message = refusal(tmp_path, {"vocabulary/rungs.yaml": replaced(OWN_FACT, "about: injury", "about: tyre")})
    assert "what is written in rails is not about the tyre\n  Write 'about: injury'." in message


def test_a_source_beneath_cannot_be_described_otherwise(tmp_path: Path) -> None:
    text = SOURCES["standard.yaml"].replace("kind: standard", "kind: house")
    message = refusal(tmp_path, {"sources/standard.yaml": text})
    assert message.startswith("own/sources/standard.yaml:1: the source 'ladder standard' belongs to the shipped book")


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("gives: [load, reach]", "gives: [load, span]", "does not give what the shipped one gives"),
        ("unit: kg", "unit: t", "is not in the unit of the shipped one\n  Write 'unit: kg', and"),
        ("applies to: {cleaned: 'yes'}", "applies to: {cleaned: 'yes', rot: none}", "looks at 'rot'"),
    ],
)
def test_a_table_keeps_its_shape(before: str, after: str, said: str, tmp_path: Path) -> None:
    text = replaced(TABLE, before, after)
    text = text.replace(" kg", " t") if "unit: t" in text else text
    message = refusal(tmp_path, {"limits/load.yaml": text})
    assert message.startswith("own/limits/load.yaml:1: the table 'limits/load' ")
    assert said in message


def test_a_second_table_for_the_same_facts_is_refused(tmp_path: Path) -> None:
    message = refusal(tmp_path, {"limits/other.yaml": TABLE})
    assert message.startswith("own/limits/other.yaml:1: 'load' is given here and in ")
