"""Sizes that stand for all: in each width class a radial and a bias tyre, on and off the road.

Designations of the kind that ISO 4223-1 and ISO 4250-1 define, named from memory; no case is judged by this list.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from mendbook.facts.case_reading import size_family, size_numbers
from mendbook.terms.designation import Designation, read_designation

SIZES = (
    "26.5R25", "26.5-25", "11R22.5", "10.00-20", "12.00R20", "12.00-20", "13.00R25", "13.00-25", "14.00R24",
    "14.00-24", "16.00R25", "17.5R25", "17.5-25", "18.00R33", "18.00-33", "20.5R25", "20.5-25", "21.00R35",
    "23.5R25", "23.5-25", "24.00R35", "29.5R25", "29.5-29", "33.25R35", "37.25R35", "37.5-33", "40.00R57", "40.00-57",
)  # fmt: skip


@dataclass(frozen=True)
class Size:
    """A size, with the facts that follow from it alone."""

    text: str
    designation: Designation

    @property
    def facts(self) -> Mapping[str, float | str]:
        """Return the facts by name: widths, heights and diameters in mm, and the family."""
        return {**size_numbers(self.designation), "size family": size_family(self.designation)}


def all_sizes() -> tuple[Size, ...]:
    """Return the sizes, the commonest first."""
    return tuple(Size(text, read_designation(text)) for text in SIZES)
