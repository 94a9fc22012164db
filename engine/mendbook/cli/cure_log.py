"""The log of a cure: CSV text in, arrays out, with what was wrong with single lines."""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from mendbook.cli.log_headings import HOW, Heading, HeadingError, read_heading
from mendbook.cli.log_times import Clock, joined, read_number
from mendbook.cure.arrays import Array
from mendbook.cure.live import Channel, Record
from mendbook.terms.cure_state import Fault

LARGEST = 32_000_000  # bytes
FIRST_LINES = 30  # in which the headings must stand
SHOWN = 3  # bad lines told one by one
MOST_BAD = 0.5  # of the lines


class LogError(ValueError):
    """A log that cannot be read. The message carries file, line, what, and what to write."""


class EmptyLogError(LogError):
    """A log without a line of readings: there may be some soon."""


@dataclass(frozen=True)
class CureLog:
    """A log as it was read. The readings of every column (rows) are in our own units."""

    headings: tuple[Heading, ...]
    moments: Array  # [s], rising
    readings: Array
    began: str
    faults: tuple[Fault, ...]
    ignored: tuple[str, ...]

    def record(self) -> Record:
        """Return it as the cure module takes it."""
        by_kind: dict[str, Channel] = {}
        sensors = []
        for heading, row in zip(self.headings, self.readings, strict=True):
            if heading.depth_mm is not None:
                sensors.append(Channel(heading.name, row, heading.depth_mm / 1e3))
            else:
                by_kind[heading.kind] = Channel(heading.name, row)
        return Record(
            self.moments - self.moments[0],
            by_kind.get("outside"),
            by_kind.get("inside"),
            tuple(sensors),
            by_kind.get("pressure"),
        )


def decode(written: bytes, name: str) -> str:
    """Return the text of a log. Raises LogError when it is too large or no text."""
    if len(written) > LARGEST:
        raise LogError(f"{name}: the log is over {LARGEST // 10**6} MB. Give the part of this one cure.")
    if written[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return written.decode("utf-16", errors="replace")
    if b"\0" in written[:1000]:
        raise LogError(f"{name}: this is no text. Export the log as CSV.")
    try:
        return written.decode("utf-8-sig")
    except UnicodeDecodeError:
        return written.decode("cp1252", errors="replace")


def parse_log(text: str, name: str, meanings: Mapping[str, str] | None = None, *, is_growing: bool = False) -> CureLog:
    """Return the log in `text`. A last line without its end is left out when it is short of cells.

    meanings : what a person says of columns, by heading
    is_growing : leave such a line out anyhow; half a figure is a figure, too

    Raises LogError, and EmptyLogError while there are no readings.
    """
    lines = text.splitlines()
    is_open = bool(text) and not text.endswith(("\n", "\r"))
    start, mark, cells = _heading_line(lines, name, meanings or {})
    try:
        headings = [read_heading(cell, (meanings or {}).get(cell.strip())) for cell in cells]
    except HeadingError as error:
        raise LogError(f"{name}:{start + 1}: {error}") from None
    _check_columns(headings, meanings or {}, cells, f"{name}:{start + 1}")
    clock, time_places = _clock(headings)
    places = [i for i, heading in enumerate(headings) if heading and heading.kind not in ("time", "date")]

    moments: list[float] = []
    rows: list[list[float]] = []
    bad: list[str] = []
    began = ""
    for number, row in _rows(lines, start + 1, mark):
        if is_open and number == len(lines) and (is_growing or len(row) < len(cells)):
            continue
        if len(row) > len(cells) and mark == "," and len(row) >= 2 * len(cells) - 1:
            raise LogError(
                f"{name}:{number}: there are {len(row)} cells under {len(cells)} headings. Where decimals have a "
                "comma, put semicolons between the columns."
            )
        stamp = joined([row[place] for place in time_places if place < len(row)])
        try:
            moment = clock.seconds(stamp, moments[-1] if moments else None)
        except HeadingError as error:
            raise LogError(f"{name}:{number}: {error}") from None
        except ValueError:
            bad.append(f"line {number}: '{stamp[:30]}' is no time")
            continue
        if moments and moment <= moments[-1]:
            bad.append(f"line {number}: its time is not after the line before")
            continue
        if not moments:
            began = clock.told(stamp, moment)
        moments.append(moment)
        rows.append([_reading(row, place, headings[place]) for place in places])
    if len(bad) > MOST_BAD * (len(bad) + len(moments)) and len(bad) > 1:
        raise LogError(f"{name}: most lines cannot be used; {bad[0]}. {HOW}")
    pads = [
        column for column, place in enumerate(places) if (it := headings[place]) and it.kind in ("outside", "inside")
    ]
    if not np.isfinite([row[column] for row in rows for column in pads]).any():
        raise EmptyLogError(f"{name}: there are no readings of a pad below the headings yet.")
    return CureLog(
        headings=tuple(heading for place in places if (heading := headings[place])),
        moments=np.array(moments),
        readings=np.array(rows).T.reshape(len(places), len(moments)),
        began=began,
        faults=_bad_lines(bad),
        ignored=tuple(cell.strip() for cell, heading in zip(cells, headings, strict=True) if not heading),
    )


def _heading_line(lines: Sequence[str], name: str, meanings: Mapping[str, str]) -> tuple[int, str, list[str]]:
    """Return the index of the line of headings, what parts its cells, and the cells."""
    first: int | None = None
    for index, line in enumerate(lines[:FIRST_LINES]):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        first = index if first is None else first
        mark = "\t" if "\t" in line else ";" if ";" in line else ","
        cells = next(csv.reader([line], delimiter=mark))
        kinds = []
        for cell in cells:
            try:
                heading = read_heading(cell, meanings.get(cell.strip()))
            except HeadingError:
                kinds.append("unclear")
            else:
                kinds.append(heading.kind if heading else "")
        if {"time", "date"} & set(kinds) and len([kind for kind in kinds if kind]) > 1:
            return index, mark, cells
    if first is None:
        raise EmptyLogError(f"{name}: the log is empty so far.")
    raise LogError(f"{name}:{first + 1}: there is no line of headings with a time and a pad. {HOW}")


def _check_columns(
    headings: Sequence[Heading | None], meanings: Mapping[str, str], cells: Sequence[str], where: str
) -> None:
    written = [cell.strip() for cell in cells]
    for given, meaning in meanings.items():
        if given not in written:
            raise LogError(
                f"{where}: no column is headed '{given}', as --column says. There are: {', '.join(written)}."
            )
        if headings[written.index(given)] is None:
            raise LogError(f"{where}: --column '{given}={meaning}' says nothing that is known. {HOW}")
    known = [heading for heading in headings if heading]
    for one in ("outside", "inside", "pressure", "time"):
        twice = [heading.name for heading in known if heading.kind == one]
        if len(twice) > 1:
            raise LogError(
                f"{where}: '{twice[0]}' and '{twice[1]}' both say {one}. Leave one out, or head it otherwise."
            )
    names = [heading.name for heading in known]
    if doubled := next((name for name in names if names.count(name) > 1), None):
        raise LogError(f"{where}: two columns are headed '{doubled}'. Head each by its own depth.")
    if not any(heading.kind in ("outside", "inside") for heading in known):
        raise LogError(f"{where}: no column is a pad, and without one nothing is known. {HOW}")


def _clock(headings: Sequence[Heading | None]) -> tuple[Clock, list[int]]:
    dates = [i for i, heading in enumerate(headings) if heading and heading.kind == "date"]
    times = [i for i, heading in enumerate(headings) if heading and heading.kind == "time"]
    places = [*dates, *times]
    heading = headings[times[0] if times else dates[0]]
    assert heading is not None
    return Clock(heading, bool(dates)), places


def _rows(lines: Sequence[str], start: int, mark: str) -> list[tuple[int, list[str]]]:
    """Return the number and the cells of every line of readings."""
    return [
        (number, next(csv.reader([line], delimiter=mark)))
        for number, line in enumerate(lines[start:], start + 1)
        if line.strip() and not line.lstrip().startswith("#")
    ]


def _reading(row: Sequence[str], place: int, heading: Heading | None) -> float:
    number = read_number(row[place]) if place < len(row) else None
    return np.nan if number is None or heading is None else number * heading.scale + heading.offset


def _bad_lines(bad: Sequence[str]) -> tuple[Fault, ...]:
    if not bad:
        return ()
    more = f"; and {len(bad) - SHOWN} more" if len(bad) > SHOWN else ""
    return (
        Fault(
            kind="bad line",
            where="",
            from_min=0.0,
            to_min=None,
            readings=len(bad),
            said=f"{'; '.join(bad[:SHOWN])}{more}.",
            done=f"{len(bad)} {'line was' if len(bad) == 1 else 'lines were'} left out.",
        ),
    )
