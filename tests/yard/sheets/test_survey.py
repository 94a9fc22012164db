"""The look over the bytes counts what the standard library's reader of CSV counts."""

import csv
import io
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import mendbook.yard.sheets.survey as looked
from mendbook.rulebook.book import Rulebook
from mendbook.yard.sheets.survey import survey
from tests.yard.sheets.yards import as_csv, read, write

_cells = st.text(st.sampled_from('ab,;"\n \r1é'), max_size=5)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=st.lists(st.lists(_cells, min_size=1, max_size=4), min_size=1, max_size=12), block=st.integers(1, 40))
def test_records_and_cells(rows: list[list[str]], block: int, tmp_path: Path) -> None:
    text = as_csv(rows[0], rows[1:]).replace("\r", " ")
    path = write(tmp_path / "a.csv", text)
    was, looked.BLOCK = looked.BLOCK, block
    try:
        seen = survey(path, ",", 2)
    finally:
        looked.BLOCK = was
    expected = list(csv.reader(io.StringIO(text, newline="")))
    assert seen.is_quoted_well
    assert seen.records == len(expected)
    assert [u.number for u in seen.uneven] == [n for n, record in enumerate(expected) if len(record) != 2]


_lines = st.text(st.sampled_from('AB,"12 \n'), max_size=60)


def check_account(text: str, tmp_path: Path, book: Rulebook) -> None:
    """`read` checks the sums; here the rows that can be told without doubt are looked for one by one."""
    sure = "".join(f"S{number},{number} mm\n" for number in range(40))
    path = write(tmp_path / "a.csv", f"tag,length\n{sure}{text}\n")
    seen = read(path, book)
    lines = [line for line in text.split("\n") if line.strip(' ,"')]
    if '"' not in text:
        assert seen.rows == 40 + len(lines)
    assert seen.rows >= 40
    kept = set(seen.injuries.get_column("row").to_list())
    assert set(range(2, 42)) <= kept


whatever = given(text=_lines)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@whatever
def test_whatever_stands_there_every_row_is_accounted_for(text: str, tmp_path: Path, book: Rulebook) -> None:
    check_account(text, tmp_path, book)


@pytest.mark.long
@settings(max_examples=2000, suppress_health_check=[HealthCheck.function_scoped_fixture])
@whatever
def test_whatever_stands_there_every_row_is_accounted_for_long(text: str, tmp_path: Path, book: Rulebook) -> None:
    check_account(text, tmp_path, book)
