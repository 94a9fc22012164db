"""Parts done on a cluster: Dask distributed keeps the workers, and gives a lost part to another of them."""

from collections.abc import Generator, Iterator
from typing import Any

from mendbook.yard.run.fault import RunError
from mendbook.yard.run.job import Job, Part, do_part
from mendbook.yard.run.local import Numbered

_LONGEST = 20  # seconds to wait for the scheduler
_MISSING = "a cluster needs Dask distributed. Install it with: pip install 'mendbook[cluster]'."


def do_there(job: Job, batches: Iterator[Numbered], address: str) -> Generator[tuple[int, Part], None, None]:
    """Yield the parts of `batches` by their numbers, as the workers of the scheduler at `address` finish them.

    A part travels whole, with its job; no worker needs a folder that another has. Raises RunError when there is no
    such cluster, when nobody works there, or when a worker refuses.
    """
    try:
        from distributed import Client
    except ImportError:
        raise RunError(_MISSING) from None
    try:
        client = Client(address, timeout=_LONGEST, set_as_default=False)
    except (OSError, ValueError) as problem:
        raise RunError(f"{address}: no cluster answers there ({str(problem).splitlines()[0]}).") from None
    with client:
        yield from _do(client, job, batches, address)


def _do(client: Any, job: Job, batches: Iterator[Numbered], address: str) -> Generator[tuple[int, Part], None, None]:
    from distributed import as_completed

    workers = len(client.nthreads())
    if not workers:
        raise RunError(f"{address}: this cluster has no workers. Start some, and give the same command again.")
    done = as_completed(loop=client.loop)
    running: dict[str, int] = {}

    def take() -> tuple[int, Part]:
        future = next(done)
        number = running.pop(future.key)
        try:
            return number, future.result()
        except RunError:
            raise
        except Exception as problem:  # a worker's error comes out as the type it was there: no narrower one holds all
            raise RunError(
                f"{address}: part {number + 1} could not be done there: {str(problem).splitlines()[0]}"
            ) from problem
        finally:
            future.release()

    for number, batch in batches:
        future = client.submit(do_part, job, number, batch, pure=False)
        running[future.key] = number
        done.add(future)
        if len(running) > 2 * workers:  # one to do and one at hand for each
            yield take()
    while running:
        yield take()
