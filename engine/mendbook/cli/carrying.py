"""Export a record to a file, and take such a file in."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mendbook.cli.keeping import opened
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import write
from mendbook.record.carrying import CarriedError, carry, describe, take_in
from mendbook.record.json_lines import read_lines, write_lines

PARQUET = ".parquet"
KINDS = (".jsonl", PARQUET)


def export_record(where: str, target: Path, after: int, *, is_forced: bool) -> None:
    """Write the record, or what comes after the entry `after`, to the file `target`. Raises RefusalError."""
    _check_kind(target)
    if target.exists() and not is_forced:
        raise RefusalError(f"{target}: this file is there already. Name another, or add --force.")
    if not target.parent.is_dir():
        raise RefusalError(f"{target}: there is no folder {target.parent}. Make it, or name another.")
    part = target.with_name(f"{target.name}.part")
    with opened(where) as record, refusing(CarriedError, where=where), _writing(target):
        note = describe(record, after)
        try:
            if target.suffix == PARQUET:
                from mendbook.record.parquet import write_parquet

                write_parquet(part, note, carry(record, note))
            else:
                with part.open("wb") as file:
                    write_lines(file, note, carry(record, note))
            # The file gets its name when it is whole.
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    write(f"Written: {target}, {note.head.sequence - after} entries up to {note.head}")


@contextmanager
def _writing(target: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise RefusalError(f"{target}: it cannot be written: {error.strerror or error}. Name another.") from None


def import_record(where: str, source: Path) -> None:
    """Take the record in the file `source` into the one at `where`. Raises RefusalError."""
    _check_kind(source)
    if not source.is_file():
        raise RefusalError(f"{source}: there is no such file. Check the name and the folder.")
    with opened(where, is_new_allowed=True) as record, refusing(CarriedError, OSError, where=str(source)):
        if source.suffix == PARQUET:
            from mendbook.record.parquet import read_parquet

            found = take_in(record, *read_parquet(source))
        else:
            with source.open("rb") as file:
                found = take_in(record, *read_lines(file))
    write(f"{found.added} entries added, {found.known} were there already. Head: {found.head}")


def _check_kind(file: Path) -> None:
    if file.suffix not in KINDS:
        raise RefusalError(f"{file}: a record is carried as JSON lines or Parquet. Name a .jsonl or .parquet file.")
