"""How lines look: told apart by dashes, weight and markers, so that colour is never needed."""

from typing import Any

OUTSIDE = "#00558c"
INSIDE = "#a84a00"
BOTH = "0.25"
GUIDE: dict[str, Any] = {"color": "0.4", "linewidth": 0.7, "linestyle": (0, (1, 1.6))}  # a level that is set
MOMENT: dict[str, Any] = {"color": "0.4", "linewidth": 0.7}
SLOWEST: dict[str, Any] = {"color": "black", "linewidth": 2.2}

_MARKS = {OUTSIDE: "^", INSIDE: "v", BOTH: "D"}
_DASHES = {OUTSIDE: (6, 2), INSIDE: (6, 2, 1, 2), BOTH: (6, 2)}


def pad_stroke(colour: str) -> dict[str, Any]:
    """Return the look of a pad: thin and dashed."""
    return {"color": colour, "linewidth": 0.9, "linestyle": (0, _DASHES[colour])}


def face_stroke(colour: str) -> dict[str, Any]:
    """Return the look of a face: whole, with markers that point outwards (up) or inwards (down)."""
    return {"color": colour, "linewidth": 1.2, "marker": _MARKS[colour], "markersize": 3.6, "markerfacecolor": "white"}
