"""The frame that all pictures share: a title, a band for labels, axes, a gutter for labels, a caption."""

from dataclasses import dataclass

from matplotlib.axes import Axes

from mendbook.card.cure_pictures.page import MARGIN, WIDTH, Page

LEFT = 13.5  # mm for the figures of the upright axis
GUTTER = 46.0  # mm for the labels at the right
TITLE = 5.0  # mm
BAND = 11.0  # mm for labels above the axes
BELOW = 11.0  # mm for the figures of the level axis and what it measures
LINE = 3.4  # mm from line to line of a caption


@dataclass(frozen=True)
class Place:
    """A strip across the page."""

    page: Page
    top: float  # [mm]
    height: float  # [mm]


def open_panel(place: Place, title: str, caption: str) -> Axes:
    """Write title and caption, and return the axes that stand between them."""
    page, lines = place.page, place.page.fold(caption, WIDTH - 2 * MARGIN)
    page.write(MARGIN, place.top, title, va="top", fontsize=9, fontweight="bold")
    depth = LINE * (1 + lines.count("\n"))
    page.write(MARGIN, place.top + place.height - depth, lines, va="top", linespacing=1.25, gid="caption")
    head = TITLE + BAND
    return page.axes(
        MARGIN + LEFT, place.top + head, WIDTH - 2 * MARGIN - LEFT - GUTTER, place.height - head - BELOW - depth
    )
