"""A sheet reviewed: its rows are decided, undecided, joined or in quarantine, and the sums are those of the sheet."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
import yaml

from mendbook.triage.shop import Shop
from mendbook.yard.review import Reviewer
from mendbook.yard.run.sums import Sums, count
from mendbook.yard.sheets import open_sheet
from tests.yard.sheets.yards import as_csv, as_lines, write

ON = date(2026, 11, 25)
# Invented, with a fault of every kind that a row can have.
HEADINGS = ("tag", "designation", "date code", "use", "duty", "name", "zone", "length [mm]", "depth", "remarks")
ROWS = (
    ("A", "26.5R25", "0321", "off-road", "grader", "X", "shoulder", "48", "12 mm", ""),
    ("A", "26.5R25", "0321", "off-road", "grader", "Y", "bead", "20", "8 mm", ""),
    ("B", "26.5R25", "9921", "off-road", "grader", "", "shoulder", "48", "12 mm", "no week 99"),
    ("B", "26.5R25", "9921", "off-road", "grader", "", "bead", "48", "12 mm", ""),
    ("C", "20.5R25", "", "", "", "", "", "", "", "no injury"),
    ("D", "20.5R25", "", "", "", "", "", "", "", ""),
    ("D", "", "", "", "", "Z", "shoulder", "20", "about 5", "no reading"),
    ("E", "20.5R25", "", "", "", "", "", "", "", ""),
    ("E", "", "", "", "", "Z", "shoulder", "20", "5 mm", "the first row is of the tyre alone"),
    ("", "", "", "", "", "", "shoulder", "20", "5 mm", "no tag"),
    ("F", "20.5R25", "", "", "", "", "shoulder", "20", "5", "no unit"),
    ("G", "20.5R25", "", "", "", "", "shoulder", "20", "5 mm", "goes wrong below"),
    ("", "", "", "", "", "", "", "", "", ""),
    ("G", "20.5R25", "5"),
)


def review(paths: Sequence[Path], shop: Shop, size: int) -> Sums:
    """Return the sums of a review, each part of which adds up by itself."""
    reviewer = Reviewer(shop, ON)
    with open_sheet(paths, shop.book.vocabulary) as sheet:
        parts = [
            count(batch, reviewer.review(batch), f"part {place}") for place, batch in enumerate(sheet.batches(size))
        ]
        found = sum(parts, Sums())
        assert found.rows == sheet.rows
    return found


@pytest.mark.parametrize("size", [1, 3, 100])
def test_one_sheet(size: int, tmp_path: Path, shop: Shop) -> None:
    found = review([write(tmp_path / "a.csv", as_csv(HEADINGS, ROWS))], shop, size)
    assert (found.rows, found.joined) == (13, 2)
    assert found.quarantined == 7  # both of B, D below, no tag, F, both of G
    assert found.decided + found.undecided == 4


@pytest.mark.parametrize("size", [1, 3, 100])
def test_two_sheets(size: int, tmp_path: Path, shop: Shop) -> None:
    tyres = (
        "tag,designation,date code\nA,26.5R25,0321\nB,26.5R25,9921\nC,20.5R25,\nD,20.5R25\nE,20.5R25,9921\nC,20.5R25,\n"
    )
    injuries = "tag,length [mm]\nC,1\nA,2\nX,3\nB,4\nA,1,2\nE,1,2\nA,5\n"
    paths = [write(tmp_path / "tyres.csv", tyres), write(tmp_path / "injuries.csv", injuries)]
    found = review(paths, shop, size)
    assert found.rows == 13
    assert found.decided + found.undecided == 1  # the injury of C: A has a broken row, B and E no such week
    assert found.joined == 4


def test_whole_cases(tmp_path: Path, root: Path, shop: Shop) -> None:
    written = [path for path in sorted(root.glob("examples/*/*.yaml")) if "injuries" in path.read_text()]
    trees = [yaml.load(path.read_text(), yaml.BaseLoader) for path in written]
    found = review([as_lines(tmp_path / "cases.jsonl", trees)], shop, 4)
    assert found.rows == sum(max(1, len(tree["injuries"])) for tree in trees)
    assert not found.quarantined
