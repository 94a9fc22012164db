"""Files by the hash of their bytes: photos, papers, cure logs.

They lie in the database and not beside it: a file is kept in the same transaction as the entry that names it, a server
needs no folder that all can reach, and a copy of the record is whole. The same bytes are kept once.
"""

import hashlib
from pathlib import PurePath

from sqlalchemy import Connection, select

from mendbook.record.entry import EntryError, FileNote
from mendbook.record.tables import FILES

LARGEST = 64_000_000  # bytes; a film does not belong in a record, its hash in a note does


def hash_of(content: bytes) -> str:
    """Return the SHA-256 of `content`, in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def describe_file(name: str, content: bytes) -> FileNote:
    """Return what an entry says of the file `name`. Raises EntryError when it is too large."""
    if len(content) > LARGEST:
        raise EntryError(f"{name}: at most {LARGEST:,} bytes are kept. Keep it elsewhere, its hash in a note.")
    return FileNote(name=PurePath(name).name, sha256=hash_of(content), size=len(content))


def put_file(connection: Connection, content: bytes) -> None:
    """Keep `content`, unless it is kept already."""
    digest = hash_of(content)
    if not has_file(connection, digest):
        connection.execute(FILES.insert().values(sha256=digest, size=len(content), content=content))


def has_file(connection: Connection, digest: str) -> bool:
    """Return whether a file of this hash is kept."""
    return connection.execute(select(FILES.c.size).where(FILES.c.sha256 == digest)).first() is not None


def get_file(connection: Connection, digest: str) -> bytes | None:
    """Return the bytes kept under this hash, None when there are none."""
    found = connection.execute(select(FILES.c.content).where(FILES.c.sha256 == digest)).scalar()
    return None if found is None else bytes(found)
