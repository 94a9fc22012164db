"""The looks that could change an answer, for many tyres: which facts are open, and how each may come out."""

from collections.abc import Iterator, Sequence
from datetime import date

import polars as pl

from mendbook.facts.case_reading import read_injury, read_readings
from mendbook.facts.readings import Reading
from mendbook.facts.scenarios import INJURY
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case_model import case_model
from mendbook.terms.vocabulary import Subject
from mendbook.triage.findings import TYRE as OF_TYRE
from mendbook.triage.outlook import Handle, look_variants, seen_facts
from mendbook.yard.cells import CellReader, as_written, tree_of
from mendbook.yard.reading import NAME, TYRE, YardReader

# They stand beside facts, none of which is called so.
ABOUT, PLACE, TO_DO = "asked about", "asked place", "asked is to do"
WAY, OTHERS, NUMBER, WORD = "asked way", "asked others", "asked number", "asked word"
COMBINATION = "asked combination"
SCHEMA: dict[str, type[pl.DataType]] = {
    COMBINATION: pl.UInt32, PLACE: pl.Int32, TO_DO: pl.Boolean, WAY: pl.Int32, OTHERS: pl.Int8, NUMBER: pl.Float64,
    WORD: pl.String,
}  # fmt: skip
_ONE = 0  # the injury of which a block is read


class Looks:
    """Finds the looks that are open on the tyres of yards."""

    def __init__(self, book: Rulebook, reader: YardReader) -> None:
        self._vocabulary, self._reader = book.vocabulary, reader
        self._seen = seen_facts(book)
        blank = case_model(book.vocabulary).model_validate(tree_of({}, of_injury=True))
        readings = read_readings(blank, book.vocabulary, date.min, "none")
        injury = read_injury(blank.injuries[0], book.vocabulary, is_sized=False)
        both = ((Subject.TYRE, readings.tyre), (Subject.INJURY, injury))
        # In the order in which a single case is asked; the columns that a look at a fact changes.
        self.facts = {
            subject: tuple(name for name in (*reading.listed, *reading.measures) if name in self._seen)
            for subject, reading in both
        }
        self.listed = {subject: tuple(reading.listed) for subject, reading in both}
        self.overrides: dict[str, frozenset[str]] = {}

    def open(self, frame: pl.DataFrame, subject: Subject) -> pl.DataFrame:
        """Return each way that each open look of `frame` may come out.

        frame : TYRE, the columns of text; for injuries also INJURY, NAME and whether the tyre is sized
        TYRE, INJURY and ABOUT say whose look it is, PLACE which fact (of `facts`), WAY tells its ways apart. All
        other facts are read at the end OTHERS, and this one comes out as NUMBER or WORD.
        """
        keys = [name for name in (TYRE, INJURY, NAME) if name in frame.columns]
        parts = [part for reader in self._reader.readers(subject) for part in self._of_block(frame, keys, reader)]
        if not parts:
            schema = {name: frame.schema[name] for name in keys}
            rows = pl.DataFrame(schema={**schema, **{k: v for k, v in SCHEMA.items() if k != COMBINATION}})
        else:
            rows = pl.concat(parts)
        about = pl.lit(OF_TYRE) if subject is Subject.TYRE else pl.col(NAME)
        owner = [pl.lit(None, pl.Int32).alias(INJURY)] if subject is Subject.TYRE else []
        return rows.with_columns(*owner, about.alias(ABOUT)).drop(NAME, strict=False)

    def _of_block(self, frame: pl.DataFrame, keys: Sequence[str], reader: CellReader) -> Iterator[pl.DataFrame]:
        combinations, readings = reader.readings(frame)
        ways = pl.DataFrame(
            [
                way
                for number, one in enumerate(readings)
                if isinstance(one, Reading)
                for way in self._ways(number, one, reader)
            ],
            schema=SCHEMA,
            orient="row",
        )
        if ways.is_empty():
            return
        on = combinations.columns
        if not on:
            yield frame.select(keys).join(ways.drop(COMBINATION), how="cross")
            return
        numbered = combinations.with_row_index(COMBINATION)
        written = frame.select(*keys, *(pl.col(name.removeprefix(as_written(""))).alias(name) for name in on))
        placed = written.join(numbered, on=on, how="inner", nulls_equal=True).select(*keys, COMBINATION)
        yield placed.join(ways, on=COMBINATION, how="inner").drop(COMBINATION)

    def _ways(self, combination: int, reading: Reading, reader: CellReader) -> Iterator[tuple[object, ...]]:
        subject = reader.block.subject
        for name in reader.block.outputs:
            if name not in self._seen:
                continue
            handle = Handle(None if subject is Subject.TYRE else _ONE, "", self._vocabulary[name], reading)
            if not handle.is_open:
                continue
            place = self.facts[subject].index(name)
            for way, variant in enumerate(look_variants(handle)):
                override = variant.tyre if subject is Subject.TYRE else variant.injuries[_ONE]
                self.overrides[name] = frozenset(override)
                value = override[name]
                number, word = (None, value) if isinstance(value, str) else (float(value), None)
                yield (combination, place, handle.is_to_do, way, variant.end, number, word)
