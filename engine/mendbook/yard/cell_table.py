"""A table of what the cells of a block say: each combination once, spelt out in as few columns as will do."""

from collections.abc import Callable, Mapping, Sequence
from functools import reduce
from operator import and_

import polars as pl

from mendbook.facts.readings import GOOD
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.blocks import USES, is_ordered

ENDS = 3
FAULTS = "faults"
FAULT_LIST = pl.List(pl.Struct({"column": pl.String, "words": pl.String}))
AT = "at"  # numbers the rows of a frame
MOST_ROWS = 200_000  # then it is begun anew: a column that never says the same twice must not fill the memory
_PLACE = "place"
NO_FAULTS = pl.DataFrame(schema={FAULTS: FAULT_LIST, AT: pl.UInt32})


class CellTable:
    """What was read of some columns so far.

    A measure NAME that is the same at all ends is the column NAME, else three columns `at_end`: its good end, as read
    and its bad end. So is a listed fact that may come out in several ways from good to bad; one that may come out in
    several ways of which none is worse is a list, and so are the uses. FAULTS, which tells what could not be read,
    stands apart, for few rows have any.
    """

    def __init__(
        self, inputs: Sequence[str], read: Callable[[pl.DataFrame], pl.DataFrame], vocabulary: Vocabulary
    ) -> None:
        """Begin an empty table of the columns `inputs`; `read` says what distinct rows of them mean."""
        self._inputs, self._read, self._vocabulary = list(inputs), read, vocabulary
        self._begin()

    def _begin(self) -> None:
        self._places = pl.DataFrame(schema={**dict.fromkeys(self._inputs, pl.String), _PLACE: pl.UInt32})
        self._code()
        self._full = self._facts = pl.DataFrame()
        self._faulty = pl.Series(dtype=pl.Boolean)
        self.values: Mapping[str, frozenset[str]] = {}

    def rows(self, frame: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
        """Return what each row of `frame` says, and of those that could not be read AT, which row it is, and FAULTS."""
        places = self._places_of(frame)
        facts = self._facts[places] if self._facts.width else self._facts  # of some blocks the faults alone are asked
        if not self._faulty.any():
            return facts, NO_FAULTS
        at = self._faulty[places].arg_true().alias(AT)
        return facts, self._full.select(FAULTS)[places[at]].with_columns(at)

    def _places_of(self, frame: pl.DataFrame) -> pl.Series:
        if self._full.height > MOST_ROWS:
            self._begin()
        if self._full.is_empty() and not (self._inputs and frame.height):
            self._add(pl.DataFrame({name: [None] for name in self._inputs or [_PLACE]}))  # nothing is written
        if not self._inputs:
            return pl.zeros(frame.height, pl.UInt32, eager=True)
        keys = frame.select(self._inputs)
        places = self._find(keys)
        if places.null_count():
            self._add(keys.filter(places.is_null()).unique(maintain_order=True))
            places = self._find(keys)
        return places

    def _find(self, keys: pl.DataFrame) -> pl.Series:
        if len(self._inputs) > 1:
            found = keys.join(self._places, on=self._inputs, how="left", nulls_equal=True, maintain_order="left")
            return found.get_column(_PLACE)
        text = keys.to_series()
        found_at = self._place_of.gather(text.cast(self._coded, strict=False).to_physical())
        if not text.null_count():
            return found_at
        return pl.select(pl.when(text.is_null()).then(self._blank).otherwise(found_at)).to_series()

    def _add(self, new: pl.DataFrame) -> None:
        numbers = pl.int_range(self._full.height, self._full.height + new.height, dtype=pl.UInt32, eager=True)
        if self._inputs:
            self._places = pl.concat([self._places, new.cast(pl.String).with_columns(numbers.alias(_PLACE))])
            self._code()
        read = self._read(new)
        self._full = read if self._full.is_empty() else pl.concat([self._full, read])
        self._facts = self._full.select(column for name in self._names() for column in self._spell(name))
        self._faulty = self._full.get_column(FAULTS).is_not_null()
        self.values = {
            name: frozenset(self._full.get_column(name).explode().drop_nulls().unique())
            for name, kind in self._full.schema.items()
            if kind == pl.List(pl.String)
        }

    def _code(self) -> None:
        """Code the texts of a single column: a code is found twice as fast as a table is joined."""
        if len(self._inputs) != 1:
            return
        written, blank = (self._places.filter(which) for which in (pl.first().is_not_null(), pl.first().is_null()))
        self._coded, self._place_of = pl.Enum(written.to_series()), written.get_column(_PLACE)
        self._blank = pl.lit(blank.item(0, _PLACE) if len(blank) else None, pl.UInt32)

    def _names(self) -> list[str]:
        return list(dict.fromkeys(name.split("@")[0] for name in self._full.columns if name != FAULTS))

    def _spell(self, name: str) -> list[pl.Expr]:
        if at_end(name, GOOD) in self._full.columns:
            ends = [self._full.get_column(at_end(name, end)) for end in range(ENDS)]
            is_same = reduce(and_, (ends[0].eq_missing(end).all() for end in ends[1:]))
            return [pl.col(at_end(name, GOOD)).alias(name)] if is_same else [pl.col(end.name) for end in ends]
        if name == USES:
            return [pl.col(name)]
        kind = kind_of(name, self._vocabulary)
        first, last = pl.col(name).list.first().cast(kind), pl.col(name).list.last().cast(kind)
        if not (self._full.get_column(name).list.len() > 1).any():
            return [first.alias(name)]
        if not is_ordered(name, self._vocabulary):
            return [pl.col(name)]
        return [(first if end == GOOD else last).alias(at_end(name, end)) for end in range(ENDS)]


def kind_of(name: str, vocabulary: Vocabulary) -> pl.DataType | type[pl.DataType]:
    """Return the type of the column of a listed fact: coded where its values are known beforehand."""
    return pl.Enum(vocabulary[name].values) if name in vocabulary else pl.String


def at_end(name: str, end: int) -> str:
    """Return the name of the column that tells the fact `name` at one end of its readings."""
    return f"{name}@{end}"
