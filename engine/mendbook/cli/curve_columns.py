"""The heading of a cure curve: which column is time, which torque, which temperature, and in which unit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from mendbook.terms.spelling import did_you_mean
from mendbook.terms.units import Dimension, UnitError, conversion, find_unit

What = Literal["time", "torque", "temperature"]

# Whole words first: of 'test time' the word is not 'time'.
_WORDS: Mapping[What, tuple[str, ...]] = {
    "time": ("elapsed time", "cure time", "test time", "time"),
    "torque": ("elastic torque", "torque", "moment", "s'"),
    "temperature": ("die temperature", "test temperature", "temperature", "temp"),
}
_EXAMPLES: Mapping[What, str] = {
    "time": "'time [min]' or 'time [s]'",
    "torque": "'torque [dN m]' or 'torque [lbf in]'",
    "temperature": "'temperature [°C]'",
}
_BETWEEN = " .·⋅*-"  # what people write inside the unit of a torque
_DECINEWTON_METRES: Mapping[str, float] = {
    "dNm": 1.0, "Nm": 10.0, "cNm": 0.1, "lbfin": 1.1298482902761668, "inlbf": 1.1298482902761668,
    "lbin": 1.1298482902761668, "inlb": 1.1298482902761668, "kgfcm": 0.980665, "kgcm": 0.980665,
}  # fmt: skip
_TORQUES = {unit.casefold(): factor for unit, factor in _DECINEWTON_METRES.items()}
_MINUTES = 60  # in an hour, which is the unit of a duration elsewhere


class UnitMissingError(ValueError):
    """A column whose unit is missing, or is none of what it measures. The message says what to write."""


@dataclass(frozen=True)
class Column:
    """A column found by its heading. `place` counts from 0."""

    what: What
    place: int
    unit: str

    def scale(self) -> tuple[float, float]:
        """Return factor and offset from the written unit to min, dN m or °C. Raises UnitMissingError."""
        if not self.unit:
            raise UnitMissingError(f"the {self.what} has no unit. Write {_EXAMPLES[self.what]}.")
        if self.what == "torque":
            folded = self.unit.translate(str.maketrans("", "", _BETWEEN)).casefold()
            if folded not in _TORQUES:
                near = did_you_mean(folded, _TORQUES)
                raise UnitMissingError(f"'{self.unit}' is no unit of torque I know.{near} Write {_EXAMPLES['torque']}.")
            return _TORQUES[folded], 0.0
        wanted = Dimension.DURATION if self.what == "time" else Dimension.TEMPERATURE
        try:
            unit, measures = find_unit(self.unit)
        except UnitError as problem:
            raise UnitMissingError(f"the {self.what}: {problem} Write {_EXAMPLES[self.what]}.") from None
        if measures is not wanted:
            raise UnitMissingError(f"the {self.what} is in '{self.unit}'. Write {_EXAMPLES[self.what]}.")
        way = conversion(unit, wanted)
        return float(way.scale) * (_MINUTES if self.what == "time" else 1), float(way.offset)


def find_columns(cells: Sequence[str]) -> dict[What, Column]:
    """Return the columns whose headings are known, the first of each kind."""
    found: dict[What, Column] = {}
    for place, cell in enumerate(cells):
        for what, words in _WORDS.items():
            if what not in found and (unit := _unit_after(cell, words)) is not None:
                found[what] = Column(what, place, unit)
                break
    return found


def _unit_after(cell: str, words: Sequence[str]) -> str | None:
    """Return what stands behind one of `words`, perhaps nothing; None when `cell` begins with none of them."""
    plain = " ".join(cell.replace("_", " ").replace("′", "'").replace("’", "'").split())
    for word in words:
        rest = plain[len(word) :]
        if plain.casefold().startswith(word) and not rest[:1].isalnum() and rest[:1] != "'":
            return strip_unit(rest)
    return None


def strip_unit(written: str) -> str:
    """Return a unit without the brackets or the stroke round it."""
    return written.strip(" []()/:,")
