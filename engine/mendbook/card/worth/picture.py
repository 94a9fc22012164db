"""The largest levers as a picture: a bar for each figure, black and white, every end labelled."""

from typing import Any

from matplotlib.axes import Axes

from mendbook.card.cure_pictures.page import FRAME, LETTERS, MARGIN, WIDTH, Page, styled
from mendbook.card.cure_pictures.rendering import as_png, as_svg
from mendbook.card.lettering import plain, short
from mendbook.card.worth.chart import MOST
from mendbook.card.worth.spelling import spelt
from mendbook.terms.worth import Lever, Worth

ROW = 9.0  # mm a lever
TITLE = 12.0  # mm
BELOW = 11.0  # mm for the figures of the axis and what it measures
LINE = 3.6  # mm from line to line of the caption
NAMES = 34.0  # mm for the names
ROOM = 0.18  # of the span, at either side, for what is written at the ends
LOW_LOOK: dict[str, Any] = {"facecolor": "white", "edgecolor": "black", "hatch": "////", "linewidth": 0.6}
HIGH_LOOK: dict[str, Any] = {"facecolor": "0.35", "edgecolor": "black", "linewidth": 0.6}


def draw_levers(case: str, worth: Worth, *, as_vectors: bool) -> bytes:
    """Return a picture of the largest levers of `worth`, which has some: SVG `as_vectors`, else PNG."""
    with styled():
        shown = worth.levers[:MOST]
        probe = Page(10.0).fold(caption(worth), WIDTH - 2 * MARGIN)
        below = BELOW + LINE * (2 + probe.count("\n"))
        page = Page(TITLE + ROW * len(shown) + below)
        page.figure.set_label(f"Levers: {short(case, 60)}")
        page.write(MARGIN, MARGIN, f"What moves the value of repairing most: {short(case, 60)}", va="top", fontsize=9,
                   fontweight="bold")  # fmt: skip
        axes = page.axes(MARGIN + NAMES, TITLE, WIDTH - 2 * MARGIN - NAMES, ROW * len(shown))
        _draw(axes, shown, worth)
        page.write(MARGIN, page.height_mm - MARGIN, probe, va="bottom", linespacing=1.25, gid="caption")
    return as_svg(page.figure).encode() if as_vectors else as_png(page.figure)


def caption(worth: Worth) -> str:
    """Return what the picture shows, in sentences."""
    value = f"{worth.value or 0.0:,.2f} {worth.currency}"
    tried = " A star: no error is written, and a fifth less and more was tried."
    said = (
        f"Hatched: the value of repairing with the figure at its low end; grey: at its high end. The upright line is "
        f"the value as reckoned, {value}; left of 0 a new tyre is cheaper."
    )
    struck = f" Struck out: {worth.struck}" if worth.struck else ""
    return f"{said}{tried if any(not lever.is_written for lever in worth.levers[:MOST]) else ''}{struck}"


def _draw(axes: Axes, shown: tuple[Lever, ...], worth: Worth) -> None:
    value = worth.value or 0.0
    for row, lever in enumerate(shown):
        for end, at, look in ((lever.low, lever.value_at_low, LOW_LOOK), (lever.high, lever.value_at_high, HIGH_LOOK)):
            axes.barh(row, at - value, left=value, height=0.6, **look)
            is_left = at < value or (at == value and end == lever.low)
            axes.annotate(
                spelt(end, lever.kind, worth), (at, row), xytext=(-3 if is_left else 3, 0), textcoords="offset points",
                ha="right" if is_left else "left", va="center", fontsize=LETTERS - 0.5, gid="end",
            )  # fmt: skip
    ends = [at for lever in shown for at in (lever.value_at_low, lever.value_at_high)] + [0.0, value]
    room = ROOM * (max(ends) - min(ends))
    axes.set_xlim(min(ends) - room, max(ends) + room)
    axes.set_ylim(len(shown) - 0.5, -0.5)
    axes.set_yticks(range(len(shown)), [f"{plain(one.name)}{'' if one.is_written else ' *'}" for one in shown])
    axes.tick_params(axis="y", length=0)
    axes.axvline(value, color="black", linewidth=1.0)
    axes.axvline(0.0, color=FRAME, linewidth=0.8, linestyle=(0, (2, 2)))
    axes.set_xlabel(f"value of repairing, {worth.currency}")
    axes.xaxis.set_major_formatter(lambda amount, _: f"{amount:,.0f}")
