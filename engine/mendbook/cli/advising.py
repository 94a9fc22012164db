"""Advice with a cure, where it was asked for."""

from dataclasses import dataclass

from mendbook.cli.refusals import RefusalError
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

SHORTEST_SHIFT, LONGEST_SHIFT = 1, 72  # h


@dataclass(frozen=True)
class Counsel:
    """What advice is wanted."""

    is_asked: bool
    hours: float | None  # of the shift; a usual one when None

    def check(self) -> None:
        """Raise RefusalError for a shift that cannot be, or that nobody asked advice for."""
        if self.hours is None:
            return
        if not SHORTEST_SHIFT <= self.hours <= LONGEST_SHIFT:
            raise RefusalError(
                f"--shift: {self.hours:g} h is not between {SHORTEST_SHIFT} and {LONGEST_SHIFT} h. "
                "Write such as '--shift 8'."
            )
        if not self.is_asked:
            raise RefusalError(f"--shift: it belongs to the advice. Write '--advice --shift {self.hours:g}'.")

    def add(self, order: CureOrder, sheet: CureSheet) -> CureSheet:
        """Return the sheet of `order`, with the advice that is wanted."""
        if not self.is_asked:
            return sheet
        from mendbook.cure.advice import SHIFT, advise

        return sheet.model_copy(update={"advice": advise(order, SHIFT if self.hours is None else self.hours)})
