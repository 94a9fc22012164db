"""How a look is drawn: stroke, dashes, filling. Nothing is told by colour alone; every line has its words as well.

The two colours, of the outside and of the inside, are told apart by every kind of colour sight, and by dashes.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

BLACK, GREY, PAPER = "#000000", "#5a5a5a", "#ffffff"
OUTSIDE, INSIDE = "#00558c", "#a84a00"
SHADE = "#e6e6e6"  # the wall
PALE = "#f4f4f4"

Hatch = Literal["", "slant", "cross", "dots", "upright", "level"]


@dataclass(frozen=True)
class Ink:
    """A stroke [mm] with its dashes [mm], and what fills an area: a colour, a hatching over it."""

    stroke: str = BLACK
    width: float = 0.2
    dashes: tuple[float, ...] = ()
    fill: str = ""
    hatch: Hatch = ""
    bold: bool = False


INKS: Mapping[str, Ink] = {
    "words": Ink(),
    "bold": Ink(bold=True),
    "quiet": Ink(stroke=GREY),
    "leader": Ink(stroke=GREY, width=0.12),
    "edge": Ink(width=0.3),
    "thin": Ink(width=0.15),
    "grid": Ink(stroke="#b4b4b4", width=0.1),
    "centre": Ink(stroke=GREY, width=0.15, dashes=(3.0, 0.8, 0.6, 0.8)),
    "wall": Ink(width=0.3, fill=SHADE),
    "hole": Ink(width=0.3, fill=PAPER),
    "tick": Ink(width=0.2),
    "band": Ink(width=0.25, fill=PAPER, hatch="slant"),
    "injury": Ink(width=0.2, fill=BLACK),
    "surface": Ink(width=1.0),
    "counted": Ink(width=0.25, dashes=(0.8, 0.6)),
    "earlier": Ink(width=0.25, fill=PAPER, hatch="cross"),
    "opening": Ink(width=0.25, dashes=(0.5, 0.5)),
    "reinforcement": Ink(width=0.7),
    "outside pad": Ink(stroke=OUTSIDE, width=0.9, dashes=(2.4, 0.8)),
    "outside bag": Ink(stroke=OUTSIDE, width=0.3, dashes=(0.4, 0.6)),
    "inside pad": Ink(stroke=INSIDE, width=0.9, dashes=(2.4, 0.7, 0.6, 0.7)),
    "inside bag": Ink(stroke=INSIDE, width=0.3, dashes=(0.4, 0.4)),
    "fill": Ink(width=0.2, fill=PAPER, hatch="dots"),
    "gum": Ink(width=0.2, fill=BLACK),
    "casing": Ink(width=0.2, fill=SHADE, hatch="cross"),
    "bridge": Ink(width=0.2, fill=PAPER, hatch="upright"),
    "other layer": Ink(width=0.2, fill=PAPER, hatch="level"),
    "after power-off": Ink(stroke="#ececec", width=0.0, fill="#ececec"),
    "slowest": Ink(width=0.6),
    "outside pad line": Ink(stroke=OUTSIDE, width=0.35, dashes=(2.0, 0.6)),
    "inside pad line": Ink(stroke=INSIDE, width=0.35, dashes=(2.0, 0.6, 0.5, 0.6)),
    "level": Ink(stroke=GREY, width=0.2, dashes=(0.3, 0.5)),
    "moment": Ink(stroke=GREY, width=0.2),
}
