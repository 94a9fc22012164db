"""The folder of finished parts: what is in it is whole, and only one review at a time works in it."""

import hashlib
import json
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from filelock import FileLock, Timeout

from mendbook.yard.run.disk import HALF, move, settle_folder, write_whole
from mendbook.yard.run.fault import RunError, writing
from mendbook.yard.run.identity import Identity, differences
from mendbook.yard.run.job import Part
from mendbook.yard.run.sums import Sums

DECISIONS, QUARANTINED = "decisions.parquet", "quarantined.parquet"
_LOCK, _MANIFEST, _PART, _SUMS = "lock", "review.json", "part-", "sums.json"


@dataclass(frozen=True)
class Finished:
    """A part on the disk: its folder, its sums, and what stood in the sheet."""

    folder: Path
    sums: Sums
    look: str
    summary: str  # as JSON, '' where nobody made one


class WorkFolder:
    """The parts of one review. Use `open_work_folder`."""

    def __init__(self, path: Path, *, is_resumed: bool) -> None:
        self.path = path
        self.is_resumed = is_resumed
        self.kept = f"The parts that are finished are kept in {path}."
        self.finished = dict(self._read())

    def _read(self) -> Iterator[tuple[int, Finished]]:
        for folder in sorted(self.path.glob(f"{_PART}*")):
            if folder.suffix == HALF or not (part := _read_part(folder)):
                shutil.rmtree(folder)
            else:
                yield int(folder.name.removeprefix(_PART)), part

    def keep(self, number: int, part: Part, look: str) -> Finished:
        """Put a part on the disk: after this it survives whatever happens. Raises RunError when there is no room."""
        folder = self.path / f"{_PART}{number:06}"
        half = folder.with_suffix(HALF)
        note = {
            "look": look,
            "sums": part.sums.as_written(),
            "summary": part.summary,
            "sha256": [hashlib.sha256(data).hexdigest() for data in (part.decisions, part.quarantined)],
        }
        with writing(self.path, self.kept):
            half.mkdir()
            write_whole(half / DECISIONS, part.decisions)
            write_whole(half / QUARANTINED, part.quarantined)
            write_whole(half / _SUMS, _json(note))
            settle_folder(half)
            move(half, folder)
        self.finished[number] = Finished(folder, part.sums, look, part.summary)
        return self.finished[number]

    def parts(self) -> list[Finished]:
        """Return the finished parts in the order of the sheet."""
        return [self.finished[number] for number in sorted(self.finished)]

    def half(self, name: str) -> Path:
        """Return the place of a file called `name` until it is whole."""
        path = self.path / f"{name}{HALF}"
        path.unlink(missing_ok=True)
        return path

    def remove(self) -> None:
        """Remove what the review has put here."""
        _clear(self.path)
        _leave(self.path)


@contextmanager
def open_work_folder(path: Path, identity: Identity, *, fresh: bool) -> Iterator[WorkFolder]:
    """Yield the folder with the parts of a review of this `identity` that are finished already.

    Raises RunError when another review works in it, or began it with another identity and `fresh` does not say that
    it may be thrown away.
    """
    with writing(path):
        path.mkdir(exist_ok=True)
    lock = FileLock(path / _LOCK, timeout=0)
    with writing(path):
        try:
            lock.acquire()
        except Timeout:
            raise RunError(
                f"{path}: another review is at work on this output. Wait for it, or name another output."
            ) from None
    try:
        with writing(path):
            is_resumed = _begin(path, identity, fresh=fresh)
            folder = WorkFolder(path, is_resumed=is_resumed)
        yield folder
    finally:
        if not (path / _MANIFEST).exists():
            _leave(path)
        lock.release()


def _begin(path: Path, identity: Identity, *, fresh: bool) -> bool:
    """Make the folder ready, and return whether there is something to go on with."""
    manifest = path / _MANIFEST
    before = None if fresh else _read_json(manifest)
    if before is None:
        _clear(path)
        half = manifest.with_suffix(HALF)
        write_whole(half, _json(dict(identity)))
        move(half, manifest)
        return False
    if found := [*differences({str(k): str(v) for k, v in before.items()}, identity)]:
        raise RunError(
            f"{path}: a review was interrupted here, and this one is another: {'; '.join(found)}. "
            "Give the command of then to go on, or --fresh to throw its parts away and begin anew."
        )
    return True


def _clear(path: Path) -> None:
    """Remove what reviews put here, the lock apart and the manifest first: parts without one are nobody's."""
    (path / _MANIFEST).unlink(missing_ok=True)
    for found in path.iterdir():
        is_ours = found.name.startswith(_PART) or found.suffix == HALF
        if is_ours and found.is_dir():
            shutil.rmtree(found)
        elif is_ours:
            found.unlink()


def _leave(path: Path) -> None:
    """Remove the lock and the folder, unless somebody laid a file of theirs in it; the lock is still held."""
    with suppress(OSError):
        (path / _LOCK).unlink(missing_ok=True)
        path.rmdir()


def _read_part(folder: Path) -> Finished | None:
    """Return the part in `folder`, None when it is not as it was written."""
    note = _read_json(folder / _SUMS)
    if note is None:
        return None
    try:
        found = [hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in (DECISIONS, QUARANTINED)]
        part = Finished(folder, Sums(**note["sums"]), str(note["look"]), str(note["summary"]))
        return part if found == note["sha256"] else None
    except (OSError, KeyError, TypeError):
        return None


def _read_json(path: Path) -> dict[str, Any] | None:
    try:
        found = json.loads(path.read_bytes())
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) else None


def _json(tree: object) -> bytes:
    return (json.dumps(tree, indent=1, ensure_ascii=False) + "\n").encode()
