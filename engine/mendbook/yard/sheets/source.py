"""A file as it lies there: what kind it is by its first bytes, and whether it stays the same while it is read."""

import os
import shutil
import sys
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from mendbook.terms.document import STANDARD_INPUT
from mendbook.yard.sheets.fault import SheetError

DASH = "-"
_HEAD = 4096  # bytes that tell the kind
_BOMS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
_WORKBOOK_PART = "xl/workbook.xml"

# First bytes of what is often taken for a sheet, and what to do with it.
_STRANGERS: tuple[tuple[bytes, str], ...] = (
    (b"\x1f\x8b", "this is a gzip archive, not a sheet. Unpack it and give the sheet inside."),
    (b"\xd0\xcf\x11\xe0", "this is an old or a locked workbook. Save it as XLSX, without a password."),
    (b"%PDF", "this is a PDF, not a sheet. Ask for the sheet it was printed from."),
    (b"7z\xbc\xaf", "this is an archive, not a sheet. Unpack it and give the sheet inside."),
)


class Kind(StrEnum):
    """What a file is."""

    CSV = "CSV"
    WORKBOOK = "XLSX"
    PARQUET = "Parquet"
    LINES = "JSON lines"


_ENDINGS = {
    ".csv": Kind.CSV, ".tsv": Kind.CSV, ".txt": Kind.CSV, ".xlsx": Kind.WORKBOOK, ".xlsm": Kind.WORKBOOK,
    ".parquet": Kind.PARQUET, ".jsonl": Kind.LINES, ".ndjson": Kind.LINES,
}  # fmt: skip


@dataclass(frozen=True)
class Source:
    """A file on disk, by the name that people gave it."""

    name: str
    path: Path
    kind: Kind
    stamp: tuple[int, int]  # bytes and time of the last change [ns]

    def check_unchanged(self) -> None:
        """Raise SheetError when the file is no longer what it was when it was opened."""
        try:
            now = _stamp(self.path)
        except OSError:
            now = (-1, 0)
        if now != self.stamp:
            raise SheetError(
                self.name, "the file changed while it was being read. Let it come to rest, or copy it, and start again."
            )


def open_source(given: str | os.PathLike[str], scratch: Path) -> Source:
    """Return the file `given`, or standard input for '-', which is kept in `scratch` while it is read.

    Raises SheetError when it is missing, a folder, not to be read, empty, or none of the kinds known.
    """
    name = os.fspath(given)
    path = Path(name)
    try:
        if name == DASH:
            name, path = STANDARD_INPUT, scratch / "standard input"
            with path.open("wb") as file:
                shutil.copyfileobj(sys.stdin.buffer, file)
        with path.open("rb") as file:
            head = file.read(_HEAD)
        stamp = _stamp(path)
    except FileNotFoundError:
        raise SheetError(name, "there is no such file. Check the name and the folder.") from None
    except IsADirectoryError:
        raise SheetError(name, "this is a folder. Name one sheet in it.") from None
    except PermissionError:
        raise SheetError(name, "you may not read this file. Ask its owner, or copy it to where you may.") from None
    except OSError as problem:
        raise SheetError(name, f"the file cannot be read: {problem.strerror or problem}.") from None
    return Source(name, path, _kind(name, path, head), stamp)


def _stamp(path: Path) -> tuple[int, int]:
    found = path.stat()
    return found.st_size, found.st_mtime_ns


def _kind(name: str, path: Path, head: bytes) -> Kind:
    if not head.strip():
        raise SheetError(name, "the file is empty. Write headings in the first row and one injury in each row below.")
    for start, words in _STRANGERS:
        if head.startswith(start):
            raise SheetError(name, words)
    found = _kind_of(name, path, head)
    ending = _ENDINGS.get(Path(name).suffix.casefold(), found)
    if found is not ending and Kind.CSV not in (found, ending):
        raise SheetError(name, f"its ending says {ending}, but it is {found}. Give it the ending of what it is.")
    if found is Kind.CSV and ending in (Kind.WORKBOOK, Kind.PARQUET):
        raise SheetError(name, f"its ending says {ending}, but it is not. Save it as {ending} again.")
    if ending is Kind.CSV and found in (Kind.WORKBOOK, Kind.PARQUET):
        raise SheetError(name, f"its ending says CSV, but it is {found}. Give it the ending of what it is.")
    return ending if Kind.LINES in (found, ending) else found


def _kind_of(name: str, path: Path, head: bytes) -> Kind:
    if head.startswith(b"PAR1"):
        return Kind.PARQUET
    if head.startswith(b"PK\x03\x04"):
        try:
            with ZipFile(path) as archive:
                is_workbook = _WORKBOOK_PART in archive.namelist()
        except BadZipFile:
            raise SheetError(name, "this archive is broken. Save or fetch the sheet again.") from None
        if not is_workbook:
            raise SheetError(name, "this is a zip archive, not a sheet. Unpack it and give the sheet inside.")
        return Kind.WORKBOOK
    if b"\0" in head and not head.startswith(_BOMS) and not is_wide_text(head):
        raise SheetError(name, "this is no text and no sheet that I know. Save it as CSV, XLSX, Parquet or JSON lines.")
    return Kind.LINES if head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{") else Kind.CSV


def is_wide_text(head: bytes) -> str:
    """Return the name of the two-byte encoding that `head` seems to be written in without saying so, or nothing."""
    even, odd = head[0::2].count(0), head[1::2].count(0)
    enough = len(head) // 4  # half of the characters
    if odd >= max(1, enough) and not even:
        return "utf-16-le"
    return "utf-16-be" if even >= max(1, enough) and not odd else ""
