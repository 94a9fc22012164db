"""Numbers from the limit tables, joined to a frame of facts."""

from collections.abc import Iterable, Iterator, Sequence
from functools import reduce
from itertools import product

import polars as pl

from mendbook.columns.speak import conjunction
from mendbook.facts.steps import Step
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitTable
from mendbook.rulebook.tree import Op


class Lookup:
    """The limit tables of a rulebook, made ready for joins once."""

    def __init__(self, book: Rulebook) -> None:
        self._book = book

    def steps(self, *names: str) -> Iterator[Step]:
        """Yield the steps that add a column for each of `names`: the table's number, null where no row applies."""
        constant: list[pl.Expr] = []
        for keys, table in self._prepare(names):
            if keys:
                yield _join(keys, table)
            else:
                constant += [pl.lit(column.item()).alias(column.name) for column in table]
        computed = [*constant, *(self._banded(name) for name in names if self._is_banded(name))]
        if computed:
            yield lambda frame: frame.with_columns(computed)

    def _is_banded(self, name: str) -> bool:
        return any(not _is_listed(table) for table in self._tables(name))

    def _tables(self, name: str) -> tuple[LimitTable, ...]:
        tables = self._book.tables_giving(name)
        if not tables:
            raise KeyError(f"no limit table gives '{name}'")
        return tables

    def _prepare(self, names: Iterable[str]) -> Iterable[tuple[tuple[str, ...], pl.DataFrame]]:
        grouped: dict[tuple[str, ...], dict[str, list[LimitTable]]] = {}
        for name in names:
            if self._is_banded(name):
                continue
            for table in self._tables(name):
                grouped.setdefault(tuple(sorted(table.facts())), {}).setdefault(name, []).append(table)
        for keys, columns in grouped.items():
            frames = [pl.concat([_cells(table, keys, name) for table in tables]) for name, tables in columns.items()]
            yield keys, _joined(frames, keys)

    def _banded(self, name: str) -> pl.Expr:
        chain: pl.Expr = pl.lit(None, pl.Float64)
        for table in reversed(self._tables(name)):
            place = table.gives.index(name)
            for row in reversed(table.rows):
                holds = conjunction((*table.applies, *row.bounds))
                chain = pl.when(holds).then(pl.lit(row.numbers[place])).otherwise(chain)
        return chain.alias(name)


def _join(keys: tuple[str, ...], table: pl.DataFrame) -> Step:
    on = list(keys)
    return lambda frame: frame.join(table, on=on, how="left", maintain_order="left")


def _joined(frames: list[pl.DataFrame], keys: Sequence[str]) -> pl.DataFrame:
    if not keys:
        return pl.concat(frames, how="horizontal")
    return reduce(lambda one, other: one.join(other, on=list(keys), how="full", coalesce=True), frames)


def _is_listed(table: LimitTable) -> bool:
    return all(b.op is Op.IN for b in (*table.applies, *(b for row in table.rows for b in row.bounds)))


def _cells(table: LimitTable, keys: Sequence[str], name: str) -> pl.DataFrame:
    place = table.gives.index(name)
    cells: dict[tuple[str, ...], float] = {}
    for row in table.rows:
        allowed: dict[str, tuple[str, ...]] = {}
        for bound in (*table.applies, *row.bounds):
            before = allowed.get(bound.fact, bound.values)
            allowed[bound.fact] = tuple(v for v in bound.values if v in before)
        for values in product(*(allowed[key] for key in keys)):
            cells.setdefault(values, row.numbers[place])
    data: dict[str, pl.Series] = {
        key: pl.Series(key, [values[i] for values in cells], pl.String) for i, key in enumerate(keys)
    }
    data[name] = pl.Series(name, list(cells.values()), pl.Float64)
    return pl.DataFrame(data)
