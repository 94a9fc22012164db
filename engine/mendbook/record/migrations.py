"""How a database comes to the present form: one step for each form, in plain SQL of both databases.

A step never touches what an entry says; the chain is the same before and after. What is once published is never
changed, for databases out there were made by it.
"""

from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection, inspect

from mendbook import __version__
from mendbook.record.entry import now
from mendbook.record.tables import FORM

Dialect = Literal["sqlite", "postgresql"]


@dataclass(frozen=True)
class Step:
    """What makes form `version` out of the one before."""

    version: int
    says: str
    sqlite: tuple[str, ...]
    postgresql: tuple[str, ...]


_NEVER = "the record is only ever added to"


def _kept_by_sqlite(table: str) -> tuple[str, ...]:
    return tuple(
        f"CREATE TRIGGER {table}_no_{what} BEFORE {what.upper()} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{_NEVER}'); END"
        for what in ("update", "delete")
    )  # fmt: skip


def _kept_by_postgresql(table: str) -> tuple[str, ...]:
    return (
        f"CREATE TRIGGER {table}_kept BEFORE UPDATE OR DELETE ON {table} "
        "FOR EACH ROW EXECUTE FUNCTION record_refuse()",
        f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION record_refuse()",
    )  # fmt: skip


_FORM = "CREATE TABLE record_form (version INTEGER PRIMARY KEY, made TEXT NOT NULL, program TEXT NOT NULL)"
_ENTRIES = """CREATE TABLE record_entries (
    sequence BIGINT NOT NULL PRIMARY KEY, previous TEXT NOT NULL, hash TEXT NOT NULL UNIQUE, kind TEXT NOT NULL,
    recorded TEXT NOT NULL, person TEXT NOT NULL, tag TEXT NOT NULL, outcome TEXT NOT NULL, verdict TEXT NOT NULL,
    about BIGINT, corrects BIGINT UNIQUE, text TEXT NOT NULL)"""
# REPLACE deletes a row in SQLite without asking the trigger for deletion: what is there already is refused first.
_NEWER_FORM = f"""CREATE TRIGGER record_form_newer BEFORE INSERT ON record_form
    WHEN NEW.version <= (SELECT max(version) FROM record_form) BEGIN SELECT RAISE(ABORT, '{_NEVER}'); END"""
_INDEXES = (
    "CREATE INDEX record_entries_tag ON record_entries (tag, sequence)",
    "CREATE INDEX record_entries_kind ON record_entries (kind, sequence)",
    "CREATE INDEX record_entries_about ON record_entries (about)",
)
_NEXT_IN_SQLITE = """CREATE TRIGGER record_entries_next BEFORE INSERT ON record_entries
    WHEN NEW.sequence <> 1 + (SELECT coalesce(max(sequence), 0) FROM record_entries)
      OR NEW.previous <> coalesce((SELECT hash FROM record_entries ORDER BY sequence DESC LIMIT 1), '{genesis}')
    BEGIN SELECT RAISE(ABORT, 'this is not the next entry'); END"""
_NEXT_IN_POSTGRESQL = (
    """CREATE FUNCTION record_next() RETURNS trigger LANGUAGE plpgsql AS $$
    DECLARE latest record;
    BEGIN
        SELECT sequence, hash INTO latest FROM record_entries ORDER BY sequence DESC LIMIT 1;
        IF NEW.sequence <> coalesce(latest.sequence, 0) + 1 OR NEW.previous <> coalesce(latest.hash, '{genesis}') THEN
            RAISE EXCEPTION 'this is not the next entry';
        END IF;
        RETURN NEW;
    END $$""",
    "CREATE TRIGGER record_entries_next BEFORE INSERT ON record_entries FOR EACH ROW EXECUTE FUNCTION record_next()",
)
# Five times as fast as the server's own way; a server built without it keeps its own.
_FAST = """DO $$ BEGIN EXECUTE 'ALTER TABLE record_entries ALTER COLUMN text SET COMPRESSION lz4';
    EXCEPTION WHEN feature_not_supported OR syntax_error OR invalid_parameter_value THEN NULL; END $$"""
_REFUSE = f"""CREATE FUNCTION record_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN RAISE EXCEPTION '{_NEVER}'; END $$"""

_FILES = "CREATE TABLE record_files (sha256 TEXT NOT NULL PRIMARY KEY, size BIGINT NOT NULL, content {bytes} NOT NULL)"
_NEW_FILE = f"""CREATE TRIGGER record_files_new BEFORE INSERT ON record_files
    WHEN EXISTS (SELECT 1 FROM record_files WHERE sha256 = NEW.sha256) BEGIN SELECT RAISE(ABORT, '{_NEVER}'); END"""
_ZEROS = "0" * 64

STEPS = (
    Step(
        1,
        "decisions, follow-ups and withdrawals in a chain",
        sqlite=(
            _FORM,
            *_kept_by_sqlite("record_form"),
            _NEWER_FORM,
            _ENTRIES,
            *_INDEXES,
            *_kept_by_sqlite("record_entries"),
            _NEXT_IN_SQLITE.format(genesis=_ZEROS),
        ),
        postgresql=(
            _REFUSE,
            _FORM,
            *_kept_by_postgresql("record_form"),
            _ENTRIES,
            _FAST,
            *_INDEXES,
            *_kept_by_postgresql("record_entries"),
            *(statement.format(genesis=_ZEROS) for statement in _NEXT_IN_POSTGRESQL),
        ),
    ),
    Step(
        2,
        "attachments and cure logs, with the files themselves",
        sqlite=(_FILES.format(bytes="BLOB"), *_kept_by_sqlite("record_files"), _NEW_FILE),
        postgresql=(
            _FILES.format(bytes="BYTEA"),
            "ALTER TABLE record_files ALTER COLUMN content SET STORAGE EXTERNAL",  # a photo is packed already
            *_kept_by_postgresql("record_files"),
        ),
    ),
)
PRESENT = STEPS[-1].version


def form_of(connection: Connection) -> int:
    """Return the form of the database, 0 when it holds no record."""
    if not inspect(connection).has_table(FORM.name):
        return 0
    versions = connection.execute(FORM.select()).all()
    return max((row.version for row in versions), default=0)


def migrate(connection: Connection, upto: int = PRESENT) -> tuple[int, int]:
    """Bring the database to the form `upto` in the transaction of `connection`; return the forms before and after."""
    before = form_of(connection)
    for step in STEPS:
        if before < step.version <= upto:
            for statement in step.sqlite if connection.dialect.name == "sqlite" else step.postgresql:
                connection.exec_driver_sql(statement)
            connection.execute(FORM.insert().values(version=step.version, made=now(), program=__version__))
    return before, max(before, upto)
