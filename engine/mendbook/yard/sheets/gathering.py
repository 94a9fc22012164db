"""The rows of whole tyres together, a batch at a time, though they may lie anywhere in the sheet."""

from collections.abc import Iterable, Iterator
from math import ceil
from pathlib import Path
from tempfile import TemporaryDirectory

import polars as pl

from mendbook.yard.sheets.numbering import NUMBER, is_rising

ROWS_A_HEAP = 400_000  # rows of scattered tyres that are put in order at once


def gather(
    chunks: Iterable[pl.DataFrame], numbers: pl.Series, size: int, scratch: Path
) -> Iterator[tuple[int, pl.DataFrame]]:
    """Yield the number of a batch and its rows, with NUMBER: `size` tyres at a time, in the order of their numbers.

    `numbers` tells the tyre of each row of `chunks`; one without is left out. Where the rows of tyres lie apart,
    they are first laid on heaps in `scratch`, each a run of tyres, so that memory holds one heap and no more.
    """
    numbered = _numbered(chunks, numbers)
    if is_rising(numbers):
        yield from _cut(numbered, size)
        return
    tyres, heaps = numbers.n_unique(), ceil(len(numbers) / ROWS_A_HEAP)
    tyres_a_heap = ceil(tyres / heaps / size) * size
    with TemporaryDirectory(dir=scratch) as folder:
        yield from _cut(_sorted_heaps(numbered, tyres_a_heap, Path(folder)), size)


def _numbered(chunks: Iterable[pl.DataFrame], numbers: pl.Series) -> Iterator[pl.DataFrame]:
    begin = 0
    for chunk in chunks:
        part = numbers.slice(begin, chunk.height)
        begin += chunk.height
        yield chunk.with_columns(part.alias(NUMBER)).filter(pl.col(NUMBER).is_not_null())


def _sorted_heaps(chunks: Iterator[pl.DataFrame], tyres_a_heap: int, folder: Path) -> Iterator[pl.DataFrame]:
    heap = "heap"
    for place, chunk in enumerate(chunks):
        for part in chunk.with_columns((pl.col(NUMBER) // tyres_a_heap).alias(heap)).partition_by(heap):
            own = folder / f"{part.item(0, heap)}"
            own.mkdir(exist_ok=True)
            part.drop(heap).write_ipc(own / f"{place:06}")
    for own in sorted(folder.iterdir(), key=lambda path: int(path.name)):
        yield pl.concat([pl.read_ipc(part) for part in sorted(own.iterdir())], how="diagonal").sort(
            NUMBER, maintain_order=True
        )


def _cut(chunks: Iterator[pl.DataFrame], size: int) -> Iterator[tuple[int, pl.DataFrame]]:
    """Yield whole batches of rows that come in the order of their tyres."""
    batch = "batch"
    held: list[pl.DataFrame] = []
    current = -1
    for chunk in chunks:
        for part in chunk.with_columns((pl.col(NUMBER) // size).alias(batch)).partition_by(batch, maintain_order=True):
            number = int(part.item(0, batch))
            if held and number != current:
                yield current, pl.concat(held, how="diagonal")
                held = []
            current = number
            held.append(part.drop(batch))
    if held:
        yield current, pl.concat(held, how="diagonal")
