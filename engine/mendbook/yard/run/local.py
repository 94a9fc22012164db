"""Parts done on this machine: in this process, or in several that end with it."""

import gc
import multiprocessing as mp
import os
import signal
import threading
from collections.abc import Generator, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from itertools import islice
from multiprocessing import resource_tracker
from multiprocessing.connection import Connection

from mendbook.yard.batch import Batch
from mendbook.yard.run.fault import RunError
from mendbook.yard.run.job import Job, Part, do_part

Numbered = tuple[int, Batch]
_DIED = (
    "a process of this review died; it may have run out of memory. Give the same command again with fewer workers: "
    "it goes on where it stopped."
)


def do_here(job: Job, batches: Iterator[Numbered], workers: int) -> Generator[tuple[int, Part], None, None]:
    """Yield the parts of `batches` by their numbers, as they are done, by at most `workers` processes.

    Raises RunError when a process dies.
    """
    ahead = [*islice(batches, 2)]
    rest = _chain(ahead, batches)
    if workers == 1 or len(ahead) < 2:
        for number, batch in rest:
            yield number, do_part(job, number, batch)
        return
    yield from _do_in_processes(job, rest, workers)


def _chain(ahead: list[Numbered], batches: Iterator[Numbered]) -> Iterator[Numbered]:
    while ahead:
        yield ahead.pop(0)
    yield from batches


def _do_in_processes(job: Job, batches: Iterator[Numbered], workers: int) -> Generator[tuple[int, Part], None, None]:
    context = mp.get_context("spawn")  # a fork would inherit the threads of Polars in the middle of their work
    ear, mouth = context.Pipe(duplex=False)
    pool = ProcessPoolExecutor(workers, context, _end_with, (ear,))
    running: dict[Future[Part], int] = {}
    try:
        for number, batch in batches:
            with _as_a_child(workers):
                running[pool.submit(do_part, job, number, batch)] = number
            del batch
            if len(running) > workers:  # one waits, so that nobody idles
                yield from _done(running)
        while running:
            yield from _done(running)
        pool.shutdown()
    except BrokenProcessPool as problem:
        raise RunError(_DIED) from problem
    finally:
        mouth.close()  # and with it every process that still works
        pool.shutdown(cancel_futures=True)
        ear.close()


def _done(running: dict[Future[Part], int]) -> Generator[tuple[int, Part], None, None]:
    for future in wait(running, return_when=FIRST_COMPLETED).done:
        number = running.pop(future)
        yield number, future.result()


def _end_with(ear: Connection) -> None:
    """Let this process end when the one that began it does, or says so: nobody else would tell it."""
    gc.enable()

    def listen() -> None:
        with suppress(EOFError, OSError):
            ear.recv()
        os._exit(0)

    threading.Thread(target=listen, daemon=True).start()


@contextmanager
def _as_a_child(workers: int) -> Iterator[None]:
    """Begin processes that share the processors, and that leave Ctrl-C to the one that began them."""
    share = {
        "POLARS_MAX_THREADS": str(max(1, processors() // workers)),
        "OPENBLAS_NUM_THREADS": "1",
        # Pages that Polars gives back at once are asked for again a moment later.
        "_RJEM_MALLOC_CONF": "dirty_decay_ms:10000,muzzy_decay_ms:-1",
    }
    before = {name: os.environ.get(name) for name in share}
    resource_tracker.ensure_running()  # it would lift the mask when it begins
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT}) if hasattr(signal, "pthread_sigmask") else None
    os.environ.update(share)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value
        if mask is not None:
            signal.pthread_sigmask(signal.SIG_SETMASK, mask)


def processors() -> int:
    """Return the number of processors that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
