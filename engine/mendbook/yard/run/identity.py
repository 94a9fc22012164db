"""What a review is made of: two whose identity agrees give the same answers, so that one may finish the other."""

import hashlib
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path

import polars as pl

from mendbook import __version__
from mendbook.yard.batch import Batch
from mendbook.yard.run.fault import RunError
from mendbook.yard.run.job import digests_of
from mendbook.yard.run.options import Options

Identity = Mapping[str, str]

_END = 1 << 16  # bytes looked at from the front and from the back of an input
NONE = "none"


def identify(options: Options, rows: int | None) -> dict[str, str]:
    """Return what an answer depends on, by what people call it. Raises RunError for an input that cannot be read."""
    book, own = digests_of(options.shop)
    return {
        "mendbook": __version__,
        "polars": pl.__version__,
        "rulebook": book,
        "own rulebook": own or NONE,
        "law": options.law or "by country",
        "day": options.on.isoformat(),
        "column map": hashlib.sha256(options.column_map.encode()).hexdigest() if options.column_map else NONE,
        "plans": "yes" if options.plan else "no",
        "what to measure next": "yes" if options.ask else "no",
        "tyres a part": str(options.tyres_a_part),
        "rows": NONE if rows is None else str(rows),
        **{f"input {place}": look_at(path) for place, path in enumerate(options.inputs, start=1)},
    }


def differences(before: Identity, now: Identity) -> Iterator[str]:
    """Yield what differs between two identities."""
    for name in dict.fromkeys([*before, *now]):
        if before.get(name) != now.get(name):
            yield f"{name}: {before.get(name, NONE)} before, {now.get(name, NONE)} now"


def look_of(batch: Batch) -> str:
    """Return a number that tells what is written in `batch` from anything else that might stand there."""
    seen = hashlib.sha256()
    for frame in (batch.tyres, batch.injuries, batch.faults):
        seen.update(repr(frame.schema).encode())
        seen.update(frame.hash_rows(seed=0).to_numpy().tobytes())
    return seen.hexdigest()


def look_at(path: Path) -> str:
    """Return what tells the file `path` from what it was before. Raises RunError when it cannot be read."""
    try:
        found = path.stat()
        with path.open("rb") as file:
            ends = file.read(_END)
            file.seek(max(0, found.st_size - _END))
            ends += file.read(_END)
    except OSError as problem:
        raise RunError(f"{path}: this cannot be read: {problem.strerror}.") from None
    changed = datetime.fromtimestamp(found.st_mtime_ns // 1000 / 1e6, UTC).isoformat()
    return f"{path.name}, {found.st_size} bytes, changed {changed}, {hashlib.sha256(ends).hexdigest()[:16]}"
