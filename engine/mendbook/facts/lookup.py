"""Numbers from the limit tables, joined to a frame of facts."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import product

import polars as pl

from mendbook.columns.speak import conjunction
from mendbook.facts.steps import Columns, Join, Step
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitTable
from mendbook.rulebook.tree import Op


class Lookup:
    """The limit tables of a rulebook, made ready for joins once."""

    def __init__(self, book: Rulebook) -> None:
        self._book = book

    def steps(self, *names: str) -> Iterator[Step]:
        """Yield the steps that add a column for each of `names`: the table's number, null where no row applies."""
        listed, constant = self._prepare(names)
        if listed:
            yield self._join(listed)
        computed = [pl.lit(number).alias(name) for name, number in constant.items()]
        computed += [self._banded(name) for name in names if self._is_banded(name)]
        if computed:
            yield Columns(tuple(computed))

    def _is_banded(self, name: str) -> bool:
        return any(not _is_listed(table) for table in self._book.tables_giving(name))

    def _prepare(self, names: Iterable[str]) -> tuple[list[tuple[tuple[str, ...], pl.DataFrame]], dict[str, float]]:
        """Return the tables by listed facts, with their keys, and the numbers that hang on no fact."""
        listed: list[tuple[tuple[str, ...], pl.DataFrame]] = []
        constant: dict[str, float] = {}
        for name in names:
            if self._is_banded(name):
                continue
            by_keys: dict[tuple[str, ...], list[LimitTable]] = {}
            for table in self._book.tables_giving(name):
                by_keys.setdefault(tuple(sorted(table.facts())), []).append(table)
            for keys, tables in by_keys.items():
                if keys:
                    listed.append((keys, pl.concat([_cells(table, keys, name) for table in tables])))
                else:
                    constant[name] = tables[0].rows[0].numbers[tables[0].gives.index(name)]
        return listed, constant

    def _join(self, listed: Sequence[tuple[tuple[str, ...], pl.DataFrame]]) -> Step:
        """Return the step that joins all tables at once: they are put together over every value of their keys."""
        keys = list(dict.fromkeys(key for some, _ in listed for key in some))
        values = [self._book.vocabulary[key].values for key in keys]
        together = pl.DataFrame(list(product(*values)), schema=dict.fromkeys(keys, pl.String), orient="row")
        for some, table in listed:
            together = together.join(table, on=list(some), how="left")
        return Join(tuple(keys), together)

    def _banded(self, name: str) -> pl.Expr:
        chain: pl.Expr = pl.lit(None, pl.Float64)
        for table in reversed(self._book.tables_giving(name)):
            place = table.gives.index(name)
            for row in reversed(table.rows):
                holds = conjunction((*table.applies, *row.bounds))
                chain = pl.when(holds).then(pl.lit(row.numbers[place])).otherwise(chain)
        return chain.alias(name)


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
