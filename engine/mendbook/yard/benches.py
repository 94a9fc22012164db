"""The benches of a yard: what the columns of the workshop say, read once for every combination there is."""

from collections.abc import Mapping
from dataclasses import dataclass

import polars as pl

from mendbook.facts.caps import CAPPED
from mendbook.plan import Stock
from mendbook.plan.bench import Bench, read_bench
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case_model import case_model
from mendbook.yard.cells import tree_of
from mendbook.yard.reading import TYRE

BENCH = "bench"
SECTION = "workshop."

Given = tuple[tuple[str, str], ...]  # cells of the workshop by their columns
Key = tuple[Given, tuple[float | None, ...]]


@dataclass(frozen=True)
class Placed:
    """Which bench each repair is done at: a frame with BENCH, and the benches that it numbers."""

    rows: pl.DataFrame
    benches: tuple[Bench, ...]


class Benches:
    """The benches of yards reviewed by one rulebook; each is read once."""

    def __init__(self, book: Rulebook, stock: Stock) -> None:
        self._model = case_model(book.vocabulary)
        self._stock = stock
        self._known: dict[Key, Bench] = {}

    def place(self, bound: pl.DataFrame, tyres: pl.DataFrame) -> Placed:
        """Return the bench of each row of `bound` (TYRE, and a cap in each column of CAPPED), in its order.

        tyres : TYRE and the columns of text
        """
        columns = [name for name in tyres.columns if name.startswith(SECTION)]
        given = bound.join(tyres.select(TYRE, *columns), on=TYRE, how="left", maintain_order="left")
        keys = given.select(*columns, *CAPPED)
        distinct = keys.unique(maintain_order=True).with_row_index(BENCH)
        benches = tuple(self._bench(row) for row in distinct.drop(BENCH).iter_rows(named=True))
        placed = keys.join(distinct, on=keys.columns, how="left", nulls_equal=True, maintain_order="left")
        return Placed(bound.with_columns(placed.get_column(BENCH)), benches)

    def _bench(self, row: Mapping[str, str | float | None]) -> Bench:
        given = tuple((name, str(cell)) for name, cell in row.items() if name not in CAPPED and cell is not None)
        key = (given, tuple(float(cap) if (cap := row[name]) is not None else None for name in CAPPED))
        if key not in self._known:
            case = self._model.model_validate(tree_of(dict(given), of_injury=False))
            caps = {name: cap for name, cap in zip(CAPPED, key[1], strict=True) if cap is not None}
            self._known[key] = read_bench(case.workshop, self._stock, caps)
        return self._known[key]
