"""A file of which nothing can be read is one clear error."""

import os
import stat
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import polars as pl
import pytest

from mendbook.rulebook.book import Rulebook
from mendbook.yard.sheets import SheetError, open_sheet
from tests.yard.sheets.yards import as_csv, as_workbook, read, write


def zipped() -> bytes:
    data = BytesIO()
    with ZipFile(data, "w") as archive:
        archive.writestr("a.csv", "tag\nA\n")
    return data.getvalue()


def workbook(tmp_path: Path) -> bytes:
    return as_workbook(tmp_path / "made.xlsx", {"a": [("tag", "length [mm]"), ("A", 1)]}).read_bytes()


@pytest.mark.parametrize(("name", "data", "why"), [
    ("a.csv", b"", "is empty"),
    ("a.csv", b" \n\n", "is empty"),
    ("a.csv", b"\xef\xbb\xbf\n", "no headings"),
    ("a.csv", b"tag,length [mm]\n", "headings and no rows"),
    ("a.csv", b"tag,length [mm]\n\n,\n", "headings and no rows"),
    ("a.csv", b"spring review\nA,1\n", "most rows do not fit"),
    ("a.csv", b"one,two\nA,1\n", "no heading is one I know"),
    ("a.csv", zipped(), "zip archive"),
    ("a.xlsx", zipped(), "zip archive"),
    ("a.csv", b"PK\x03\x04 and then nothing", "archive is broken"),
    ("a.csv", b"\x1f\x8b\x08", "gzip"),
    ("a.xls", b"\xd0\xcf\x11\xe0\xa1\xb1", "old or a locked workbook"),
    ("a.csv", b"%PDF-1.7", "PDF"),
    ("a.csv", bytes(range(256)) * 20, "no text and no sheet"),
    ("a.csv", b"tag,length\nA,1\n" + b"B,2\n" * 2000 + b"\0\0", "NUL"),
    ("a.xlsx", b"tag,length\nA,1 mm\n", "ending says XLSX"),
    ("a.parquet", b"tag,length\nA,1 mm\n", "ending says Parquet"),
    ("a.parquet", b"PAR1 and no more", "Parquet file cannot be read"),
    ("a.jsonl", b"{no\n{no\n", "most lines cannot be read"),
    ("a.csv", b"tag,size\nA,1\n", "not clear"),
    ("a.csv", b"\xff\xfet\0a\0g\0\n", "breaks off"),
])  # fmt: skip
def test_files_that_are_refused(name: str, data: bytes, why: str, tmp_path: Path, book: Rulebook) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(SheetError, match=why) as error:
        read(tmp_path / name, book)
    assert str(error.value).startswith(str(tmp_path / name))
    assert "\n" not in str(error.value)


def test_a_workbook_that_is_called_csv(tmp_path: Path, book: Rulebook) -> None:
    (tmp_path / "a.csv").write_bytes(workbook(tmp_path))
    with pytest.raises(SheetError, match="ending says CSV, but it is XLSX"):
        read(tmp_path / "a.csv", book)


def test_a_workbook_cut_short(tmp_path: Path, book: Rulebook) -> None:
    (tmp_path / "a.xlsx").write_bytes(workbook(tmp_path)[:-900])
    with pytest.raises(SheetError, match="archive is broken"):
        read(tmp_path / "a.xlsx", book)


def test_no_such_file_and_a_folder(tmp_path: Path, book: Rulebook) -> None:
    with pytest.raises(SheetError, match="no such file"):
        read(tmp_path / "a.csv", book)
    with pytest.raises(SheetError, match="is a folder"):
        read(tmp_path, book)


def test_no_permission(tmp_path: Path, book: Rulebook, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write(tmp_path / "a.csv", "tag\nA\n")
    path.chmod(0)
    if os.access(path, os.R_OK):  # the superuser may read everything

        def refuse(self: Path, *_: object, **__: object) -> None:
            raise PermissionError(13, "Permission denied", str(self))

        monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(SheetError, match="may not read"):
        read(path, book)
    path.chmod(stat.S_IRUSR)


def append(path: Path) -> None:
    with path.open("a") as file:
        file.write("Z,9\n")


def truncate(path: Path) -> None:
    path.write_text("tag,length [mm]\n")


@pytest.mark.parametrize("change", [append, truncate, Path.unlink])
def test_a_file_that_changes_while_it_is_read(change: Callable[[Path], None], tmp_path: Path, book: Rulebook) -> None:
    rows = [(f"T{place}", str(place % 90)) for place in range(2_000)]
    path = write(tmp_path / "a.csv", as_csv(("tag", "length [mm]"), rows))

    def go_on() -> None:
        with open_sheet([path], book.vocabulary) as sheet:
            batches = sheet.batches(100)
            next(batches)
            change(path)
            for _ in batches:
                pass

    with pytest.raises(SheetError, match="changed while it was being read"):
        go_on()


def test_ten_thousand_columns(tmp_path: Path, book: Rulebook) -> None:
    headings = ["tag", *(f"extra {place}" for place in range(9_998)), "length [mm]"]
    rows = [[f"T{place}", *("x" for _ in range(9_998)), str(place)] for place in range(1, 4)]
    path = write(tmp_path / "a.csv", as_csv(headings, rows))
    assert read(path, book).injuries.get_column("length").to_list() == ["1 mm", "2 mm", "3 mm"]
    with open_sheet([path], book.vocabulary) as sheet:
        assert len(sheet.guess[0].unread) == 9_998


@pytest.mark.parametrize(("texts", "why"), [
    (["tag,length [mm]\nA,1\n"] * 2, "both sheets have"),
    (["tag,designation\nA,26.5R25\n"] * 2, "no sheet has"),
    (["designation\n26.5R25\n", "tag,length [mm]\nA,1\n"], "no column is the tag"),
    (["tag,designation\nA,26.5R25\n", "tag,length [mm],designation\nA,1,x\n"], "may not tell of the tyre"),
    (["tag\nA\n"] * 3, "3 files"),
])  # fmt: skip
def test_two_files_that_do_not_go_together(texts: list[str], why: str, tmp_path: Path, book: Rulebook) -> None:
    paths = [write(tmp_path / f"{place}.csv", text) for place, text in enumerate(texts)]
    with pytest.raises(SheetError, match=why):
        read(paths, book)


def test_parquet_with_columns_that_are_no_text(tmp_path: Path, book: Rulebook) -> None:
    frame = pl.DataFrame(
        {"tag": [1, 2], "length [mm]": [48.0, 12.5], "skived": [True, None], "tread depths [mm]": [[60, 57], None],
         "remarks": [{"a": 1}, {"a": 2}], "raw": [b"x", b"y"], "date code": [301, 2220]}
    )  # fmt: skip
    frame.write_parquet(tmp_path / "a.parquet")
    seen = read(tmp_path / "a.parquet", book)
    assert "'301' may be 0301" in seen.reasons()[2]
    assert seen.injuries.select("length", "skived").rows() == [("12.5 mm", None)]
    frame.drop("date code").write_parquet(tmp_path / "a.parquet")
    seen = read(tmp_path / "a.parquet", book)
    assert seen.tyres.get_column("tyre.tread depths").to_list() == ["60 mm; 57 mm", None]
    assert seen.injuries.get_column("length").to_list() == ["48 mm", "12.5 mm"]


def test_scratch_copies_go(tmp_path: Path, book: Rulebook) -> None:
    path = write(tmp_path / "a.csv", "tag,length [mm]\nA,1\nB,2,3\nC,3\n", "utf-16")
    sheet = open_sheet([path], book.vocabulary)
    folder = Path(sheet._scratch.name)
    assert list(folder.iterdir())
    sheet.close()
    assert not folder.exists()
