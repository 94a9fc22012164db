"""What the heading of a column in a log says: which sensor, how deep, in which unit."""

import re
from dataclasses import dataclass
from typing import Literal

from mendbook.terms.units import Dimension, UnitError, conversion, find_unit

Kind = Literal["time", "date", "outside", "inside", "sensor", "pressure"]

_WORDS: dict[Kind, frozenset[str]] = {
    "time": frozenset(["time", "t", "elapsed", "timestamp", "datetime", "clock", "minutes", "seconds", "hours"]),
    "date": frozenset(["date", "day"]),
    "outside": frozenset(["outside", "outer", "out", "external"]),
    "inside": frozenset(["inside", "inner", "internal"]),
    "pressure": frozenset(["pressure", "clamp", "bag", "bags", "gauge"]),
}
_DIMENSIONS = {"time": Dimension.DURATION, "pressure": Dimension.PRESSURE}
_BRACKETED = re.compile(r"[\[(]\s*([^\])]*?)\s*[\])]\s*$")
_TRAILING = re.compile(r"(?:^|[\s/,])([^\s/,]+)\s*$")
_DEPTH = re.compile(r"(\d+(?:[.,]\d+)?)\s*(mm|cm|inches|inch|in\b|\"|″)", re.IGNORECASE)

HOW = (
    "Head the columns such as 'time [min]', 'outside pad [°C]', 'inside pad [°C]', '25 mm [°C]' (depth below the "
    "outside face), 'pressure [bar]', or say what they are: --column 'T3=25 mm [°C]'."
)


class HeadingError(ValueError):
    """A heading that says too little. The message says what to write."""


@dataclass(frozen=True)
class Heading:
    """One column. A reading in our own unit is `scale` times what is written plus `offset`."""

    name: str  # as it is told to people
    kind: Kind
    scale: float = 1.0
    offset: float = 0.0
    depth_mm: float | None = None
    has_unit: bool = False


def read_heading(written: str, meaning: str | None = None) -> Heading | None:
    """Return what the heading `written` says, or what a person says of it with `meaning`; None when it says nothing.

    Raises HeadingError where it names a temperature or a pressure without a unit, or with one of another kind.
    """
    said = " ".join((meaning or written).split())
    name = " ".join(written.split())
    unit, rest = _unit(said)
    depth = _DEPTH.search(rest)
    words = set(re.findall(r"[a-z0-9]+", _DEPTH.sub(" ", rest).casefold()))
    kind = _kind(words, has_depth=depth is not None)
    if kind is None:
        return None
    if kind in ("time", "date"):
        in_name = next((word for word in ("minutes", "seconds", "hours") if word in words), None)
        unit = unit or in_name
        if unit is None or kind == "date" or ":" in unit:  # 'time [HH:MM:SS]' says how it is written
            return Heading(name, kind)
        scale, offset = _way(name, unit, Dimension.DURATION)
        return Heading(name, kind, scale * 3600, offset, has_unit=True)
    if unit is None:
        raise HeadingError(
            f"the column '{name[:40]}' has no unit. Write it behind the name: '{name[:40]} [{_USUAL[kind]}]'."
        )
    scale, offset = _way(name, unit, _DIMENSIONS.get(kind, Dimension.TEMPERATURE))
    return Heading(name, kind, scale, offset, _millimetres(depth) if kind == "sensor" and depth else None, True)


_USUAL: dict[Kind, str] = {"outside": "°C", "inside": "°C", "sensor": "°C", "pressure": "bar"}


def _kind(words: set[str], *, has_depth: bool) -> Kind | None:
    # A depth decides: 'inside 25 mm' is a sensor inside the wall, 'inside' alone the pad on the inside face.
    order: tuple[Kind, ...] = ("pressure", "date", "time")
    found = next((kind for kind in order if words & _WORDS[kind]), None)
    if found == "date" and words & _WORDS["time"]:
        return "time"
    if found:
        return found
    if has_depth:
        return "sensor"
    sides: tuple[Kind, ...] = ("outside", "inside")
    named = [side for side in sides if words & _WORDS[side]]
    return named[0] if len(named) == 1 else None


def _unit(said: str) -> tuple[str | None, str]:
    """Return the unit at the end of a heading, and the heading without it."""
    if found := _BRACKETED.search(said):
        return found[1] or None, said[: found.start()]
    found = _TRAILING.search(said)
    if found:
        try:
            _, dimension = find_unit(found[1])
        except UnitError:
            return None, said
        if dimension in (Dimension.TEMPERATURE, Dimension.PRESSURE, Dimension.DURATION):
            return found[1], said[: found.start()]
    return None, said


def _way(name: str, unit: str, wanted: Dimension) -> tuple[float, float]:
    try:
        registered, dimension = find_unit(unit)
    except UnitError as error:
        raise HeadingError(f"the column '{name[:40]}': {error}") from None
    if dimension is not wanted:
        raise HeadingError(f"the column '{name[:40]}' is a {wanted}, and '{unit}' is a unit of {dimension}. {HOW}")
    way = conversion(registered, dimension)
    return float(way.scale), float(way.offset)


def _millimetres(depth: "re.Match[str]") -> float:
    value, unit = float(depth[1].replace(",", ".")), depth[2].casefold()
    return round(value * (1.0 if unit == "mm" else 10.0 if unit == "cm" else 25.4), 3)
