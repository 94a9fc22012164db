"""How the columns of a yard are understood: shown, or at least those named that nobody reads."""

import sys
from typing import TextIO

from mendbook.yard.sheets import ColumnMap, Guess

MOST_UNREAD = 10  # headings named


def name_unread(guesses: tuple[Guess, ...]) -> None:
    """Name the columns that nobody reads: one with a heading of its own kind would be missed in silence."""
    for guess in guesses:
        if unread := [column.heading for column in guess.unread if column.heading]:
            more = f" and {len(unread) - MOST_UNREAD} more" if len(unread) > MOST_UNREAD else ""
            sys.stderr.write(f"{guess.file}: not read: {', '.join(unread[:MOST_UNREAD])}{more}\n")


def show_columns(guesses: tuple[Guess, ...], stream: TextIO) -> None:
    """Show how each column is understood."""
    for guess in guesses:
        stream.write(f"{guess.file}: how its columns are read\n")
        for heading, field, unit, note in guess.lines():
            held = " ".join(filter(None, [field, f"[{unit}]" if unit else ""]))
            stream.write(f"  {heading}: {held}{f' ({note})' if note else ''}\n")


def together(guesses: tuple[Guess, ...]) -> ColumnMap:
    """Return one map for all sheets."""
    return ColumnMap({heading: held for guess in guesses for heading, held in guess.as_map().columns.items()})
