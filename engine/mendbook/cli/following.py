"""A cure order held against its log, once or while the log grows."""

import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

from mendbook.card.live_report import live_display, live_line, live_report
from mendbook.cli.cure_log import CureLog, EmptyLogError, LogError, decode, parse_log
from mendbook.cli.log_splicing import check_against, splice
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.cure import PadTooSmallError
from mendbook.cure.live import read_state
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_state import CureState

QUIET = 5  # times the usual wait: a log that does not grow for so long is spoken of
LEAST_QUIET = 120.0  # s


def answer_log(
    order: CureOrder, log: Path | None, columns: Sequence[str], every: float | None, *, as_json: bool
) -> None:
    """Answer for `log` once, or look at it again `every` so many seconds. Raises RefusalError."""
    if log is None:
        raise RefusalError("--follow and --column go with a log. Name it: --log LOG.csv.")
    meanings = _meanings(columns)
    if log.is_dir():
        raise RefusalError(f"{log}: this is a folder. Name the log itself, a CSV file.")
    if every is None:
        _print_state(order, log, meanings, as_json=as_json)
    else:
        _follow(order, log, meanings, every=every, as_json=as_json)


def _meanings(given: Sequence[str]) -> dict[str, str]:
    """Return what a person says of columns, by heading: 'T3=25 mm [°C]'. Raises RefusalError."""
    found = {}
    for one in given:
        heading, equals, meaning = one.partition("=")
        if not equals or not heading.strip() or not meaning.strip():
            raise RefusalError(f"--column '{one}' is not HEADING=MEANING. Write such as --column 'T3=25 mm [°C]'.")
        found[heading.strip()] = meaning.strip()
    return found


def _print_state(order: CureOrder, log: Path, meanings: dict[str, str], *, as_json: bool) -> None:
    """Print where the cure stands by the log as it is now. Raises RefusalError."""
    with refusing(LogError, PadTooSmallError):
        try:
            state = _state(order, _read(order, log, meanings))
        except OSError as error:
            raise LogError(
                f"{log}: it cannot be read: {error.strerror}. Name the log, or add --follow to wait."
            ) from None
    if as_json:
        write(state.model_dump_json(by_alias=True, indent=2))
        return
    show(lambda width: live_report(state, width))


def _follow(order: CureOrder, log: Path, meanings: dict[str, str], *, every: float, as_json: bool) -> NoReturn:
    """Print the state anew whenever the log has grown, until somebody presses Ctrl-C.

    On a terminal in one place, elsewhere a line for each time. Raises RefusalError, and KeyboardInterrupt in the end.
    """
    with refusing(LogError, PadTooSmallError):
        if sys.stdout.isatty() and not as_json:
            _draw(order, log, meanings, every)
        for look in _looks(order, log, meanings, every):
            if look.state and look.is_new:
                _print(look.state.model_dump_json(by_alias=True) if as_json else live_line(look.state))
    raise AssertionError("a log is followed for ever")


@dataclass(frozen=True)
class _Look:
    """What was found at one look at the file."""

    state: CureState | None
    is_new: bool
    told: str


def _looks(order: CureOrder, log: Path, meanings: dict[str, str], every: float) -> Iterator[_Look]:
    """Yield what is found at each look, for ever. A file that is not there, or is empty, is waited for."""
    known: CureLog | None = None
    state: CureState | None = None
    seen: tuple[int, ...] | None = None
    grown = time.monotonic()
    while True:
        is_new, told = False, ""
        try:
            status = log.stat()
            stamp = (status.st_ino, status.st_size, status.st_mtime_ns)
            if stamp != seen:
                found = _read(order, log, meanings, is_growing=True)
                now = splice(known, found) if known else found
                is_new = known is None or len(now.moments) != len(known.moments) or now.began != known.began
                seen, known = stamp, now
                if is_new:
                    state, grown = _state(order, now), time.monotonic()
        except FileNotFoundError:
            told = f"{log} is not there. Waiting for it; Ctrl-C ends."
        except EmptyLogError:
            told = f"{log} has no readings yet. Waiting for them; Ctrl-C ends."
        except LogError as error:
            if known is None:
                raise
            told = f"The log cannot be read just now: {error}"
        quiet = time.monotonic() - grown
        if not told and quiet > max(LEAST_QUIET, QUIET * every):
            told = f"THE LOG HAS NOT GROWN FOR {quiet / 60:.0f} MIN. Look at the logger, and at the pads."
        yield _Look(state, is_new, told or f"{log}, looked at every {every:g} s. Ctrl-C ends.")
        time.sleep(every)


def _draw(order: CureOrder, log: Path, meanings: dict[str, str], every: float) -> NoReturn:
    from rich.console import Console, Group
    from rich.live import Live

    console = Console(highlight=False, markup=False, emoji=False)
    with Live(console=console, auto_refresh=False, vertical_overflow="crop") as live:
        for look in _looks(order, log, meanings, every):
            drawn = live_display(look.state, console.width, look.told) if look.state else Group(look.told)
            live.update(drawn, refresh=True)
    raise AssertionError("a log is followed for ever")


def _print(line: str) -> None:
    """Print one line. When nobody reads any longer, there is nothing left to follow for."""
    try:
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
    except BrokenPipeError:
        write("")
        raise KeyboardInterrupt from None


def read_whole_log(order: CureOrder, data: bytes, name: str, columns: Sequence[str]) -> CureState:
    """Return where the cure stands at the end of the log in `data`; errors call it `name`. Raises RefusalError."""
    with refusing(LogError, PadTooSmallError):
        return _state(order, _parse(order, data, name, _meanings(columns)))


def _read(order: CureOrder, log: Path, meanings: dict[str, str], *, is_growing: bool = False) -> CureLog:
    return _parse(order, log.read_bytes(), str(log), meanings, is_growing=is_growing)


def _parse(order: CureOrder, data: bytes, name: str, meanings: dict[str, str], *, is_growing: bool = False) -> CureLog:
    found = parse_log(decode(data, name), name, meanings, is_growing=is_growing)
    check_against(found, order, name)
    return found


def _state(order: CureOrder, log: CureLog) -> CureState:
    unread = (f"Columns that were not used: {', '.join(log.ignored)}.",) if any(log.ignored) else ()
    return read_state(order, log.record(), began=log.began, faults=log.faults, notes=unread)
