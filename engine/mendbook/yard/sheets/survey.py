"""A look over the bytes of a CSV before it is read: how many records, and which do not fit under the headings.

The fast reader of columns drops or shifts what does not fit. Here every record is counted and its cells with it, so
that nothing is lost: what fits goes the fast way, what does not is taken out and named.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

BLOCK = 1 << 24  # bytes
LONGEST = 1 << 27  # bytes of one record; a quote that is never closed runs on to the end of the file
NEWLINE, RETURN, QUOTE = 10, 13, 34
NOTHING = b' \t\r"'  # all that stands in a blank row, beside delimiters

Places = NDArray[np.int64]


@dataclass(frozen=True)
class Uneven:
    """A record with more or fewer cells than there are headings: its number from 0, its bytes, and its cells."""

    number: int
    begin: int
    end: int
    cells: int


@dataclass
class Survey:
    """What was seen. `is_quoted_well` is False where a quote stands where none should."""

    records: int = 0
    has_quotes: bool = False
    is_quoted_well: bool = True
    has_long_cells: bool = False  # a cell runs over several lines
    uneven: list[Uneven] = field(default_factory=list)


def survey(path: Path, delimiter: str, cells: int, begin: int = 0) -> Survey:
    """Return what the bytes of `path` from `begin` on hold, where there are `cells` headings.

    They are UTF-8, with lines that end in a newline.
    """
    seen = Survey()
    for offset, block in _blocks(path, seen, begin):
        if not seen.is_quoted_well:
            return seen
        _look(block, offset, ord(delimiter), cells, seen)
    return seen


def _blocks(path: Path, seen: Survey, begin: int) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """Yield whole records, many at a time, each with the offset of the first."""
    offset, carried = begin, b""
    with path.open("rb") as file:
        file.seek(begin)
        while fresh := file.read(BLOCK):
            data = carried + fresh
            block = np.frombuffer(data, np.uint8)
            lines = np.flatnonzero(block == NEWLINE)
            quotes = np.flatnonzero(block == QUOTE)
            if quotes.size:
                inside = (np.searchsorted(quotes, lines) & 1).astype(bool)
                seen.has_quotes, seen.has_long_cells = True, seen.has_long_cells or bool(inside.any())
                lines = lines[~inside]
            cut = int(lines[-1]) + 1 if lines.size else 0
            if len(data) - cut > LONGEST:
                seen.is_quoted_well = False
            if cut:
                yield offset, block[:cut]
            carried, offset = data[cut:], offset + cut
    if carried:
        if carried.count(b'"') % 2:
            seen.is_quoted_well = False
        yield offset, np.frombuffer(carried + b"\n", np.uint8)


def _look(block: NDArray[np.uint8], offset: int, delimiter: int, cells: int, seen: Survey) -> None:
    ends = np.flatnonzero(block == NEWLINE)
    parts = np.flatnonzero(block == delimiter)
    quotes = np.flatnonzero(block == QUOTE)
    if quotes.size:
        if not _are_in_place(block, quotes, delimiter):
            seen.is_quoted_well = False
            return
        ends = ends[(np.searchsorted(quotes, ends) & 1) == 0]
        parts = parts[(np.searchsorted(quotes, parts) & 1) == 0]
    found = np.diff(np.searchsorted(parts, ends), prepend=0) + 1
    begins = np.concatenate(([0], ends[:-1] + 1))
    is_uneven = found != cells
    if cells == 1:
        is_uneven |= (ends - begins) - (block[ends - 1] == RETURN) == 0  # the fast reader leaves out an empty line
    for place in np.flatnonzero(is_uneven).tolist():
        begin, end = int(begins[place]), int(ends[place])
        blank = not bytes(block[begin:end]).strip(bytes([delimiter]) + NOTHING)
        seen.uneven.append(
            Uneven(seen.records + place, offset + begin, offset + end, 0 if blank else int(found[place]))
        )
    seen.records += len(ends)


def _are_in_place(block: NDArray[np.uint8], quotes: Places, delimiter: int) -> bool:
    """Return whether quotes open and close whole cells, or stand doubled inside them (RFC 4180, from memory)."""
    if quotes.size % 2:
        return False
    opening, closing = quotes[0::2], quotes[1::2]
    before = block[np.maximum(opening - 1, 0)]
    # A quote that opens right behind one that closes is the second of a doubled pair.
    doubled = np.concatenate(([False], closing[:-1] + 1 == opening[1:]))
    opens = (opening == 0) | np.isin(before, (delimiter, NEWLINE)) | doubled
    after = block[np.minimum(closing + 1, block.size - 1)]
    closes = np.isin(after, (delimiter, NEWLINE, RETURN)) | np.concatenate((doubled[1:], [False]))
    return bool(opens.all() and closes.all())
