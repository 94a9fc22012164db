"""What a sheet gives to a review: some thousands of tyres with all their injuries, and the cells that are at fault."""

from dataclasses import dataclass, field
from typing import Literal

import polars as pl

FAULT_SCHEMA = {"row": pl.Int64, "tyre": pl.Int32, "column": pl.String, "words": pl.String}


def no_faults() -> pl.DataFrame:
    """Return an empty frame of faults."""
    return pl.DataFrame(schema=FAULT_SCHEMA)


@dataclass(frozen=True)
class Batch:
    """Tyres and injuries as text; null where nothing is written.

    tyres : TYRE (running number in the yard), `tag`, `row` (first row in the sheet, as a person counts it), and columns
        named section.fact
    injuries : TYRE, INJURY (from 0 within its tyre), `name`, `row`, and columns named after facts
    faults : rows that cannot be judged as they are: `row`, `tyre` when it is known, `column`, `words`
    joined : how many rows only say more of a tyre whose injuries, or whose first mention, stand in other rows
    """

    tyres: pl.DataFrame
    injuries: pl.DataFrame
    faults: pl.DataFrame = field(default_factory=no_faults)
    joined: int = 0

    def only(self, tyres: pl.DataFrame, *, kept: bool) -> "Batch":
        """Return the batch of those `tyres` alone (`kept`), or of all others, with the rest of the faults."""
        how: Literal["semi", "anti"] = "semi" if kept else "anti"
        own, injuries = (f.join(tyres, on="tyre", how=how, maintain_order="left") for f in (self.tyres, self.injuries))
        return Batch(own, injuries) if kept else Batch(own, injuries, self.faults, self.joined)


def rows_in(batch: Batch) -> pl.Series:
    """Return the numbers of the rows of the sheet in `batch`: of injuries, of tyres without any, and of faults.

    A case on one line stands there once for each of its injuries.
    """
    lone = batch.tyres.join(batch.injuries, on="tyre", how="anti")
    rows = pl.concat([frame.get_column("row") for frame in (batch.injuries, lone)])
    further = batch.faults.get_column("row").unique()
    return pl.concat([rows, further.filter(~further.is_in(rows.implode()))])
