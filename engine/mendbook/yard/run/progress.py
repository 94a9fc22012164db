"""How far a review is."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Progress:
    """Rows done of all, those of an earlier run among them, and seconds since this run began."""

    done: int
    rows: int | None
    resumed: int
    seconds: float

    @property
    def rate(self) -> float:
        """Rows a second in this run."""
        return (self.done - self.resumed) / self.seconds if self.seconds > 0.0 else 0.0

    @property
    def left(self) -> float | None:
        """Seconds still to go, None when nobody knows."""
        return (self.rows - self.done) / self.rate if self.rows is not None and self.rate > 0.0 else None


Report = Callable[[Progress], None]


def keep_quiet(_: Progress) -> None:
    """Report nothing."""


@dataclass
class Clock:
    """Counts rows as parts are finished, and reports."""

    report: Report
    rows: int | None
    done: int = 0
    resumed: int = 0
    began: float = field(default_factory=time.monotonic)

    def skip(self, rows: int) -> None:
        """Count `rows` that an earlier run finished."""
        self.resumed += rows
        self.add(rows)

    def add(self, rows: int) -> None:
        """Count `rows` and report."""
        self.done += rows
        self.report(Progress(self.done, self.rows, self.resumed, self.seconds))

    @property
    def seconds(self) -> float:
        """Seconds since this run began."""
        return time.monotonic() - self.began
