"""What a sheet gives is what the reader of yards takes: nothing of it is a fault to it."""

from datetime import date
from pathlib import Path

import pytest
import yaml

from mendbook.rulebook.book import Rulebook
from mendbook.yard.reading import YardReader
from tests.yard.sheets.yards import HEADINGS, ROWS, as_csv, as_lines, read, write

ON = date(2026, 11, 25)


def test_the_shipped_examples(tmp_path: Path, root: Path, book: Rulebook) -> None:
    written = [path for path in sorted(root.glob("examples/*/*.yaml")) if "injuries" in path.read_text()]
    trees = [yaml.load(path.read_text(), yaml.BaseLoader) for path in written]
    seen = read(as_lines(tmp_path / "cases.jsonl", trees), book)
    found = YardReader(book, ON).read(seen.tyres, seen.injuries)
    assert found.faults.is_empty()


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_bare_numbers_in_the_unit_of_their_heading(unit: str, tmp_path: Path, book: Rulebook) -> None:
    headings = [heading.replace("length [mm]", f"length [{unit}]") for heading in HEADINGS]
    seen = read(write(tmp_path / "a.csv", as_csv(headings, ROWS)), book)
    found = YardReader(book, ON).read(seen.tyres, seen.injuries)
    length = found.injuries.get_column("length@1")[0]
    assert length == pytest.approx(48 if unit == "mm" else 48 * 25.4)
    assert found.faults.is_empty()
