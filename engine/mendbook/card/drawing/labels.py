"""Labels in a column beside what they name: each near its place, none over another, a line leading to it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mendbook.card.drawing.shapes import ASCENT, DESCENT, POINT, Anchor, Line, Point, Shape, Words

AIR = 0.5  # mm between labels
GAP = 0.8  # mm between a label and its line


@dataclass(frozen=True)
class Label:
    """What is written about a point."""

    name: str
    at: Point
    text: str


def spread(wished: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Return centres as near as may be (least squares) to those `wished`, between `low` and `high`, in their order.

    Neighbours of the given `sizes` touch at most. Where all together are longer than the room they begin at `low`.
    """
    order = sorted(range(len(wished)), key=lambda index: (wished[index], index))
    room = max(low, high - sum(sizes))
    # With what stands before it taken away, to keep apart is only to keep the order: pool those that do not.
    pools: list[tuple[float, int]] = []
    before, shifts = 0.0, []
    for index in order:
        shifts.append(before + sizes[index] / 2)
        pools.append((wished[index] - shifts[-1], 1))
        before += sizes[index]
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (one, few), (other, more) = pools[-2:]
            pools[-2:] = [((one * few + other * more) / (few + more), few + more)]
    starts = [start for start, number in pools for _ in range(number)]
    placed = [0.0] * len(order)
    for index, start, shift in zip(order, starts, shifts, strict=True):
        placed[index] = min(max(start, low), room) + shift
    return placed


def column(
    labels: Sequence[Label], x: float, top: float, bottom: float, *, anchor: Anchor, size: float = 7.0
) -> Iterator[Shape]:
    """Yield `labels` in a column at `x`, between `top` and `bottom` [mm], with a line from each to its point.

    anchor : 'start' for a column whose words run to the right of `x`, 'end' for one whose words run to its left
    """
    height = size * POINT
    line = (ASCENT + DESCENT) * height + AIR
    wished = [label.at[1] for label in labels]
    towards = -GAP if anchor == "start" else GAP
    for label, middle in zip(labels, spread(wished, [line] * len(labels), top, bottom), strict=True):
        yield Words(label.name, (x, middle + (ASCENT - DESCENT) * height / 2), label.text, size, anchor)
        yield Line(f"to {label.name}", ((x + towards, middle), label.at), "leader")
