from pathlib import Path

from mendbook.facts.needs import NEEDED
from mendbook.facts.table_numbers import NUMBERS
from mendbook.proof.unused import find_unused
from mendbook.rulebook.book import Rulebook
from tests.proof.sound_ladders import COVER_FILE, SOUND, SOUND_CHART, WHEN_FILE, replaced
from tests.rulebook.ladders import open_ladders, write_book


def notes(folder: Path, numbers: set[str], facts: set[str], **changed: str | None) -> list[str]:
    write_book(folder, **{**SOUND, **changed})
    return [note.removeprefix(f"{folder}/") for note in find_unused(open_ladders(folder), numbers, facts)]


def test_what_everybody_uses_is_not_told(tmp_path: Path) -> None:
    assert notes(tmp_path, {"load", "reach"}, set()) == ["1 never ruled out: cold glue."]


def test_a_table_and_a_number_that_nobody_reads_are_told(tmp_path: Path) -> None:
    assert notes(tmp_path, set(), set())[0] == (
        "rules/limits/load.yaml:1: nobody reads the table 'load by kind', which gives load, reach."
    )
    assert (
        notes(tmp_path, {"load"}, set())[0]
        == "rules/limits/load.yaml:1: nobody reads reach of the table 'load by kind'."
    )


def test_a_fact_that_nobody_looks_at_is_told_with_its_place(tmp_path: Path) -> None:
    own = "facts:\n  rungs: {means: rungs left, about: tyre, worse when: smaller, unit: '', range: 0 to 30}\n"
    more = {"knowledge/vocabulary/own.yaml": own}
    assert notes(tmp_path, {"load", "reach"}, set(), **more)[0] == (
        "knowledge/vocabulary/own.yaml:2: no rule, table or derivation looks at the fact 'rungs'."
    )
    assert len(notes(tmp_path, {"load", "reach"}, {"rungs"}, **more)) == 1
    printed = replaced(SOUND_CHART, "is more than a mend holds", "with <rungs> is more than a mend holds")
    assert len(notes(tmp_path, {"load", "reach"}, set(), **more, **{"rules/rails/crack.yaml": printed})) == 1


def test_a_fact_that_only_the_cover_page_names_is_looked_at(tmp_path: Path) -> None:
    own = "facts:\n  use: {means: use, about: tyre, worse when: neither, values: [roof, wall]}\n"
    cover = replaced(SOUND[COVER_FILE], "{kind: metal,", "{kind: metal, use: roof,")
    told = notes(tmp_path, {"load", "reach"}, set(), **{"knowledge/vocabulary/own.yaml": own, COVER_FILE: cover})
    assert told == ["1 never ruled out: cold glue."]


def test_sources_that_nobody_cites_are_told_in_one_line(tmp_path: Path) -> None:
    chart = SOUND_CHART.replace("ladder standard, table 3", "house, cracks")
    told = notes(tmp_path, {"load", "reach"}, set(), **{WHEN_FILE: None, "rules/rails/crack.yaml": chart})
    assert "1 cited by no rule or table: ladder standard." in told


def test_nothing_of_the_shipped_book_is_left_over_but_sources_and_methods(book: Rulebook) -> None:
    told = list(find_unused(book, NUMBERS, {name for names in NEEDED.values() for name in names}))
    assert [note for note in told if not note[0].isdigit()] == []
    assert told[-1] == "2 never ruled out: two stages, flexible pads."
