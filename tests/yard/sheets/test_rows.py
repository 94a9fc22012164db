"""Rows that cannot be judged are set aside, each with its reason, and the rest goes on."""

from pathlib import Path

import pytest

from mendbook.rulebook.book import Rulebook
from tests.yard.sheets.yards import Seen, as_csv, as_lines, read, write


def sheet(text: str, tmp_path: Path, book: Rulebook) -> Seen:
    return read(write(tmp_path / "a.csv", text), book)


def test_one_tag_on_different_tyres(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet("tag,designation,length [mm]\nA,26.5R25,1\nB,20.5R25,2\nA,26.5R29,3\n", tmp_path, book)
    assert seen.tyres.get_column("tag").to_list() == ["B"]
    reasons = seen.reasons()
    assert set(reasons) == {4}
    assert "'26.5R29' stands here, and '26.5R25' in row 2" in reasons[4]
    assert seen.faults.select("tyre", "column").rows() == [(0, "designation")]


def test_a_row_without_a_tag(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet("tag,length [mm]\nA,1\n,2\n , \nB,3\n", tmp_path, book)
    assert set(seen.reasons()) == {3}
    assert "no tag" in seen.reasons()[3]
    assert seen.blank == 1
    assert seen.injuries.get_column("row").to_list() == [2, 5]


def test_two_injuries_of_one_name(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet("tag,name,length [mm]\nA,X,1\nA,X,2\nB,X,3\nA,Y,4\n", tmp_path, book)
    assert set(seen.reasons()) == {2, 3}
    assert seen.tyres.get_column("tag").to_list() == ["B"]
    assert "two injuries of this tyre are called 'X'" in seen.reasons()[3]


def test_a_row_that_was_forgotten(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet("tag,designation,length [mm]\nA,26.5R25,1\nA,26.5R25,\n", tmp_path, book)
    assert "and this one of none" in seen.reasons()[3]


def test_a_tyre_that_stands_twice_without_an_injury(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet("tag,designation,length [mm]\nA,26.5R25,\nA,26.5R25,\n", tmp_path, book)
    assert seen.tyres.height == 1
    assert seen.rows == 2
    assert not seen.faults.height


@pytest.mark.parametrize("line", ["A,1,2,3", "A", "A,48,5"])
def test_a_row_that_does_not_fit_takes_its_tyre_with_it(line: str, tmp_path: Path, book: Rulebook) -> None:
    seen = sheet(f"tag,length [mm]\nA,1\nB,2\n{line}\nC,3\n", tmp_path, book)
    assert set(seen.reasons()) == {4}
    assert "cells, and there are 2 headings" in seen.reasons()[4]
    assert seen.tyres.get_column("tag").to_list() == ["B", "C"]


def test_one_bad_row_among_many(tmp_path: Path, book: Rulebook) -> None:
    rows = [(f"T{place}", str(place % 90 + 1)) for place in range(20_000)]
    text = as_csv(("tag", "length [mm]"), rows).splitlines()
    text[12_345] += ",what is this"
    seen = sheet("\n".join(text), tmp_path, book)
    assert set(seen.reasons()) == {12_346}
    assert seen.injuries.height == len(rows) - 1


@pytest.mark.parametrize(("line", "is_read"), [
    ('B,2",y', True), ('B,"2"" long",y', True), ('B,"2,y', False), ('B,"2" long,y', False), ('"B",2,y', True),
])  # fmt: skip
def test_quotes_where_none_should_be(line: str, is_read: bool, tmp_path: Path, book: Rulebook) -> None:
    seen = sheet(f'tag,length,remarks\nA,1 in,x\n{line}\nC,3 in,"x, y"\n', tmp_path, book)
    assert seen.tyres.get_column("tag").to_list() == (["A", "B", "C"] if is_read else ["A", "C"])
    if not is_read:
        assert "opens with a double quote" in seen.reasons()[3]


def test_cells_of_several_lines_and_blank_lines_keep_the_count(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet('tag,length [mm],remarks\nA,1,"two\nlines"\n\nB,2,x\n\n\nC,3,x\n\n', tmp_path, book)
    assert seen.injuries.get_column("row").to_list() == [2, 4, 7]
    seen = sheet("tag,length [mm]\nA,1\n\nB,2\n\n\nC,3\n\n", tmp_path, book)
    assert seen.injuries.get_column("row").to_list() == [2, 4, 7]


def test_all_rows_bad(tmp_path: Path, book: Rulebook) -> None:
    seen = sheet("tag,judged on,length [mm]\nA,5/6/2026,1\nB,6/7/2026,2\n", tmp_path, book)
    assert not seen.tyres.height
    assert set(seen.reasons()) == {2, 3}
    assert all("may be day" in words for words in seen.reasons().values())


def test_an_injury_without_a_tyre(tmp_path: Path, book: Rulebook) -> None:
    tyres = write(tmp_path / "tyres.csv", "tag,designation\nA,26.5R25\nB,20.5R25\n")
    injuries = write(tmp_path / "injuries.csv", "tag,length [mm]\nA,1\nX,2\n,3\n")
    seen = read([tyres, injuries], book)
    assert "no tyre with the tag 'X'" in seen.reasons()[3]
    assert "no tag" in seen.reasons()[4]
    assert seen.tyres.get_column("tag").to_list() == ["A", "B"]
    assert seen.injuries.height == 1


def test_a_tyre_twice_in_the_sheet_of_tyres(tmp_path: Path, book: Rulebook) -> None:
    tyres = write(tmp_path / "tyres.csv", "tag,designation\nA,26.5R25\nB,20.5R25\nA,29.5R25\n")
    injuries = write(tmp_path / "injuries.csv", "tag,length [mm]\nA,1\nB,2\n")
    seen = read([tyres, injuries], book)
    assert seen.tyres.get_column("tag").to_list() == ["B"]
    assert f"in {tyres}, row 4: '29.5R25' stands here, and '26.5R25' in row 2" in seen.reasons()[2]
    assert seen.rows == 5


def test_a_broken_row_in_either_sheet(tmp_path: Path, book: Rulebook) -> None:
    tyres = write(tmp_path / "tyres.csv", "tag,designation\nA,26.5R25\nB,20.5R25\nC\nD,23.5R25\nE,23.5R25\n")
    injuries = write(tmp_path / "injuries.csv", "tag,length [mm]\nA,1\nA,1,2\nB,3\nE,1,2\nC,7\n")
    seen = read([tyres, injuries], book, size=2)
    assert seen.tyres.get_column("tag").to_list() == ["B", "D"]
    told = sorted((row, words[:40]) for row, words in seen.faults.select("row", "words").rows())
    assert [row for row, _ in told] == [3, 4, 5, 6, 6]
    assert seen.rows == 10


@pytest.mark.parametrize(("line", "why"), [
    ("{not json", "not JSON"), ('{"tag": "A", "length": {"a": 1}}', "more than one value"),
    ('{"tag": "A", "tag": "B"}', "'tag' stands twice"), ("[1, 2]", "no object"), ("[" * 90_000, "too deep"),
])  # fmt: skip
def test_a_line_that_is_no_injury(line: str, why: str, tmp_path: Path, book: Rulebook) -> None:
    good = [{"tag": tag, "length": "48 mm"} for tag in "XYZ"]
    path = as_lines(tmp_path / "a.jsonl", good)
    path.write_text(path.read_text() + line + "\n")
    seen = read(path, book)
    assert why in seen.reasons()[4]
    assert seen.tyres.height == 3


def test_later_lines_may_have_further_columns(tmp_path: Path, book: Rulebook) -> None:
    path = as_lines(
        tmp_path / "a.jsonl", [{"tag": "A", "length": "1 mm"}, {"tag": "B", "depth": "2 mm", "skived": True}]
    )
    seen = read(path, book)
    assert seen.injuries.select("length", "depth", "skived").rows() == [("1 mm", None, None), (None, "2 mm", "yes")]
