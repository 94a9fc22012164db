"""Where a record lies: a SQLite file, or a database of a PostgreSQL server. What each needs to be written to safely."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from urllib.parse import quote

from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event, make_url, text
from sqlalchemy.exc import ArgumentError

from mendbook.record.faults import RecordError, telling

SYNCHRONOUS = "FULL"  # a commit of SQLite waits for the disk, so that a power cut takes nothing that was kept
PATIENCE = 60.0  # s; so long a writer waits for others
_SERVER = ("postgresql", "postgres", "postgresql+psycopg")
_LIKE = "postgresql://USER@HOST/DATABASE"
_LOCK = 0x6D656E64  # 'mend': a number that nobody else on the server is likely to lock


class Place:
    """A database that may hold a record, by what a person called it: a path, or `postgresql://USER@HOST/DATABASE`."""

    def __init__(self, given: str, *, is_new_allowed: bool = False) -> None:
        """Find what is at `given`. Raises RecordError when nothing is and none may be begun, or it cannot be one."""
        if "://" in given:
            url = _server_url(given)
            self.name = url.set(drivername="postgresql").render_as_string(hide_password=True)
            self.is_new = False
            self.engine = _server(url)
        else:
            path = Path(given)
            self.name = given
            self.is_new = _check_file(path, is_new_allowed=is_new_allowed)
            self.engine = _file(path, is_new_allowed=is_new_allowed)

    @property
    def is_server(self) -> bool:
        """True when others reach it over a network."""
        return self.engine.dialect.name == "postgresql"

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Yield a connection that reads what was whole when it began. Raises RecordError."""
        with telling(self.name), self.engine.connect() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Yield a connection that alone may write; what it did is kept whole at the end, or not at all.

        Raises RecordError.
        """
        with telling(self.name), self.engine.connect().execution_options(writes=True) as connection, connection.begin():
            if self.is_server:
                connection.execute(text(f"SET LOCAL lock_timeout = '{1000 * PATIENCE:.0f}ms'"))
                connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _LOCK})
            yield connection


def _check_file(path: Path, *, is_new_allowed: bool) -> bool:
    """Return whether there is no file at `path` yet."""
    if path.is_dir():
        raise RecordError(f"{path}: this is a folder. Name a file in it, such as {path / 'record.sqlite'}.")
    if path.exists():
        return False
    if not is_new_allowed:
        raise RecordError(f"{path}: there is no such record. Name one that 'mendbook record add' began.")
    if not path.parent.is_dir():
        raise RecordError(f"{path}: there is no folder {path.parent}. Make it, or name another.")
    return True


def _file(path: Path, *, is_new_allowed: bool) -> Engine:
    way = f"file:{quote(str(path.absolute()))}?mode={'rwc' if is_new_allowed else 'rw'}"

    def connect() -> sqlite3.Connection:
        # Transactions are begun below, in words: the driver would begin them without the right to write.
        found = sqlite3.connect(way, uri=True, timeout=PATIENCE, isolation_level=None, check_same_thread=False)
        found.execute(f"PRAGMA synchronous = {SYNCHRONOUS}")
        # A text that was damaged must be read too, so that its entry can be named.
        found.text_factory = lambda data: data.decode("utf-8", "surrogateescape")
        return found

    engine = create_engine("sqlite://", creator=connect, poolclass=NullPool)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        is_writing = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if is_writing else "BEGIN")

    return engine


def _server_url(given: str) -> URL:
    try:
        url = make_url(given)
    except ArgumentError:
        raise RecordError(f"'{given[:12]}...' is no URL. Write {_LIKE}.") from None
    if url.drivername not in _SERVER:
        raise RecordError(
            f"'{url.drivername}' is no kind of database that can hold a record. Name a file, or write {_LIKE}."
        )
    if find_spec("psycopg") is None:
        raise RecordError("a record on a server needs psycopg. Install it: pip install 'mendbook[postgres]'.")
    return url.set(drivername="postgresql+psycopg")


def _server(url: URL) -> Engine:
    # The last entry is asked for once the lock is held, and must be the last one then.
    return create_engine(
        url, isolation_level="READ COMMITTED", connect_args={"connect_timeout": 10}, poolclass=NullPool
    )
