"""Whether the figures of a case can all be true: whether its injuries can lie on its tyre at all."""

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
    """Raise ImpossibleCase for an injury that cannot be on this tyre; `tyre` is a derived tyre row.

    It lies outside the tyre or is larger than it, damages more than there is, or damages what it does not reach.
    """
    for number, injury in enumerate(case.injuries):
        faults = [*_depth_faults(injury), *_count_faults(injury, case.tyre)]
        if tyre["half girth"] is not None:
            faults += _size_faults(injury, tyre)
        for fact, message in faults:
            raise ImpossibleCase(("injuries", number, fact), message)


def _depth_faults(injury: Section) -> Iterator[tuple[str, str]]:
    reaches = injury.written("reaches")
    if reaches not in ("rubber", "cord"):
        return
    for fact in ("cords cut", "plies damaged", "belts damaged", "inside length", "inside width"):
        if _least(injury, fact) > 0.0:
            yield fact, (
                f"{injury.written(fact)}: an injury that reaches '{reaches}' damages no cord. "
                "Write 'reaches: plies', or 'through', or take the figure out."
            )


def _count_faults(injury: Section, tyre: Section) -> Iterator[tuple[str, str]]:
    for damaged, whole in (("plies damaged", "plies"), ("belts damaged", "belts")):
        there = tyre.written(whole)
        if isinstance(there, Quantity) and there.bounds and _least(injury, damaged) > there.bounds[1]:
            yield damaged, f"{injury.written(damaged)}: the tyre has {there} {whole}. Count both again."


def _least(section: Section, fact: str) -> float:
    written = section.written(fact)
    return written.bounds[0] if isinstance(written, Quantity) and written.bounds else 0.0


def _size_faults(injury: Section, tyre: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
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
        if _least(injury, fact) > limit:
            yield fact, f"{injury.written(fact)}: {message} Check the figure and the size of the tyre."
