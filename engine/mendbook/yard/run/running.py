"""A review from its sheet to its output: what was done by an earlier run is not done again."""

import gc
import json
import signal
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from mendbook.yard.batch import Batch
from mendbook.yard.run.cluster import do_there
from mendbook.yard.run.disk import move, settle, write_whole
from mendbook.yard.run.fault import Interrupted, LostRowsError, RunError, writing
from mendbook.yard.run.identity import Identity, identify, look_of
from mendbook.yard.run.job import Job, ReviewJob, digests_of, pack_book, prepare
from mendbook.yard.run.local import Numbered, do_here, processors
from mendbook.yard.run.options import Form, Options, Places, places_of
from mendbook.yard.run.progress import Clock, Report, keep_quiet
from mendbook.yard.run.sums import Sums
from mendbook.yard.run.tables import gather, name_columns, write_csv, write_parquet
from mendbook.yard.run.work_folder import DECISIONS, QUARANTINED, WorkFolder, open_work_folder
from mendbook.yard.run.workbook import sheets_needed, write_workbook
from mendbook.yard.summary import Summary

# A process takes as long to begin as to judge some three parts, and one alone uses several processors in part.
PARTS_A_WORKER = 8


class Source(Protocol):
    """A yard: its number of rows when it is known, and its tyres, the same batches whenever it is asked."""

    @property
    def rows(self) -> int | None:
        """The rows that its batches hold, None when nobody counted them."""

    def batches(self, size: int) -> Iterator[Batch]:
        """Yield whole tyres, `size` at a time."""


@dataclass(frozen=True)
class Outcome:
    """What a review came to.

    summary : what stands in the file of sums; sums : the rows in it; told : what a report tells of them
    places : where everything was written
    parts : how many; resumed : rows that an earlier run had done
    sheets : of the workbook, which holds only so many rows a sheet; 1 for every other output
    seconds : of this run
    """

    summary: dict[str, Any]
    sums: Sums
    told: Summary
    places: Places
    parts: int
    resumed: int
    sheets: int
    seconds: float


def run_review(source: Source, output: Path, options: Options, progress: Report = keep_quiet) -> Outcome:
    """Review `source` and write `output` (Parquet, CSV or XLSX by its ending), its quarantine and its sums.

    The bytes are the same however many processes worked, wherever, and however often the review was interrupted.
    Raises RunError, and what `source` raises; what is finished by then is kept and not done again.
    """
    job = ReviewJob(
        digests_of(options.shop), pack_book(options.rulebook), options.on, options.law, options.plan, options.ask
    )
    prepare(job, options.shop)
    return run_job(source, job, output, options, progress)


def run_job(source: Source, job: Job, output: Path, options: Options, progress: Report = keep_quiet) -> Outcome:
    """Do `job` for every part of `source`, as `run_review` does the review."""
    places = places_of(output)
    identity = identify(options, source.rows)
    with open_work_folder(places.work, identity, fresh=options.fresh) as folder, _interruptible(folder):
        if not folder.is_resumed and not options.force:
            _refuse_to_replace(places, folder)
        clock = Clock(progress, source.rows)
        _do_parts(source, job, options, folder, clock)
        sums = _add_up(folder, source.rows)
        summary = _summary(identity, sums, folder, options)
        told = sum((Summary.model_validate_json(part.summary) for part in folder.parts() if part.summary), Summary())
        sheets = _write(places, folder, summary, sums, options)
        outcome = Outcome(
            summary, sums, told, places, len(folder.finished), clock.resumed, sheets, clock.seconds
        )  # fmt: skip
        with writing(places.work):
            folder.remove()
        return outcome


def _refuse_to_replace(places: Places, folder: WorkFolder) -> None:
    for path in (places.output, places.quarantine, places.summary):
        if path.exists():
            folder.remove()
            raise RunError(f"{path}: this exists. Name another output, or --force to replace it.")


def _do_parts(source: Source, job: Job, options: Options, folder: WorkFolder, clock: Clock) -> None:
    looks: dict[int, str] = {}
    batches = _to_do(source, options, folder, clock, looks)
    if options.cluster is not None:
        done = do_there(job, batches, options.cluster)
    else:
        done = do_here(job, batches, options.workers or _workers(source.rows, options.tyres_a_part))
    with closing(done):  # whatever happens here, no process works on
        for number, part in done:
            folder.keep(number, part, looks.pop(number))
            clock.add(part.sums.rows)


def _workers(rows: int | None, tyres_a_part: int) -> int:
    """Return how many processes are worth their beginning: one a processor where each has enough to do."""
    most = processors()
    return most if rows is None else max(1, min(most, rows // (tyres_a_part * PARTS_A_WORKER)))


def _to_do(
    source: Source, options: Options, folder: WorkFolder, clock: Clock, looks: dict[int, str]
) -> Iterator[Numbered]:
    """Yield the batches that no earlier run has done, and note how each looks."""
    last = -1
    for last, batch in enumerate(source.batches(options.tyres_a_part)):
        look = look_of(batch)
        known = folder.finished.get(last)
        if known is None:
            looks[last] = look
            yield last, batch
        elif known.look == look:
            clock.skip(known.sums.rows)
        else:
            raise RunError(
                f"{folder.path}: what stands in part {last + 1} of the sheet is not what was reviewed before the "
                "interruption. Give the sheet of then to go on, or --fresh to begin anew."
            )
    if folder.finished and max(folder.finished) > last:
        raise RunError(
            f"{folder.path}: the sheet has fewer rows than before the interruption. Give the sheet of then to go on, "
            "or --fresh to begin anew."
        )


def _add_up(folder: WorkFolder, rows: int | None) -> Sums:
    sums = sum((part.sums for part in folder.parts()), Sums())
    sums.check("the whole yard")
    if rows is not None and sums.rows != rows:
        raise LostRowsError(
            f"the sheet has {rows} rows, and {sums.rows} were reviewed. This is a fault of the program: "
            "nothing was written."
        )
    return sums


def _summary(identity: Identity, sums: Sums, folder: WorkFolder, options: Options) -> dict[str, Any]:
    asked = {
        "inputs": [str(path.resolve()) for path in options.inputs],
        "worksheet": options.worksheet,
        "column map": options.column_map,
        "law": options.law,
        "day": options.on.isoformat(),
        "rulebook": None if options.rulebook is None else str(options.rulebook.resolve()),
    }
    return {"review": dict(identity), "asked": asked, **sums.as_written(), "parts": len(folder.finished)}


def _write(places: Places, folder: WorkFolder, summary: dict[str, Any], sums: Sums, options: Options) -> int:
    """Write the three files, and return on how many sheets the decisions stand."""
    parts = [part.folder for part in folder.parts()]
    decisions = gather([part / DECISIONS for part in parts])
    quarantined = name_columns(gather([part / QUARANTINED for part in parts]))
    made = [folder.half(path.name) for path in (places.quarantine, places.summary, places.output)]
    sheets = 1
    with writing(places.output, folder.kept):
        write_csv(quarantined, made[0])
        write_whole(made[1], (json.dumps(summary, indent=1, ensure_ascii=False) + "\n").encode())
        match places.form:
            case Form.PARQUET:
                write_parquet(decisions, made[2])
            case Form.CSV:
                write_csv(decisions, made[2])
            case Form.WORKBOOK:
                write_workbook(decisions, made[2], options.verdict_words)
                sheets = sheets_needed(sums.decided + sums.undecided)
        for path, place in zip(made, (places.quarantine, places.summary, places.output), strict=True):
            settle(path)
            move(path, place)
    return sheets


@contextmanager
def _interruptible(folder: WorkFolder) -> Iterator[None]:
    """Stop at once at Ctrl-C and say what is kept; meanwhile, collect what many parts leave behind."""
    was_collecting = gc.isenabled()
    gc.enable()
    # Polars installs a handler of its own, under which a wait goes on.
    is_main = threading.current_thread() is threading.main_thread()
    before = signal.signal(signal.SIGINT, signal.default_int_handler) if is_main else None
    try:
        yield
    except KeyboardInterrupt:
        raise Interrupted(f"interrupted. {folder.kept} Give the same command again to go on.") from None
    finally:
        if is_main:
            signal.signal(signal.SIGINT, before)
        if not was_collecting:
            gc.disable()
