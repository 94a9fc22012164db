"""Pictures of a cure as files."""

from pathlib import Path

import pytest

from mendbook.cli.entry import run

WALL = ["cure", "--thickness", "30 mm"]
NAMES = ["all", "by_thickness", "temperatures", "through_wall"]


def test_a_folder_gets_every_picture_twice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "drawn"
    assert run([*WALL, "--pictures", str(folder)]) == 0
    assert sorted(file.name for file in folder.iterdir()) == [
        f"cure_{n}.{end}" for n in NAMES for end in ("png", "svg")
    ]
    said = capsys.readouterr().out
    assert said.startswith("a wall of 30 mm")
    assert said.splitlines()[-1] == f"Drawn: {folder}/cure_*.svg, {folder}/cure_*.png"


def test_one_file_gets_all_pictures_and_the_json_stays_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "sheet.svg"
    file.write_text("an older picture", encoding="utf-8")
    assert run([*WALL, "--picture", str(file), "--json"]) == 0
    assert capsys.readouterr().out.endswith("}\n")
    assert file.read_text(encoding="utf-8").startswith("<?xml")


@pytest.mark.parametrize(
    ("option", "name", "why"),
    [
        ("--picture", "sheet.pdf", "its name does not say which kind of picture. End it in .svg or .png."),
        ("--picture", "nowhere/sheet.svg", "Make it first, or name another."),
        ("--pictures", "nowhere/folder", "this folder cannot be made"),
        ("--pictures", "a_file", "this folder cannot be made"),
    ],
)
def test_a_place_that_cannot_be_written_is_one_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str, name: str, why: str
) -> None:
    (tmp_path / "a_file").write_text("", encoding="utf-8")
    assert run([*WALL, option, str(tmp_path / name)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert why in " ".join(captured.err.split())
    assert captured.err.count("error: ") == 1
    assert [file.name for file in tmp_path.iterdir()] == ["a_file"]
