from pathlib import Path

import pytest

from mendbook.proof.seal import HEAD, find_changes, listing, write_seal
from mendbook.rulebook.book import Rulebook
from tests.proof.sound_ladders import (
    CHART_FILE,
    COVER_FILE,
    SOUND,
    SOUND_CHART,
    SOUND_COVER,
    SOUND_WHEN,
    SOUND_WINDOW,
    TABLE_FILE,
    VOCABULARY_FILE,
    WHEN_FILE,
    WINDOW_FILE,
    replaced,
)
from tests.rulebook.ladders import TABLE, VOCABULARY, open_ladders, write_book

MEANT = "since the book was sealed. If this is meant, seal it anew: 'mendbook rulebook seal'."


def changes(folder: Path, file: str, text: str | None) -> list[str]:
    """Return what is told of the sound book, sealed, after one of its files was changed."""
    write_book(folder / "before", **SOUND)
    write_book(folder / "after", **{**SOUND, file: text})
    told = list(find_changes(open_ladders(folder / "after"), write_seal(open_ladders(folder / "before"))))
    assert all(fault.startswith("seal.txt: ") and fault.endswith(f" {MEANT}") for fault in told)
    return [fault.removeprefix("seal.txt: ").removesuffix(f" {MEANT}") for fault in told]


def test_a_book_that_did_not_change_keeps_its_seal(tmp_path: Path) -> None:
    assert changes(tmp_path, CHART_FILE, SOUND_CHART) == []


def test_examples_and_comments_are_no_part_of_it(tmp_path: Path) -> None:
    assert changes(tmp_path, CHART_FILE, f"# a comment\n{SOUND_CHART}".replace("asks: rotten", "asks: rot")) == []


def test_every_book_says_when_it_was_sealed_and_lists_each_thing_once(book: Rulebook) -> None:
    head, edition, *lines = write_seal(book).splitlines()
    assert head == HEAD
    assert edition == f"# {book.edition}, {book.date}, {book.owner}"
    assert len(lines) == len(listing(book)) == len({line.partition(" = ")[0] for line in lines})
    assert len(lines) > 2 * len(book.rules) + len(book.tables)


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        (
            TABLE_FILE, replaced(TABLE, "90 x 3 kg", "900 x 3 kg"),
            "table load by kind, crack length: up to 20 mm, kind: [ash, spruce]: "
            "it was '90 x 3 kg' and is '900 x 3 kg'",
        ),
        (
            WHEN_FILE, replaced(SOUND_WHEN, "this deep", "so deep"),
            "rule rails/rot, line 1: its words read otherwise",
        ),
        (
            WHEN_FILE, replaced(SOUND_WHEN, "applies to: {kind: ash}", "applies to: {kind: spruce}"),
            "rule rails/rot: it was 'look, when, for kind: ash' and is 'look, when, for kind: spruce'",
        ),
        (
            WINDOW_FILE, replaced(SOUND_WINDOW, "cap: {load: half}", "cap: {load: all}"),
            "rule mending/glue, line 1: it was 'damp: at least 40 % and up to 80 %: rule out, cap, do, caution, "
            "hot glue, load half (house, glue)' and is 'damp: at least 40 % and up to 80 %: rule out, cap, do, "
            "caution, hot glue, load all (house, glue)'",
        ),
        (
            VOCABULARY_FILE,
            replaced(VOCABULARY, "reading error: 2 mm", "reading error: 1 mm"),
            "fact crack length: it was 'injury, 0 to 900 mm, worse when bigger, error 2, error 1 when cleaned is yes, "
            "in rails, missing 0' and is 'injury, 0 to 900 mm, worse when bigger, error 1, "
            "error 1 when cleaned is yes, "
            "in rails, missing 0'",
        ),
        (
            VOCABULARY_FILE, replaced(VOCABULARY, "damp of the air", "how damp the air is"),
            "fact damp: its words read otherwise",
        ),
        (
            COVER_FILE, replaced(SOUND_COVER, "refer to: the smith", "refer to: the joiner"),
            "rule rulebook/not covered 1, line 1: its words read otherwise",
        ),
        (
            COVER_FILE, replaced(SOUND_COVER, "[hot glue, cold glue]", "[cold glue, hot glue]"),
            "cover, method glue: it was 'hot glue, cold glue' and is 'cold glue, hot glue'",
        ),
    ],
)  # fmt: skip
def test_each_change_is_told_in_its_own_words(file: str, text: str, told: str, tmp_path: Path) -> None:
    assert changes(tmp_path, file, text) == [told]


def test_a_rule_that_is_gone_and_one_that_is_new_are_told(tmp_path: Path) -> None:
    assert changes(tmp_path / "gone", WHEN_FILE, None) == [
        "rule rails/rot: it is gone (it was: look, when, for kind: ash)",
        "rule rails/rot, line 1: it is gone (it was: rot: [deep, through], wood left: below 20 mm: verdict, scrap "
        "(ladder standard, clause 5))",
    ]
    [first, second] = changes(tmp_path / "new", "rules/rails/more.yaml", SOUND_WHEN)
    assert first == "rule rails/more: it is new (look, when, for kind: ash)"
    assert second.startswith("rule rails/more, line 1: it is new (")


def test_a_seal_that_cannot_be_read_is_told_once(book: Rulebook) -> None:
    """Such as one with the marks of two people's changes in it."""
    assert list(find_changes(book, f"{HEAD}\n<<<<<<< mine\n")) == [
        "seal.txt: '<<<<<<< mine' is no line of a seal. Seal the book anew: 'mendbook rulebook seal'."
    ]
