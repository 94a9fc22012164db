"""From a report to plain text: for a file, a pipe, or a page."""

from io import StringIO

from rich.console import Console, RenderableType

WIDEST = 100  # columns; longer lines are hard to read back to their beginning
NARROWEST = 40


def as_text(report: RenderableType, width: int = WIDEST) -> str:
    """Return `report` as plain text of `width` columns (40 to 100), without colour and trailing space."""
    console = Console(
        file=StringIO(),
        width=column_width(width),
        force_terminal=False,
        color_system=None,
        highlight=False,
        markup=False,
        emoji=False,
        legacy_windows=False,
    )
    with console.capture() as captured:
        console.print(report)
    lines = [written.rstrip() for written in captured.get().splitlines()]
    return "\n".join(lines).strip("\n") + "\n"


def column_width(wished: int) -> int:
    """Return `wished` columns, kept within what a report can be laid out in."""
    return max(NARROWEST, min(WIDEST, wished))
