"""The largest levers as bars of letters: how far each moves the value of repairing, and where it turns against it."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.layout import stack, table
from mendbook.card.lettering import line
from mendbook.card.worth.spelling import spelt
from mendbook.terms.worth import Lever, Worth

MOST = 5  # levers
BAR = 34  # columns
NARROW_BAR = 22
LOW, HIGH, NOTHING, VALUE = "░", "█", "0", "│"


def levers_chart(worth: Worth, width: int) -> RenderableType | None:
    """Return the levers as bars, None where there is none."""
    if not worth.levers or worth.value is None:
        return None
    shown = worth.levers[:MOST]
    ends = [end for lever in shown for end in (lever.value_at_low, lever.value_at_high)]
    scale = Scale(min(0.0, worth.value, *ends), max(0.0, worth.value, *ends), BAR if width >= 80 else NARROW_BAR)
    rows = [(_name(lever), _ends(lever, worth), scale.bar(lever, worth.value)) for lever in shown]
    said = (
        f"{LOW} the value with the figure at its low end, {HIGH} at its high end; {VALUE} the value as reckoned, "
        f"{worth.value:,.2f}; {NOTHING} where repairing and a new tyre cost the same. From {scale.low:,.0f} to "
        f"{scale.high:,.0f} {worth.currency}."
    )
    tried = "* No error is written; a fifth less and more was tried (house default)."
    is_tried = any(not lever.is_written for lever in shown)
    bars = table(("Figure", "From, to", "Value of repairing"), rows, width)
    return stack(bars, line(said), line(tried) if is_tried else None)


def _name(lever: Lever) -> str:
    return lever.name if lever.is_written else f"{lever.name} *"


def _ends(lever: Lever, worth: Worth) -> str:
    return f"{spelt(lever.low, lever.kind, worth)}, {spelt(lever.high, lever.kind, worth)}"


class Scale:
    """From an amount to a column of the chart."""

    def __init__(self, low: float, high: float, columns: int) -> None:
        self.low, self.high, self.columns = low, high, columns

    def place(self, amount: float) -> int:
        """Return the column, from 0, in which `amount` falls."""
        return round((amount - self.low) / (self.high - self.low) * (self.columns - 1))

    def bar(self, lever: Lever, value: float) -> Text:
        """Return the bar of one lever round `value`."""
        cells = [" "] * self.columns
        for end, mark in ((lever.value_at_low, LOW), (lever.value_at_high, HIGH)):
            for column in self._between(end, value):
                cells[column] = mark
        cells[self.place(0.0)] = NOTHING
        cells[self.place(value)] = VALUE
        return Text("".join(cells).rstrip(), no_wrap=True)

    def _between(self, one: float, other: float) -> Iterator[int]:
        first, last = sorted((self.place(one), self.place(other)))
        yield from range(first, last + 1)
