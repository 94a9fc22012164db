"""Standard output: reports with emphasis on a terminal and as plain text elsewhere; any text in UTF-8."""

import os
import sys
from io import TextIOWrapper
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from rich.console import RenderableType


def prepare_streams() -> None:
    """Make both streams write UTF-8, so that no machine's old code page refuses a degree sign or a name.

    An encoding that the caller chose through PYTHONIOENCODING stays; what it cannot write is then replaced.
    """
    is_chosen = bool(os.environ.get("PYTHONIOENCODING"))
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(encoding=None if is_chosen else "utf-8", errors="replace")


def write(text: str) -> None:
    """Print `text`, ended by a line break. A reader that has gone away is no error."""
    try:
        sys.stdout.write(text if text.endswith("\n") else f"{text}\n")
        sys.stdout.flush()
    except BrokenPipeError:
        # The interpreter flushes once more at its end; that flush must find a place to go to.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def write_aside(text: str) -> None:
    """Print `text` on the error stream, where it does not mix with what a program reads."""
    sys.stderr.write(f"{text}\n")


def show(drawn: "Callable[[int], RenderableType]") -> None:
    """Print the report that `drawn` lays out for a width [columns]."""
    from rich.console import Console

    from mendbook.card.printing import as_text, column_width

    console = Console(highlight=False, markup=False, emoji=False)
    width = column_width(console.width)
    if console.is_terminal:
        console.print(drawn(width), width=width)
    else:
        write(as_text(drawn(width), width))
