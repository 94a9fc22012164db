"""Nothing lost: every row that came in was decided, is undecided, joined another, or is in quarantine."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any, Self

from mendbook.yard.batch import Batch, rows_in
from mendbook.yard.deciding import OUTCOME
from mendbook.yard.review import Reviewed
from mendbook.yard.run.fault import LostRowsError

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
    outcomes = Counter(reviewed.decisions.get_column(OUTCOME).to_list() if len(judged) else ())
    sums = Sums(
        rows=len(came) + batch.joined,
        decided=len(judged) - outcomes[HOLD],
        undecided=outcomes[HOLD],
        quarantined=int(came.is_in(out.implode()).sum()),
        outcomes=dict(sorted((name, number) for name, number in outcomes.items() if number)),
        joined=batch.joined,
    )
    sums.check(where)
    if set(came) != {*judged, *out}:
        odd = min(set(came) ^ {*judged, *out})
        raise LostRowsError(f"{where}: row {odd} was lost or made up. This is a fault of the program.")
    return sums
