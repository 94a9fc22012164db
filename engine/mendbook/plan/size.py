"""A rectangle on the tyre: so far around, so far across the section."""

from dataclasses import dataclass
from math import ceil


@dataclass(frozen=True, order=True)
class Size:
    """A length around the tyre and a width across the section [mm]."""

    around: float
    across: float

    @property
    def area(self) -> float:
        """Its area [mm2]."""
        return self.around * self.across

    @property
    def turned(self) -> "Size":
        """The same rectangle, a quarter turn round."""
        return Size(self.across, self.around)

    def covers(self, other: "Size") -> bool:
        """Return whether `other` fits inside, not turned."""
        return self.around >= other.around and self.across >= other.across

    def grown(self, border: float) -> "Size":
        """Return the rectangle with `border` [mm] more on every side."""
        return Size(self.around + 2 * border, self.across + 2 * border)

    def joined(self, other: "Size") -> "Size":
        """Return the least rectangle that covers both."""
        return Size(max(self.around, other.around), max(self.across, other.across))

    def rounded_up(self, step: float) -> "Size":
        """Return the rectangle with both sides rounded up to whole steps [mm]."""
        return Size(*(ceil(side / step - 1e-9) * step for side in (self.around, self.across)))

    def __str__(self) -> str:
        return f"{self.around:.0f} x {self.across:.0f} mm"
