"""A page measured in millimetres from its upper left corner, and the style of what is drawn on it."""

import re
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from matplotlib import style
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Rectangle
from matplotlib.text import Text
from matplotlib.transforms import Affine2D, Transform

from mendbook.card.lettering import plain

INCH = 25.4  # mm
WIDTH = 180.0  # mm: an A4 sheet between its margins
MARGIN = 4.0  # mm of paper round what is drawn
DOTS = 200  # an inch, of a bitmap
LETTERS = 7.5  # points
FRAME = "0.35"

_BREAK = re.compile(r"(?<!\d h) (?!(?:x t90|t90|min|mm|h|°C)\b|%)")  # a figure keeps its unit

_STYLE: dict[str, Any] = {
    "axes.edgecolor": FRAME,
    "axes.linewidth": 0.6,
    "axes.labelsize": LETTERS,
    "axes.unicode_minus": False,
    "font.family": ["sans-serif"],
    "font.sans-serif": ["DejaVu Sans"],
    "font.size": LETTERS,
    "path.simplify": False,
    "svg.fonttype": "none",  # letters stay letters: they can be searched, read aloud and copied
    "svg.hashsalt": "mendbook",  # names inside the file hang on nothing but what is drawn
    "text.hinting": "none",
    "text.parse_math": False,  # a dollar sign in a name is a dollar sign
    "xtick.labelsize": LETTERS,
    "ytick.labelsize": LETTERS,
    "xtick.color": FRAME,
    "ytick.color": FRAME,
    "xtick.labelcolor": "black",
    "ytick.labelcolor": "black",
}


@contextmanager
def styled() -> Iterator[None]:
    """Draw and write in our style, whatever the settings of the machine; a letter that the font lacks is no fault."""
    with style.context(["default", _STYLE]), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph")
        yield


class Page:
    """A figure on which things are placed in [mm]: x from the left edge, y downwards from the upper edge."""

    def __init__(self, height_mm: float, width_mm: float = WIDTH) -> None:
        self.height_mm, self.width_mm = height_mm, width_mm
        self.figure = Figure(figsize=(width_mm / INCH, height_mm / INCH), dpi=DOTS)
        FigureCanvasAgg(self.figure)  # it measures letters
        inches = Affine2D().scale(1 / INCH, -1 / INCH).translate(0, height_mm / INCH)
        self.millimetres: Transform = inches + self.figure.dpi_scale_trans

    def axes(self, left: float, top: float, width: float, height: float) -> Axes:
        """Return empty axes with the given place and size [mm]."""
        bottom = self.height_mm - top - height
        place = (left / self.width_mm, bottom / self.height_mm, width / self.width_mm, height / self.height_mm)
        axes = self.figure.add_axes(place)
        axes.spines[["top", "right"]].set_visible(False)
        axes.tick_params(width=0.6, length=2.5)
        return axes

    def write(self, x: float, y: float, written: str, **look: Any) -> Text:
        """Write at a point [mm] and return the text."""
        return self.figure.text(x, y, written, transform=self.millimetres, **look)

    def rule(self, xs: Sequence[float], ys: Sequence[float], **look: Any) -> Line2D:
        """Draw a line through points [mm]."""
        line = Line2D(xs, ys, transform=self.millimetres, **look)
        self.figure.add_artist(line)
        return line

    def box(self, x: float, y: float, width: float, height: float, **look: Any) -> Rectangle:
        """Draw a box whose upper left corner is at a point [mm]."""
        box = Rectangle((x, y), width, height, transform=self.millimetres, **look)
        self.figure.add_artist(box)
        return box

    def dot(self, x: float, y: float, radius: float, **look: Any) -> Circle:
        """Draw a dot round a point [mm]."""
        dot = Circle((x, y), radius, transform=self.millimetres, **look)
        self.figure.add_artist(dot)
        return dot

    def size(self, text: Text) -> tuple[float, float]:
        """Return width and height of a text [mm]."""
        box = text.get_window_extent()
        return box.width / self.figure.dpi * INCH, box.height / self.figure.dpi * INCH

    def fold(self, written: str, width_mm: float) -> str:
        """Return `written` in lines of at most `width_mm`, broken between words."""
        probe = self.write(0, 0, "")

        def width(said: str) -> float:
            probe.set_text(said)
            return self.size(probe)[0]

        space = width("n n") - width("nn")
        lines: list[list[str]] = []
        room = 0.0
        for word in _BREAK.split(plain(written)):
            taken = width(word) + space
            if not lines or taken > room:
                lines.append([])
                room = width_mm + space
            lines[-1].append(word)
            room -= taken
        probe.remove()
        return "\n".join(" ".join(line) for line in lines)
