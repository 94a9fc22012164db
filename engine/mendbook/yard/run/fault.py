"""What stops a review, in one sentence or two: what, why, and what to do instead."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import polars as pl

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_SHUT = (errno.EACCES, errno.EPERM, errno.EROFS)


class RunError(Exception):
    """A review that cannot be run, or not to its end. What is finished by then is kept."""


class Interrupted(RunError):
    """A review that somebody stopped."""


class LostRowsError(RunError):
    """Rows that came in and did not come out, or came out twice: a fault of the program, never of the sheet."""


@contextmanager
def writing(place: Path, kept: str = "") -> Iterator[None]:
    """Turn what goes wrong with writing at `place` into a RunError; `kept` says what is left of the work."""
    try:
        yield
    except (OSError, pl.exceptions.PolarsError) as problem:
        raise RunError(" ".join(filter(None, [_words(place, problem), kept]))) from problem


def _words(place: Path, problem: Exception) -> str:
    number = getattr(problem, "errno", None)
    said = (problem.strerror if isinstance(problem, OSError) else None) or str(problem).splitlines()[0]
    # Polars tells some errors of the system by their words alone.
    if number in _FULL or "No space left" in said or "too large" in said:
        return f"{place}: no room is left there. Make room, and give the same command again."
    if number in _SHUT or "ermission denied" in said or "Read-only" in said:
        return f"{place}: you may not write there. Name an output in a folder of yours."
    if number in (errno.ENOENT, errno.ENOTDIR):
        return f"{place}: there is no such folder. Make it first, or name another."
    return f"{place}: this cannot be written: {said}."
