"""What is done with a part, and everything that is needed for it wherever it is done.

A job travels with its part. The shop's own book goes along as its files; the shipped book comes with the program, and
a worker whose program or book is another refuses: answers of two books in one table would be nobody's.
"""

import io
import platform
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from zipfile import Path as ZipPath
from zipfile import ZipFile, ZipInfo

import polars as pl

from mendbook import __version__
from mendbook.folders import folder
from mendbook.rulebook.book import open_book
from mendbook.rulebook.files import read_files
from mendbook.triage.shop import Shop, set_up
from mendbook.yard.batch import Batch
from mendbook.yard.review import Reviewed, Reviewer
from mendbook.yard.run.fault import RunError
from mendbook.yard.run.sums import Sums, count
from mendbook.yard.summing import Summariser

Job = Callable[[Batch], Reviewed]


@dataclass(frozen=True)
class Part:
    """What came of a batch: two Parquet files, its sums, and its summary as JSON ('' where nobody made one)."""

    decisions: bytes
    quarantined: bytes
    sums: Sums
    summary: str = ""


@dataclass(frozen=True)
class ReviewJob:
    """Reviews a batch by one book. `own` holds the files of the shop's own book, `digests` tell both books."""

    digests: tuple[str, str]
    own: bytes
    on: date
    law: str | None
    plan: bool = True
    ask: bool = True
    mendbook: str = __version__
    polars: str = pl.__version__

    def __call__(self, batch: Batch) -> Reviewed:
        """Return what the rules say of `batch`. Raises RunError where the program or the book is another."""
        if self not in _READY:
            prepare(self, self._open_shop())
        reviewer, summariser = _READY[self]
        reviewed = reviewer.review(batch)
        return replace(reviewed, summary=summariser.summarise(batch, reviewed))

    def _open_shop(self) -> Shop:
        for name, wanted, here in (("mendbook", self.mendbook, __version__), ("polars", self.polars, pl.__version__)):
            if wanted != here:
                raise RunError(
                    f"the worker on {platform.node()} has {name} {here}, and this review runs by {wanted}. "
                    "Install the same on every worker."
                )
        # Who may say less in an own book was asked when the review began.
        shop = set_up(open_book(folder("rules"), folder("knowledge"), _unpack_book(self.own)))
        if digests_of(shop) != self.digests:
            raise RunError(
                f"the rulebook on {platform.node()} is not the one that this review began with. "
                "Let it come to rest, install the same everywhere, and begin anew."
            )
        return shop


_READY: dict[ReviewJob, tuple[Reviewer, Summariser]] = {}  # one: a process works for one review at a time
_ONE_AT_A_TIME = threading.Lock()  # memory holds one part of each process, however many threads it has


def prepare(job: ReviewJob, shop: Shop) -> None:
    """Let this process review by `shop`, which is open already."""
    _READY.clear()
    _READY[job] = Reviewer(shop, job.on, job.law, plan=job.plan, ask=job.ask), Summariser(shop.book)


def digests_of(shop: Shop) -> tuple[str, str]:
    """Return what tells the shipped book and the shop's own book from every other."""
    return shop.book.digest, shop.book.own.digest if shop.book.own else ""


def pack_book(rulebook: Path | None) -> bytes:
    """Return the files of a shop's own book, nothing when there is none. Same files, same bytes."""
    if rulebook is None:
        return b""
    packed = io.BytesIO()
    with ZipFile(packed, "w") as archive:
        for place, file in read_files(rulebook).items():
            archive.writestr(ZipInfo(place), file.data)
    return packed.getvalue()


def _unpack_book(packed: bytes) -> ZipPath | None:
    if not packed:
        return None
    archive = ZipFile(io.BytesIO(packed))
    archive.filename = "own rulebook"  # what a place in it is called
    return ZipPath(archive)


def do_part(job: Job, number: int, batch: Batch) -> Part:
    """Return what came of the batch with that number, from 0. Raises LostRowsError when it does not add up."""
    with _ONE_AT_A_TIME:
        reviewed = job(batch)
        sums = count(batch, reviewed, f"part {number + 1}")
        told = "" if reviewed.summary is None else reviewed.summary.model_dump_json(by_alias=True)
        return Part(_parquet(reviewed.decisions), _parquet(reviewed.quarantined), sums, told)


def _parquet(frame: pl.DataFrame) -> bytes:
    file = io.BytesIO()
    frame.write_parquet(file, compression="lz4")  # it is soon read again
    return file.getvalue()
