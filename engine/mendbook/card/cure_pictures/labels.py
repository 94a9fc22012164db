"""Labels beside what they name: in a band above the axes and in a gutter to their right, where no curve runs."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from scipy.optimize import isotonic_regression

from mendbook.card.cure_pictures.page import FRAME, MARGIN, WIDTH, Page

AIR = 1.0  # mm between labels; letters of another font may run a little wider
RUN = 9.0  # mm of the line that leads to a label
LEADER: dict[str, Any] = {"color": FRAME, "linewidth": 0.5}


@dataclass(frozen=True)
class Label:
    """Words for a place on the axis, and how the line that leads to them looks."""

    at: float  # in the units of the axis
    words: str
    look: dict[str, Any] = field(default_factory=dict)
    leader: dict[str, Any] = field(default_factory=lambda: LEADER)


def spread(wished: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Return centres as near as may be (least squares) to those `wished`, between `low` and `high`, in their order.

    Neighbours of the given `sizes` touch at most. Where all together are longer than the room they begin at `low`.
    """
    order = np.argsort(wished, kind="stable")
    size = np.array(sizes)[order]
    shift = np.cumsum(size) - size / 2  # with it taken away, to keep apart is only to keep the order
    starts = isotonic_regression(np.array(wished)[order] - shift).x
    placed = np.empty(len(order))
    placed[order] = np.clip(starts, low, max(low, high - size.sum())) + shift
    return [float(place) for place in placed]


def label_right(page: Page, axes: Axes, labels: Sequence[Label], width_mm: float) -> None:
    """Write `labels` in a gutter `width_mm` wide to the right of `axes`, each at its height."""
    _, top, right, bottom = frame(page, axes)
    texts = [
        page.write(0, 0, page.fold(label.words, width_mm - RUN - AIR), va="center", linespacing=1.05, **label.look)
        for label in labels
    ]
    wished = [_millimetres(page, axes, y=label.at)[1] for label in labels]
    heights = [page.size(text)[1] + AIR for text in texts]
    for label, text, wish, height in zip(
        labels, texts, wished, spread(wished, heights, top - AIR, bottom), strict=True
    ):
        text.set_position((right + RUN + AIR, height))
        page.rule(
            [right, right + RUN / 3, right + RUN * 2 / 3, right + RUN],
            [wish, *[height] * 3],
            markevery=[2],
            **label.leader,
        )


def label_above(page: Page, axes: Axes, labels: Sequence[Label]) -> None:
    """Write `labels` above `axes`, each over its place and with a line down to the axes."""
    _, top, _, _ = frame(page, axes)
    texts = [
        page.write(0, top - 3.5, label.words, ha="center", va="bottom", linespacing=1.05, **label.look)
        for label in labels
    ]
    wished = [_millimetres(page, axes, x=label.at)[0] for label in labels]
    widths = [page.size(text)[0] + 2 * AIR for text in texts]
    for label, text, wish, place in zip(
        labels, texts, wished, spread(wished, widths, MARGIN, WIDTH - MARGIN), strict=True
    ):
        text.set_x(place)
        page.rule([place, wish], [top - 3, top], **label.leader)


def frame(page: Page, axes: Axes) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of `axes` [mm]."""
    box = axes.get_position()
    across, down = WIDTH, page.height_mm
    return box.x0 * across, (1 - box.y1) * down, box.x1 * across, (1 - box.y0) * down


def _millimetres(page: Page, axes: Axes, x: float | None = None, y: float | None = None) -> tuple[float, float]:
    """Return where a place on one of the axes is [mm], kept within them."""
    left, top, right, bottom = frame(page, axes)
    point = axes.transData.transform((axes.get_xlim()[0] if x is None else x, axes.get_ylim()[0] if y is None else y))
    across, down = page.millimetres.inverted().transform(point)
    return min(max(float(across), left), right), min(max(float(down), top), bottom)
