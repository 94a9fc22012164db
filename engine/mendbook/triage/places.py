"""Whether the figures of a case can all be true: whether its injuries can lie on its tyre at all."""

from collections.abc import Iterator, Mapping
from datetime import date
from math import pi
from typing import Any

import polars as pl

from mendbook.facts.scenarios import INJURY, THREE_READINGS, VARIANT
from mendbook.terms.case import UNKNOWN, Case, Section
from mendbook.terms.date_code import DateCode, DateCodeError
from mendbook.terms.quantity import Quantity

FAR_OFF = 0.2  # house default: share by which a measured diameter may differ from that of the size
GAUGE_ERROR = 2.0  # mm, of a tread depth gauge


class ImpossibleCase(ValueError):
    """A case whose figures cannot all be true. `path` tells where in the case the fault lies."""

    def __init__(self, path: tuple[str | int, ...], message: str) -> None:
        super().__init__(message)
        self.path = path


def check_dates(case: Case, on: date) -> None:
    """Raise ImpossibleCase for a date code that names no week before the day `on`, or a retread before its casing."""
    weeks: dict[str, DateCode | None] = {}
    for field, read in (("date code", case.tyre.built), ("retread date code", case.tyre.retreaded)):
        try:
            weeks[field] = read(on)
        except DateCodeError as error:
            raise ImpossibleCase(("tyre", field), str(error)) from None
    casing, retread = weeks.values()
    if casing and retread and retread.built[-1][1] < casing.built[0][0]:
        raise ImpossibleCase(
            ("tyre", "retread date code"),
            f"'{retread.text}' lies before '{casing.text}', when the casing was built. Read both codes again.",
        )


def check_places(case: Case, tyre: Mapping[str, Any]) -> None:
    """Raise ImpossibleCase for an injury that cannot be on this tyre; `tyre` is a derived tyre row.

    It lies outside the tyre or is larger than it, damages more than there is, or damages what it does not reach;
    or the tyre itself measures what no tyre of its size does.
    """
    for path, message in _tyre_faults(case, tyre):
        raise ImpossibleCase(("tyre", *path), message)
    for number, injury in enumerate(case.injuries):
        faults = [*_nothing_faults(injury), *_depth_faults(injury), *_count_faults(injury, case.tyre)]
        if tyre["half girth"] is not None:
            faults += _size_faults(injury, tyre)
        for fact, message in faults:
            raise ImpossibleCase(("injuries", number, fact), message)


def check_zones(case: Case, rows: pl.DataFrame) -> None:
    """Raise ImpossibleCase where a zone or side was named that the tape does not find; `rows` are judged rows.

    Two words for one place that contradict each other: one of them is a slip, and no rule can tell which.
    """
    for number, injury in enumerate(case.injuries):
        own = rows.filter((pl.col(INJURY) == number) & (pl.col(VARIANT) < len(THREE_READINGS)))
        found = own.get_column("zone").unique(maintain_order=True).to_list()
        if own.get_column("placed from").first() == "zone":
            continue
        named, side = injury.written("zone"), injury.written("side")
        lies = f"by the tape it lies in: {', '.join(found)}. Measure again, and correct the one or the other."
        if named not in (None, UNKNOWN, *found):
            raise ImpossibleCase(("injuries", number, "zone"), f"'{named}' is written, but {lies}")
        if side == "crown" and not any(zone.startswith("crown") for zone in found):
            raise ImpossibleCase(("injuries", number, "side"), f"'crown' is written, but {lies}")


def _tyre_faults(case: Case, tyre: Mapping[str, Any]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    size, diameter, new = case.tyre.size, case.tyre.outside_diameter, tyre["tread new"]
    if size and diameter and diameter.value is not None:
        usual = size.outside_diameter_mm
        if abs(diameter.value - usual) > FAR_OFF * usual:
            said = f"{diameter}: a tyre of this size stands some {usual:.0f} mm high."
            yield ("outside diameter",), f"{said} Check the figure and the size."
    depths: list[tuple[tuple[str | int, ...], Any]] = [(("tread left",), case.tyre.written("tread left"))]
    depths += [(("tread depths", number), depth) for number, depth in enumerate(case.tyre.tread_depths)]
    for path, depth in depths if new is not None else ():
        if isinstance(depth, Quantity) and depth.bounds and depth.bounds[0] > new + GAUGE_ERROR:
            yield path, f"{depth}: that is deeper than the tread was when new, {new:g} mm. Check both figures."


def _depth_faults(injury: Section) -> Iterator[tuple[str, str]]:
    reaches = injury.written("reaches")
    if reaches not in ("rubber", "cord"):
        return
    for fact in ("cords cut", "plies damaged", "belts damaged", "inside length", "inside width"):
        if _least(injury, fact) > 0.0:
            said = f"{injury.written(fact)}: an injury that reaches '{reaches}' damages no cord."
            yield fact, f"{said} Write 'reaches: plies', or 'through', or take the figure out."


def _nothing_faults(injury: Section) -> Iterator[tuple[str, str]]:
    for fact in ("length", "width"):
        written = injury.written(fact)
        is_nothing = isinstance(written, Quantity) and written.bounds is not None and written.bounds[1] <= 0.0
        if is_nothing and _least(injury, f"inside {fact}") <= 0.0:  # a bruise may leave the outer skin whole
            yield fact, f"{written}: an injury has a size. Write what was measured, or 'unknown'."


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
