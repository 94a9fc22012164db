from pathlib import Path

from mendbook.folders import folder
from mendbook.proof.check import CHECKS, check_book
from mendbook.rulebook.book import open_book
from mendbook.rulebook.examples import check_examples
from tests.proof.sound_ladders import faults
from tests.rulebook.ladders import open_ladders, write_book


def test_the_shipped_rulebook_has_no_fault() -> None:
    assert check_book(open_book(folder("rules"), folder("knowledge"))) == []


def test_a_sound_book_of_another_trade_has_no_fault(tmp_path: Path) -> None:
    assert faults(tmp_path, {}) == []
    assert check_examples(open_ladders(tmp_path)) == []


def test_faults_of_several_checks_are_told_together(tmp_path: Path) -> None:
    write_book(tmp_path)
    told = check_book(open_ladders(tmp_path))
    one_by_one = [set(check(open_ladders(tmp_path))) for check in CHECKS]
    assert sum(bool(found) for found in one_by_one) >= 3
    assert set(told) == set().union(*one_by_one)
