"""Nothing lost: every row that came in was decided, is undecided, joined another, or is in quarantine."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any, Self

import polars as pl

from mendbook.yard.batch import Batch, rows_in
from mendbook.yard.deciding import OUTCOME
from mendbook.yard.review import Reviewed
from mendbook.yard.run.fault import LostRowsError
from mendbook.yard.summary import count_names

HOLD = "hold"
ROW = "row"


@dataclass(frozen=True)
class Sums:
    """Rows in, and what became of them; `outcomes` counts the rows that were judged by the outcome of their tyre."""

    rows: int = 0
    decided: int = 0
    undecided: int = 0
    quarantined: int = 0
    outcomes: Mapping[str, int] = field(default_factory=dict)
    joined: int = 0

    def __add__(self, other: Self) -> "Sums":
        return Sums(
            self.rows + other.rows,
            self.decided + other.decided,
            self.undecided + other.undecided,
            self.quarantined + other.quarantined,
            dict(sorted((Counter(self.outcomes) + Counter(other.outcomes)).items())),
            self.joined + other.joined,
        )

    def check(self, where: str) -> None:
        """Raise LostRowsError unless the rows add up."""
        if self.rows != self.decided + self.undecided + self.quarantined + self.joined:
            raise LostRowsError(
                f"{where}: {self.rows} rows came in, and {self.decided} decided, {self.undecided} undecided, "
                f"{self.joined} joined to others and {self.quarantined} in quarantine came out. This is a fault of the "
                "program: nothing was written."
            )

    def as_written(self) -> dict[str, Any]:
        """Return them as they stand in a file."""
        return asdict(self)


def count(batch: Batch, reviewed: Reviewed, where: str) -> Sums:
    """Return the sums of a batch. Raises LostRowsError when a row is missing, comes twice, or was never there."""
    came, judged, out = rows_in(batch), reviewed.decisions.get_column(ROW), reviewed.quarantined.get_column(ROW)
    outcomes = count_names(reviewed.decisions.get_column(OUTCOME)) if len(judged) else {}
    held = outcomes.get(HOLD, 0)
    sums = Sums(
        rows=len(came) + batch.joined,
        decided=len(judged) - held,
        undecided=held,
        quarantined=int(came.is_in(out.implode()).sum()),
        outcomes=outcomes,
        joined=batch.joined,
    )
    sums.check(where)
    gone = pl.concat([judged, out]).cast(came.dtype)
    if not came.unique().sort().equals(gone.unique().sort()):
        odd = min({*came} ^ {*gone})
        raise LostRowsError(f"{where}: row {odd} was lost or made up. This is a fault of the program.")
    return sums
