"""Bad input: one clear error on the error stream, never a traceback."""

import shutil
import sys
import textwrap
from collections.abc import Iterator
from contextlib import contextmanager

REFUSED = 2
MARK = "error: "
WIDEST = 100  # columns
NARROWEST = 40


class RefusalError(Exception):
    """Input that cannot be used. The message says where, what, why and what to write instead."""


@contextmanager
def refusing(*kinds: type[Exception], where: str = "") -> Iterator[None]:
    """Turn the errors named into a RefusalError with the same words, behind `where` when they lack a place."""
    try:
        yield
    except kinds as error:
        raise RefusalError(f"{where}: {error}" if where else str(error)) from error


def complain(message: str) -> None:
    """Print `message` on the error stream, wrapped; each line that is not indented is an error of its own."""
    columns = max(NARROWEST, min(WIDEST, shutil.get_terminal_size().columns))
    for fault in faults(message):
        sys.stderr.write(f"{wrapped(fault, columns)}\n")


def faults(message: str) -> list[str]:
    """Return the errors in `message`; an indented line belongs to the one before."""
    found: list[str] = []
    for written in message.splitlines():
        if found and written.startswith(" "):
            end = "" if found[-1][-1] in ".!?:" else "."
            found[-1] += f"{end} {_visible(written)}"
        elif written.strip():
            found.append(_visible(written))
    return found or ["something is wrong, and no more is known."]


def wrapped(fault: str, columns: int) -> str:
    """Return `fault` with its mark, wrapped to `columns`, further lines indented. Words are never cut."""
    return textwrap.fill(
        fault, columns, initial_indent=MARK, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False
    )


def _visible(written: str) -> str:
    """Return `written` without what would steer a terminal: an error quotes what a stranger wrote."""
    return " ".join("".join(c if c.isprintable() else " " for c in written).split())
