"""What a database can refuse, in words: what happened, what became of the entries, what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeout


class RecordError(ValueError):
    """A record that cannot be opened, read or added to. The message says where, what, why and what to do."""


_FULL = "the disk is full. Nothing of this was kept. Make room and try again"
_NO_RIGHT = "there is no right to write to it. Nothing was kept. Ask its owner, or name another record"
_SQLITE = {
    "SQLITE_NOTADB": "this file is no database. Name one that 'mendbook record add' began",
    "SQLITE_CORRUPT": "the file is damaged. Do not write to it: copy it, and go back to the last copy that verifies",
    "SQLITE_FULL": _FULL,
    "SQLITE_IOERR": "the disk refuses to read or write (it is full, a quota is reached, or it fails). "
    "Nothing of this was kept. Make room and try again",
    "SQLITE_CANTOPEN": "the file cannot be opened. See whether the folder is there, and whether you may write in it",
    "SQLITE_READONLY": _NO_RIGHT,
    "SQLITE_PERM": _NO_RIGHT,
    "SQLITE_AUTH": _NO_RIGHT,
    "SQLITE_BUSY": "others have been writing for too long. Nothing of this was kept. Try again",
}
_POSTGRESQL = {
    "53": _FULL,  # insufficient resources: disk, memory, connections
    "53300": "the server takes no more connections. Nothing was kept. Try again",
    "53200": "the server is out of memory. Nothing of this was kept. Try again",
    "25006": "the server takes no writing just now (it only follows another). Name the one that leads",
    "42501": _NO_RIGHT,
    "55P03": "others have been writing for too long. Nothing of this was kept. Try again",
    "57P": "the server shut down or ended the connection. Nothing of this was kept. Try again when it is back",
}


@contextmanager
def telling(where: str) -> Iterator[None]:
    """Turn what the database raises into a RecordError that begins with `where`."""
    try:
        yield
    except PoolTimeout:
        raise RecordError(f"{where}: {_SQLITE['SQLITE_BUSY']}.") from None
    except SQLAlchemyError as error:
        raise RecordError(f"{where}: {_words(error)}.") from error


def _words(error: SQLAlchemyError) -> str:
    cause = error.orig if isinstance(error, DBAPIError) else None
    if isinstance(cause, sqlite3.Error):
        return _by_prefix(_SQLITE, getattr(cause, "sqlite_errorname", "")) or f"the database refuses: {cause}"
    state = getattr(cause, "sqlstate", None) or ""
    if found := _by_prefix(_POSTGRESQL, state):
        return found
    if isinstance(error, OperationalError | InterfaceError) and not state:
        first = next((line.strip() for line in str(cause).splitlines() if line.strip()), "no answer")
        return (
            f"the server cannot be reached, or went away ({first[:200].rstrip('.')}). See that it runs, then try again"
        )
    first = next(iter(str(cause or error).splitlines()), "")
    return f"the database refuses: {first[:200].rstrip('.')}"


def _by_prefix(words: dict[str, str], code: str) -> str:
    """Return what stands under the longest beginning of `code`, '' for none."""
    known = [begin for begin in words if code.startswith(begin)]
    return words[max(known, key=len)] if known else ""
