"""A book stays open in a process, and never longer than its files stay as they are."""

import os
from pathlib import Path

import pytest

from mendbook.proof.permission import open_permitted
from mendbook.rulebook.book import KEPT, Rulebook, open_book
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError
from tests.rulebook.ladders import FILES, WHEN, open_ladders, write_book
from tests.rulebook.own_ladders import OWN_COVER, TODAY, answered, open_own

CRACK = "rules/rails/crack.yaml"


def change(file: Path, old: str, new: str) -> None:
    """Write `new` for `old`, as long, and put the times of the file back."""
    assert len(old) == len(new)
    before, text = file.stat(), file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert (file.stat().st_size, file.stat().st_mtime_ns) == (before.st_size, before.st_mtime_ns)


def test_while_nothing_changes_it_is_read_once(tmp_path: Path) -> None:
    write_book(tmp_path)
    assert open_ladders(tmp_path) is open_ladders(tmp_path)


@pytest.mark.parametrize(
    ("place", "old", "new", "told"),
    [
        (CRACK, "up to 60 mm", "up to 50 mm", lambda book: book.by_id()["rails/crack"].lines),
        ("rules/limits/load.yaml", "90 x 3 kg", "80 x 3 kg", lambda book: book.tables),
        ("rules/rulebook.yaml", "owner: nobody", "owner: a body", lambda book: book.owner),
        ("knowledge/vocabulary/all.yaml", "error: 2 mm", "error: 3 mm", lambda book: book.vocabulary["crack length"]),
        ("knowledge/sources/house.yaml", "title: our own", "title: yourown", lambda book: book.sources["house"].title),
    ],
)
def test_a_change_that_leaves_size_and_time_as_they_were_is_seen(
    place: str, old: str, new: str, told: object, tmp_path: Path
) -> None:
    assert callable(told)
    write_book(tmp_path)
    first = open_ladders(tmp_path)
    change(tmp_path / place, old, new)
    second = open_ladders(tmp_path)
    assert told(first) != told(second)
    assert first.digest != second.digest
    change(tmp_path / place, new, old)
    third = open_ladders(tmp_path)
    assert (told(third), third.digest) == (told(first), first.digest)


def test_a_file_that_comes_goes_or_is_renamed_is_seen(tmp_path: Path) -> None:
    def rules() -> set[str]:
        return set(open_ladders(tmp_path).by_id())

    write_book(tmp_path)
    shipped = rules()
    more, moved = tmp_path / "rules/rails/more.yaml", tmp_path / "rules/rails/moved.yaml"
    more.write_text(WHEN.replace("rotten rail", "more rot"), encoding="utf-8")
    assert rules() == shipped | {"rails/more"}
    more.rename(moved)
    assert rules() == shipped | {"rails/moved"}
    moved.unlink()
    assert rules() == shipped


def test_the_same_files_elsewhere_are_another_book(tmp_path: Path) -> None:
    write_book(tmp_path / "here")
    write_book(tmp_path / "there")
    here, there = open_ladders(tmp_path / "here"), open_ladders(tmp_path / "there")
    assert here.digest == there.digest
    assert [Path(rule.file).parts[-4] for rule in (here.rules[0], there.rules[0])] == ["here", "there"]


def test_what_is_refused_is_refused_again_and_opens_when_it_is_mended(tmp_path: Path) -> None:
    write_book(tmp_path, **{CRACK: FILES[CRACK].replace("mm", "kg", 1)})
    for _ in range(2):
        with pytest.raises(RulebookError):
            open_ladders(tmp_path)
    write_book(tmp_path)
    good = open_ladders(tmp_path)
    (tmp_path / CRACK).write_text("rule: [", encoding="utf-8")
    with pytest.raises(DocumentError):
        open_ladders(tmp_path)
    write_book(tmp_path)
    assert open_ladders(tmp_path) is good


def test_an_own_book_is_kept_with_the_one_beneath(tmp_path: Path) -> None:
    first = open_own(tmp_path, {"rails/mine.yaml": WHEN})

    def again() -> Rulebook:
        return open_permitted(tmp_path / "rules", tmp_path / "knowledge", tmp_path / "own", today=TODAY)

    assert again() is first
    change(tmp_path / "own/rails/mine.yaml", "below 20 mm", "below 30 mm")
    second = again()
    assert first.by_id()["rails/mine"].lines != second.by_id()["rails/mine"].lines
    change(tmp_path / CRACK, "up to 60 mm", "up to 50 mm")
    third = again()
    assert second.by_id()["rails/crack"].lines != third.by_id()["rails/crack"].lines
    assert open_book(tmp_path / "rules", tmp_path / "knowledge").own is None


def test_whether_it_may_is_asked_anew_each_time(tmp_path: Path) -> None:
    looser = FILES[CRACK].replace("up to 60 mm", "up to 70 mm")
    open_own(tmp_path, {"rails/crack.yaml": looser}, OWN_COVER + answered("rule", "rails/crack"))
    with pytest.raises(RulebookError, match="still to come"):
        open_permitted(
            tmp_path / "rules", tmp_path / "knowledge", tmp_path / "own", today=TODAY.replace(day=1)
        )  # fmt: skip


def test_no_more_are_kept_than_a_process_needs(tmp_path: Path) -> None:
    places = [tmp_path / str(number) for number in range(KEPT + 1)]
    for place in places:
        write_book(place)
    books = [open_ladders(place) for place in places]
    assert open_ladders(places[-1]) is books[-1]
    assert open_ladders(places[0]) is not books[0]


def test_nobody_writes_into_a_book_that_others_share(book: Rulebook) -> None:
    for shared in (book.sources, book.methods, book.vocabulary.facts, book.vocabulary.synonyms):
        with pytest.raises(TypeError):
            shared["new"] = next(iter(shared.values()))  # type: ignore[index]  # what mypy refuses, the map refuses, too


def test_a_file_that_cannot_be_read_is_one_error(tmp_path: Path) -> None:
    write_book(tmp_path)
    (tmp_path / "rules/rails/gone.yaml").symlink_to(tmp_path / "nowhere.yaml")
    with pytest.raises(DocumentError, match=r"gone\.yaml: there is no such file"):
        open_ladders(tmp_path)
