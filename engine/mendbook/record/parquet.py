"""A carried record as Parquet: a row for each entry, with the columns that a list shows beside the text."""

from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

import polars as pl
from polars.io.plugins import register_io_source

from mendbook.record.carrying import Carried, CarriedError, Note
from mendbook.record.chain import Link
from mendbook.record.json_lines import read_note
from mendbook.record.tables import columns_of
from mendbook.record.tail import PAGE

CARRIED: dict[str, Any] = {
    "sequence": pl.Int64, "previous": pl.String, "hash": pl.String, "text": pl.String, "content": pl.Binary,
}  # fmt: skip
BESIDE: dict[str, Any] = {
    "kind": pl.String, "recorded": pl.String, "person": pl.String, "tag": pl.String, "outcome": pl.String,
    "verdict": pl.String, "about": pl.Int64, "corrects": pl.Int64,
}  # fmt: skip
_KEY = "mendbook record"


def write_parquet(path: Path, note: Note, carried: Iterable[Carried]) -> None:
    """Write `carried` to the file `path`, some hundred rows at a time."""
    coming, refused = iter(carried), list[Exception]()

    def frames(*_: Any) -> Iterator[pl.DataFrame]:
        try:
            while some := list(islice(coming, PAGE)):
                yield pl.DataFrame([_row(one) for one in some], schema=CARRIED | BESIDE)
        except Exception as error:  # whatever it is, it is raised again below: Polars puts one of its own in its place
            refused.append(error)
            raise

    said = {_KEY: "1", "form": str(note.form), "after": str(note.after), "head": str(note.head)}
    try:
        register_io_source(frames, schema=CARRIED | BESIDE).sink_parquet(path, metadata=said, row_group_size=PAGE)
    except pl.exceptions.PolarsError as error:
        raise (refused or [error])[0] from None


def read_parquet(path: Path) -> tuple[Note, Iterator[Carried]]:
    """Return what is told of the record in `path`, and its entries. Raises CarriedError."""
    try:
        said = pl.read_parquet_metadata(path)
    except pl.exceptions.PolarsError:
        raise CarriedError("this is no Parquet file, or it is damaged. Carry it again.") from None
    if _KEY not in said:
        raise CarriedError("this Parquet file is no record. Give what 'mendbook record export' wrote.")
    return read_note(said), _entries(path)


def _entries(path: Path) -> Iterator[Carried]:
    try:
        for frame in pl.scan_parquet(path).select(*CARRIED).collect_batches(chunk_size=PAGE):
            for row in frame.iter_rows(named=True):
                yield Carried(**row)
    except pl.exceptions.PolarsError:
        raise CarriedError("its rows cannot be read: it is damaged. Carry it again.") from None


def _row(one: Carried) -> dict[str, Any]:
    link = Link(one.sequence, one.previous, one.hash, one.text)
    return {name: getattr(one, name) for name in CARRIED} | columns_of(link.entry)
