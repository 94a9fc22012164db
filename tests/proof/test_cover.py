"""Every case gets a verdict, or stands on the cover page with the person who decides."""

from dataclasses import replace
from pathlib import Path

import pytest

from mendbook.proof.cover import FreeCase, is_covered, uncovered
from mendbook.proof.speech import meets_all
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Op, Rule
from tests.proof.sound_ladders import COVER_FILE, SOUND
from tests.rulebook.ladders import COVER, open_ladders, write_book


def book_with(folder: Path, cover: str) -> Rulebook:
    write_book(folder, **{**SOUND, COVER_FILE: cover})
    return open_ladders(folder)


def chart(book: Rulebook) -> Rule:
    return book.by_id()["rails/crack"]


def test_rules_and_cover_page_together_leave_no_case_out(ladders: Rulebook) -> None:
    assert is_covered(ladders, ladders.rules)
    assert is_covered(ladders, [chart(ladders)])


def test_what_no_rule_speaks_of_is_not_covered(tmp_path: Path) -> None:
    book = book_with(tmp_path, COVER)
    assert not is_covered(book, book.rules)


@pytest.mark.parametrize(
    ("left", "covered"),
    [
        ("{kind: metal, refer to: the smith}", True),
        ("{kind: [metal, ash], refer to: the smith}", True),
        ("{kind: metal, cleaned: 'yes', refer to: the smith}", False),
        ("{kind: metal, cleaned: 'yes', refer to: the smith}\n  - {kind: metal, cleaned: 'no', refer to: them}", True),
        ("{kind: spruce, refer to: the joiner}", False),
    ],
)
def test_only_the_combinations_of_the_cover_page_are_left_out(left: str, covered: bool, tmp_path: Path) -> None:
    book = book_with(tmp_path, f"{COVER}not covered:\n  - {left}\n")
    assert is_covered(book, book.rules) is covered


def test_a_rule_that_is_silent_somewhere_covers_nothing_there(ladders: Rulebook) -> None:
    assert not is_covered(ladders, [rule for rule in ladders.rules if rule.id != "rails/crack"])
    assert not is_covered(ladders, [])


def test_lines_that_meet_leave_no_number_between_them(ladders: Rulebook) -> None:
    """Two lines cover all lengths only when one begins where the other ends."""
    rule = chart(ladders)
    upper = Bound("crack length", Op.OVER, 25.0)
    for lower, covered in (
        (Bound("crack length", Op.UP_TO, 25.0), True),
        (Bound("crack length", Op.BELOW, 25.0), False),
    ):
        lines = tuple(replace(rule.lines[2], bounds=(bound,)) for bound in (lower, upper))
        assert is_covered(ladders, [replace(rule, lines=lines)]) is covered


def test_the_case_that_is_left_out_can_be_asked_further(tmp_path: Path) -> None:
    book = book_with(tmp_path, COVER)
    case = FreeCase(book, book.rules)
    left = uncovered(book, case.row, case.speech)
    wood, metal = (Bound("kind", Op.IN, values=values) for values in (("ash", "spruce"), ("metal",)))
    assert case.is_possible(*left, meets_all((metal,), case.row))
    assert not case.is_possible(*left, meets_all((wood,), case.row))


def test_facts_keep_within_their_ranges(ladders: Rulebook) -> None:
    case = FreeCase(ladders, ladders.rules)
    for limit, possible in (
        (Bound("wood left", Op.AT_LEAST, 100.0), True),
        (Bound("wood left", Op.OVER, 100.0), False),
    ):
        assert case.is_possible(meets_all((limit,), case.row)) is possible
