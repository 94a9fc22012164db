"""Rows of one tyre may lie anywhere; they come together, and nothing depends on how many come at a time."""

import random
from pathlib import Path

import polars as pl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from polars.testing import assert_frame_equal

from mendbook.rulebook.book import Rulebook
from mendbook.yard.sheets import gathering, layout
from tests.yard.sheets.yards import as_csv, read, write

HEADINGS = ("tag", "designation", "name", "length [mm]")


def rows(tags: list[int]) -> list[tuple[str, str, str, str]]:
    return [(f"T{tag}", f"{tag % 9 + 12}.00R25", f"row {place}", str(place)) for place, tag in enumerate(tags)]


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(tags=st.lists(st.integers(0, 6), min_size=1, max_size=30), size=st.integers(1, 4))
def test_whole_tyres_in_the_order_in_which_they_appear(
    tags: list[int], size: int, tmp_path: Path, book: Rulebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gathering, "ROWS_A_HEAP", 7)
    monkeypatch.setattr(layout, "ROWS_AT_ONCE", 5)
    seen = read(write(tmp_path / "a.csv", as_csv(HEADINGS, rows(tags))), book, size=size)
    order = list(dict.fromkeys(tags))
    assert seen.tyres.get_column("tag").to_list() == [f"T{tag}" for tag in order]
    expected = [(order.index(tag), place + 2) for place, tag in enumerate(tags)]
    assert seen.injuries.select("tyre", "row").rows() == sorted(expected)
    assert not seen.faults.height


def test_batches_of_any_size_hold_the_same(tmp_path: Path, book: Rulebook) -> None:
    tags = [random.Random(7).randrange(40) for _ in range(300)]
    path = write(tmp_path / "a.csv", as_csv(HEADINGS, rows(tags)))
    one, many = read(path, book), read(path, book, size=3)
    assert_frame_equal(one.tyres, many.tyres)
    assert_frame_equal(one.injuries, many.injuries)


def test_no_tag_at_all_makes_every_row_a_tyre(tmp_path: Path, book: Rulebook) -> None:
    seen = read(write(tmp_path / "a.csv", "designation,length [mm]\n26.5R25,48\n,\n26.5R25,20\n"), book)
    assert seen.tyres.get_column("tag").to_list() == ["row 2", "row 4"]
    assert seen.blank == 1


def test_tyre_data_in_the_first_row_alone(tmp_path: Path, book: Rulebook) -> None:
    text = "tag,designation,casing,length [mm]\nA,26.5R25,,1\nA,,steel,2\nB,,,3\nB,20.5R25,,4\n"
    seen = read(write(tmp_path / "a.csv", text), book)
    assert seen.tyres.select("tyre.designation", "tyre.casing").rows() == [("26.5R25", "steel"), ("20.5R25", None)]
    assert seen.injuries.height == 4


def test_a_row_for_the_tyre_and_rows_for_its_injuries(tmp_path: Path, book: Rulebook) -> None:
    text = "tag,designation,length [mm]\nA,26.5R25,\nA,,48\nA,,20\n"
    seen = read(write(tmp_path / "a.csv", text), book)
    assert seen.injuries.get_column("row").to_list() == [3, 4]
    assert isinstance(seen.tyres, pl.DataFrame)
    assert not seen.faults.height
