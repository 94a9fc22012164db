"""The moments of a log: minutes and seconds, clock times, dates with times."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from mendbook.cli.log_headings import Heading, HeadingError

DAY = 86400.0  # s
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?$")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})(.*)$")  # day.month.year
_SLASHED = re.compile(r"\d{1,2}/\d{1,2}/\d{2,4}")
ZERO = datetime(2000, 1, 1, tzinfo=UTC)


@dataclass(frozen=True)
class Clock:
    """How the lines of one log tell their time."""

    heading: Heading
    has_date_column: bool = False

    def seconds(self, written: str, before: float | None) -> float:
        """Return the moment that `written` tells [s from a zero that is the same for every line].

        before : the moment of the line before, for clocks that pass midnight. Raises ValueError when it is none.
        """
        text = written.strip()
        if (number := read_number(text)) is not None:
            if not self.heading.has_unit:
                raise HeadingError(
                    f"the column '{self.heading.name[:40]}' has no unit, and its times are plain numbers. "
                    "Write 'time [min]', 'time [s]' or 'time [h]'."
                )
            return number * self.heading.scale
        if clock := _CLOCK.match(text):
            hours, minutes, seconds = (float(part or 0) for part in clock.groups()[:3])
            moment = 3600 * hours + 60 * minutes + seconds + float(f"0.{clock[4] or 0}")
            if before is not None:
                moment += DAY * (before // DAY)
                if moment < before - DAY / 2:
                    moment += DAY
            return moment
        if _SLASHED.match(text):
            raise HeadingError(
                f"'{text[:20]}' may be day/month or month/day. Write dates as 2026-11-25, the year first."
            )
        return (_stamp(text) - ZERO).total_seconds()

    def told(self, written: str, moment: float) -> str:
        """Return the moment of the first line as a clock tells it; empty where the log has no clock."""
        text = written.strip()
        if read_number(text) is not None:
            return ""
        if _CLOCK.match(text):
            return (ZERO + timedelta(seconds=moment)).time().isoformat("seconds")
        return _parsed(text).isoformat(" ", "seconds")


def _stamp(text: str) -> datetime:
    found = _parsed(text)
    return found if found.tzinfo else found.replace(tzinfo=UTC)


def _parsed(text: str) -> datetime:
    if dotted := _DOTTED.match(text):
        text = f"{dotted[3]}-{int(dotted[2]):02d}-{int(dotted[1]):02d}{dotted[4]}"
    return datetime.fromisoformat(text.replace(",", "."))


def read_number(written: str) -> float | None:
    """Return a number with a point or a comma before its decimals, None when it is none."""
    text = written.strip()
    if text.count(",") == 1 and "." not in text:
        text = text.replace(",", ".")
    try:
        found = float(text)
    except ValueError:
        return None
    return found if found == found and abs(found) < 1e12 else None


def joined(cells: Sequence[str]) -> str:
    """Return date and time of one line as one stamp."""
    return " ".join(cell.strip() for cell in cells if cell.strip())
