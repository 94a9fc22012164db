"""Ten million rows of an invented yard, read in whole tyres: rows a second against bare reading, and peak memory."""

import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import polars as pl
import pytest

ROWS = 10_000_000
PART = 500_000
MOST_MEMORY_MB = 3000
HEADINGS = (
    "designation", "date code", "duty", "use", "valve core", "heat event", "moisture", "kind", "zone", "side",
    "reaches",
)  # fmt: skip
MEASURES = ("tread left [mm]", "pressure at removal [bar]", "length [mm]", "width [mm]", "depth [mm]", "clock [deg]")
INJURY = ("kind", "zone", "side", "reaches", "length [mm]", "width [mm]", "depth [mm]", "clock [deg]")
WORDS = ("26.5R25", "2220", "load and carry", "off-road", "out", "none", "dry", "cut", "shoulder", "crown", "plies")

_READ = """
import resource, sys, time
from mendbook.folders import folder
from mendbook.rulebook.book import open_book
from mendbook.yard.sheets import open_sheet

vocabulary = open_book(folder("rules"), folder("knowledge")).vocabulary
begin = time.perf_counter()
with open_sheet([sys.argv[1]], vocabulary) as sheet:
    assert sum(batch.rows for batch in sheet.batches()) == sheet.rows == int(sys.argv[2])
seconds = time.perf_counter() - begin
print(seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000)
"""


def write(path: Path, *, together: bool) -> None:
    """Write an invented yard; the rows of a tyre lie together, or anywhere."""
    drawn = np.random.default_rng(5)
    with path.open("wb") as file:
        for begin in range(0, ROWS, PART):
            tags = np.arange(begin, begin + PART) // 2 if together else drawn.integers(0, ROWS // 2, PART)
            columns = {"tag": [f"T{tag:08}" for tag in tags]}
            columns |= {name: [word] * PART for name, word in zip(HEADINGS, WORDS, strict=True)}
            for name in MEASURES:
                numbers = drawn.integers(1, 10, PART) if name in INJURY else tags % 9 + 1
                columns[name] = numbers.astype(str).tolist()
            pl.DataFrame(columns).write_csv(file, include_header=not begin)


@pytest.mark.benchmark
@pytest.mark.parametrize("together", [True, False])
def test_ten_million_rows_in_bounded_memory(together: bool, tmp_path: Path) -> None:
    path = tmp_path / "yard.csv"
    write(path, together=together)
    done = subprocess.run(
        [sys.executable, "-c", _READ, str(path), str(ROWS)], capture_output=True, text=True, check=True
    )
    seconds, peak = (float(part) for part in done.stdout.split())
    begin = time.perf_counter()
    for _ in pl.scan_csv(path, infer_schema=False).collect_batches():
        pass
    bare = time.perf_counter() - begin
    order = "together" if together else "apart"
    print(f"\nrows of a tyre {order}: {ROWS / seconds:,.0f} rows/s, {seconds / bare:.1f} times bare, {peak:.0f} MB")
    assert peak < MOST_MEMORY_MB
