"""What a drawing consists of: lines, areas and words, each with a name and a look, in [mm] of paper.

The origin is the upper left corner; x runs right, y down. A look is a word that `inks` knows.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal

from mendbook.card.drawing.letters import text_width

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

POINT = 25.4 / 72  # mm
ASCENT, DESCENT = 0.80, 0.24  # of the size of letters, above and below their line


@dataclass(frozen=True)
class Box:
    """A rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        """Return whether the two share more than an edge."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def grown(self, by: float) -> "Box":
        """Return the box with `by` [mm] more on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)


@dataclass(frozen=True)
class Line:
    """A run of straight pieces; closed, it is an area."""

    name: str
    points: tuple[Point, ...]
    look: str
    closed: bool = False


@dataclass(frozen=True)
class Ring:
    """A circle."""

    name: str
    centre: Point
    radius: float
    look: str


@dataclass(frozen=True)
class Words:
    """One line of text, with the place of its anchor on the line that it stands on."""

    name: str
    at: Point
    text: str
    size: float = 7.0  # points
    anchor: Anchor = "start"
    look: str = "words"

    @property
    def box(self) -> Box:
        """What the text covers, by the letters of the font that is wished for."""
        height = self.size * POINT
        width = text_width(self.text, bold=self.look == "bold") * height
        left = self.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
        return Box(left, self.at[1] - ASCENT * height, left + width, self.at[1] + DESCENT * height)


Shape = Line | Ring | Words


@dataclass(frozen=True)
class Drawing:
    """A picture of a given size.

    scale : so many millimetres of tyre are one of paper; None where nothing is to scale
    left_out : what is not drawn and why, in sentences; they stand beside the picture
    """

    title: str
    width: float
    height: float
    shapes: tuple[Shape, ...]
    scale: float | None = None
    left_out: tuple[str, ...] = field(default=())

    def named(self, name: str) -> tuple[Shape, ...]:
        """Return the shapes called `name`."""
        return tuple(shape for shape in self.shapes if shape.name == name)

    @property
    def words(self) -> Iterator[Words]:
        """Every line of text."""
        yield from (shape for shape in self.shapes if isinstance(shape, Words))


def rectangle(name: str, box: Box, look: str) -> Line:
    """Return the four sides of a box."""
    corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
    return Line(name, corners, look, closed=True)


def moved(shapes: Iterable[Shape], right: float, down: float) -> Iterator[Shape]:
    """Yield `shapes` further right and down [mm]."""
    for shape in shapes:
        if isinstance(shape, Line):
            points = tuple((x + right, y + down) for x, y in shape.points)
            yield Line(shape.name, points, shape.look, shape.closed)
        elif isinstance(shape, Ring):
            yield Ring(shape.name, (shape.centre[0] + right, shape.centre[1] + down), shape.radius, shape.look)
        else:
            place = (shape.at[0] + right, shape.at[1] + down)
            yield Words(shape.name, place, shape.text, shape.size, shape.anchor, shape.look)
