"""The page: headings, labelled lines, numbered lines and tables that wrap well from 40 columns up.

Everything hangs on one margin. A label stands in the margin and its text to the right of it; on a page too
narrow for that the text stands below its label.
"""

from collections.abc import Iterable, Sequence

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from mendbook.card.lettering import line

MARGIN = 14  # columns for labels
INDENT = 2
NARROW = 64  # columns; below it labels stand above their text
QUIET = "dim"
STRONG = "bold"

Words = str | Text


def heading(said: str) -> RenderableType:
    """Return the title of a part, with an empty line above."""
    return Group(Text(), line(said, STRONG))


def labelled(rows: Iterable[tuple[Words, RenderableType]], width: int, *, indent: int = INDENT) -> RenderableType:
    """Return rows of (label, text). Rows of the same label in sequence show it once."""
    told = [(label, text) for label, text in rows if text != ""]
    if width < NARROW:
        return _stacked(told, indent)
    grid = Table.grid(padding=(0, 2, 0, 0), expand=False)
    grid.add_column(width=MARGIN - indent - 2, overflow="fold")
    grid.add_column(overflow="fold", max_width=width - MARGIN)
    before: Words = ""
    for label, text in told:
        grid.add_row("" if label == before else _printable(label), _printable(text))
        before = label
    return Padding(grid, (0, 0, 0, indent))


def _stacked(rows: Sequence[tuple[Words, RenderableType]], indent: int) -> RenderableType:
    parts: list[RenderableType] = []
    before: Words = ""
    for label, text in rows:
        if label != before and label:
            parts.append(Padding(_printable(label), (0, 0, 0, indent)))
        parts.append(Padding(_printable(text), (0, 0, 0, indent + INDENT)))
        before = label
    return Group(*parts)


def numbered(items: Iterable[RenderableType], *, indent: int = INDENT) -> RenderableType:
    """Return `items` with their numbers hanging in front."""
    return hanging([(f"{number}", item) for number, item in enumerate(items, 1)], indent=indent)


def hanging(items: Sequence[tuple[str, RenderableType]], *, indent: int = INDENT) -> RenderableType:
    """Return `items` with their marks, such as numbers, hanging in front and aligned to the right."""
    grid = Table.grid(padding=(0, 2, 0, 0))
    grid.add_column(justify="right", no_wrap=True, width=max((len(mark) for mark, _ in items), default=1))
    grid.add_column(overflow="fold")
    for mark, item in items:
        grid.add_row(mark, _printable(item))
    return Padding(grid, (0, 0, 0, indent))


def table(heads: Sequence[str], rows: Iterable[Sequence[Words]], width: int) -> RenderableType:
    """Return a table without rules; on a narrow page, one block of labelled lines for each row."""
    cells = [[_printable(cell) for cell in row] for row in rows]
    if width < NARROW:
        blocks = [part for row in cells for part in (Text(), _block(heads, row))]
        return Group(*blocks[1:])
    grid = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style=QUIET, show_edge=False)
    for head in heads:
        grid.add_column(head, overflow="fold", vertical="top")
    for row in cells:
        grid.add_row(*row)
    return Padding(grid, (0, 0, 0, INDENT))


def _block(heads: Sequence[str], row: Sequence[RenderableType]) -> RenderableType:
    longest = max(len(head) for head in heads)
    grid = Table.grid(padding=(0, 2, 0, 0))
    grid.add_column(width=longest, no_wrap=True)
    grid.add_column(overflow="fold")
    for head, cell in zip(heads, row, strict=True):
        grid.add_row(head, cell)
    return Padding(grid, (0, 0, 0, INDENT))


def stack(*parts: RenderableType | None) -> RenderableType:
    """Return `parts` one below the other; None is left out."""
    return Group(*(part for part in parts if part is not None))


def _printable(text: RenderableType) -> RenderableType:
    return line(text) if isinstance(text, str) else text
