"""The summary of a review in a terminal: short, exact, the rest on the page and in the decisions."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.padding import Padding
from rich.table import Table as Grid

from mendbook.card.layout import INDENT, QUIET, STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, short
from mendbook.card.printing import WIDEST, column_width
from mendbook.card.yard.note import CAUTIONS, Note
from mendbook.card.yard.parts import parts
from mendbook.card.yard.tables import Part, Table
from mendbook.yard.summary import Summary

FEW = 8  # rows of a table
GAP = 2  # columns between columns
ROOM = 12  # columns that words need at least, to fold well


def yard_report(summary: Summary, note: Note, width: int = WIDEST) -> RenderableType:
    """Return the summary of a review, laid out for `width` columns (40 to 100)."""
    columns = column_width(width)
    title = f"{short(note.sheet)}: review of a yard"
    return stack(
        line(title, STRONG),
        *(_part(part, columns) for part in parts(summary, note)),
        _labelled("Where it lies", list(note.places()), columns),
        heading("Cautions"),
        hanging([("-", line(caution)) for caution in CAUTIONS]),
        _labelled("Record", list(note.record()), columns),
    )


def _labelled(title: str, rows: list[tuple[str, str]], width: int) -> RenderableType | None:
    return stack(heading(title), labelled(rows, width)) if rows else None


def _part(part: Part, width: int) -> RenderableType:
    says = [Padding(line(said), (0, 0, 0, INDENT)) for said in part.says]
    if part.table is None:
        return stack(heading(part.title), *says)
    few = part.table.first(FEW)
    more = f"And {few.left_out} more, all on the page and in its data." if few.left_out else ""
    return stack(
        heading(part.title),
        *says,
        lay_out(few, width) if few.rows else None,
        Padding(line(more), (0, 0, 0, INDENT)) if more else None,
    )


def lay_out(table: Table, width: int) -> RenderableType:
    """Return `table` in columns, its numbers to the right; where they have no room, a paragraph for each row."""
    numbers = [
        max(map(len, (table.heads[place], *(row[place] for row in table.rows))))
        for place in range(table.words, len(table.heads))
    ]
    taken = INDENT + sum(numbers) + GAP * len(table.heads) + ROOM * table.words
    if taken > width:
        return hanging([("-", line(said)) for said in _paragraphs(table)])
    grid = Grid(box=None, padding=(0, GAP, 0, 0), pad_edge=False, header_style=QUIET, show_edge=False)
    for place, head in enumerate(table.heads):
        is_number = place >= table.words
        grid.add_column(head, justify="right" if is_number else "left", no_wrap=is_number, overflow="fold")
    for row in table.rows:
        grid.add_row(*map(line, row))
    return Padding(grid, (0, 0, 0, INDENT))


def _paragraphs(table: Table) -> Iterator[str]:
    """Yield each row as a sentence; numbers that are nothing go unsaid."""
    for name, *cells in table.rows:
        told = (
            f"{head} {plain(cell)}"
            for place, (head, cell) in enumerate(zip(table.heads[1:], cells, strict=True), start=1)
            if cell and not (place >= table.words and cell == "0")
        )
        yield f"{name}: {'; '.join(told)}."
