"""From a figure to the bytes of a file, the same for the same figure on every run."""

import re
from io import BytesIO, StringIO

from matplotlib.figure import Figure

from mendbook.card.cure_pictures.page import DOTS, INCH, styled


def as_svg(figure: Figure, width_mm: float | None = None) -> str:
    """Return `figure` as SVG text, `width_mm` wide; as wide as it was drawn (180 mm) when left out.

    Letters grow and shrink with it: under about 120 mm they are hard to read on paper.
    """
    written = StringIO()
    with styled():
        figure.savefig(written, format="svg", metadata={"Title": figure.get_label(), "Date": None, "Creator": None})
    width, height = (INCH * side for side in figure.get_size_inches().tolist())
    scale = 1.0 if width_mm is None else width_mm / width
    size = f'width="{scale * width:.2f}mm" height="{scale * height:.2f}mm"'
    return re.sub(r'width="[\d.]+pt" height="[\d.]+pt"', size, written.getvalue(), count=1)


def as_png(figure: Figure) -> bytes:
    """Return `figure` as a bitmap of 200 dots an inch."""
    written = BytesIO()
    with styled():
        figure.savefig(written, format="png", dpi=DOTS, metadata={"Software": None})
    return written.getvalue()
