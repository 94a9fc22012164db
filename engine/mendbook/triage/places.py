"""Whether the injuries of a case can lie on its tyre at all."""

from collections.abc import Iterator, Mapping
from math import pi
from typing import Any

from mendbook.terms.case import Case, Section
from mendbook.terms.quantity import Quantity


class ImpossibleCase(ValueError):
    """A case whose figures cannot all be true. `path` tells where in the case the fault lies."""

    def __init__(self, path: tuple[str | int, ...], message: str) -> None:
        super().__init__(message)
        self.path = path


def check_places(case: Case, tyre: Mapping[str, Any]) -> None:
    """Raise ImpossibleCase for an injury outside the tyre or larger than it; `tyre` is a derived tyre row."""
    if tyre["half girth"] is None:
        return
    for number, injury in enumerate(case.injuries):
        for fact, message in _faults(injury, tyre):
            raise ImpossibleCase(("injuries", number, fact), f"{message} Check the figure and the size of the tyre.")


def _faults(injury: Section, tyre: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    half, size = (
        tyre["half girth"],
        f"this size has {tyre['half girth']:.0f} mm from bead toe to crown centreline",
    )
    girth = pi * (tyre["rim"] + 2.0 * tyre["height"])
    most = {
        "distance from bead": (half, f"that lies beyond the crown centreline; {size}."),
        "distance from centreline": (half, f"that lies beyond the bead; {size}."),
        "length": (girth, f"that is longer than the tyre is round ({girth:.0f} mm)."),
        "width": (2.0 * half, f"that is wider than the tyre from bead to bead ({2.0 * half:.0f} mm)."),
        "depth": (0.6 * tyre["height"], "that is deeper than any tyre of this size is thick."),
    }
    for fact, (limit, message) in most.items():
        written = injury.written(fact)
        least = written.bounds[0] if isinstance(written, Quantity) and written.bounds else 0.0
        if least > limit:
            yield fact, f"{written}: {message}"
