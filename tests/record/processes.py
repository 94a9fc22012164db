"""What other processes do to a record in tests: write at once, and die or run out of room while they do."""

import contextlib
import resource
import time
from collections.abc import Iterator
from multiprocessing import get_context
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import Any

from mendbook.record import Decision, Record, RecordError, open_record
from tests.record.made import decision, docket

_CONTEXT = get_context("forkserver")
_CONTEXT.set_forkserver_preload(["tests.record.processes"])


def begin(what: Any, *said: Any) -> ForkServerProcess:
    """Begin `what` in a process of its own."""
    process = _CONTEXT.Process(target=what, args=said)
    process.start()
    return process


def write_some(where: str, name: str, batches: int, size: int) -> None:
    """Add `batches` times `size` entries that say who wrote them and in which batch; begin the record if need be."""
    record = open_record(where, is_new_allowed=True)
    for batch in range(batches):
        record.add_all(decision(f"{name}/{batch}") for _ in range(size))


def write_for_ever(where: str, size: int) -> None:
    """Add batches until somebody ends this process."""
    record = open_record(where)
    batch = 0
    while True:
        record.add_all(decision(f"ever/{batch}") for _ in range(size))
        batch += 1


def stop_half_way(where: str, count: int, sign: Path) -> None:
    """Add `count` entries in one go, and hang before they are kept."""

    def entries() -> Iterator[Decision]:
        for number in range(count):
            yield decision(f"half/{number}")
        sign.write_text("written, not kept")
        time.sleep(60)

    open_record(where).add_all(entries())


def write_until_full(where: str, limit: int, told: Path) -> None:
    """Add entries to a file that may not grow beyond `limit` [bytes]; write down the refusal and what was kept."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    told.write_text(fill(open_record(where)))


def fill(record: Record) -> str:
    """Add large entries until the record refuses; return how many were kept and what it said."""
    kept = record.head().sequence
    large = docket() | {"note": "".join(f"{number:x}" for number in range(20_000))}
    with contextlib.suppress(StopIteration):
        while kept < 10_000:
            try:
                record.add_all(Decision(by="invented", docket=large) for _ in range(5))
            except RecordError as error:
                return f"{kept}\n{error}"
            kept += 5
    return f"{kept}\nit never refused"
