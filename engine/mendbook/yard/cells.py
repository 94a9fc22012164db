"""What stands in the cells of a block, read once for every combination there is, by the reader of single cases."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

import polars as pl
from pydantic import ValidationError

from mendbook.facts.case_reading import read_injury, read_readings
from mendbook.facts.readings import Reading, read_facts
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case import Case
from mendbook.terms.case_fault import find_faults
from mendbook.terms.case_model import case_model
from mendbook.terms.document import Document, Tree
from mendbook.terms.vocabulary import Subject
from mendbook.triage.judgement import law_of
from mendbook.triage.places import ImpossibleCase, check_dates
from mendbook.yard.blocks import ALWAYS, LAW, SIZED, USES, Block
from mendbook.yard.cell_table import ENDS, FAULT_LIST, FAULTS, CellTable, at_end

YES = "yes"
LISTS = ("tread depths", "kit on hand")  # several in one cell, with a semicolon between

MOST_KNOWN = 200_000  # combinations of a block that are kept; each takes some kilobytes

Cell = str | None
Row = tuple[Cell, ...]


@dataclass(frozen=True)
class Fault:
    """A cell that cannot be read: its column, and what, why and what to write instead."""

    column: str
    words: str


class CellReader:
    """Reads the combinations of one block, each once, and keeps them."""

    def __init__(self, block: Block, book: Rulebook, on: date, law: str | None) -> None:
        """Prepare it for cases judged `on` a day, where they do not say theirs, under `law` or their country's."""
        self.block = block
        self._book, self._on, self._law = book, on, law
        self._looked_at = book.vocabulary.only({*block.outputs, *ALWAYS})
        self._known: dict[Row, Reading | tuple[Fault, ...]] = {}
        self._tables: dict[tuple[str, ...], CellTable] = {}

    @cached_property
    def blank(self) -> Reading:
        """What the block says where nothing of it is written."""
        reading = self._read((None,) * len(self.block.inputs))
        assert isinstance(reading, Reading), "what is left out is no fault"
        return reading

    def read(self, frame: pl.DataFrame) -> tuple[pl.DataFrame, pl.DataFrame]:
        """Return what each row of `frame` says, every fact of the block, and the faults: both as a `CellTable` does."""
        return self._table(frame).rows(frame)

    def values(self, frame: pl.DataFrame) -> Mapping[str, frozenset[str]]:
        """Return the values that the listed facts take in what was read so far, in `frame` and before."""
        return self._table(frame).values

    def readings(self, frame: pl.DataFrame) -> tuple[pl.DataFrame, list[Reading | tuple[Fault, ...]]]:
        """Return the combinations of the block's columns in `frame`, renamed `as_written`, and what each says."""
        there = self._there(frame)
        found = frame.select(there).unique(maintain_order=True) if there else pl.DataFrame({"none": [None]})
        return found.select(pl.col(name).alias(as_written(name)) for name in there), self._said(found)

    def _there(self, frame: pl.DataFrame) -> tuple[str, ...]:
        return tuple(name for name in self.block.inputs if name in frame.columns)

    def _table(self, frame: pl.DataFrame) -> CellTable:
        there = self._there(frame)
        if there not in self._tables:
            self._tables[there] = CellTable(there, self._spell_out, self._book.vocabulary)
        return self._tables[there]

    def _said(self, found: pl.DataFrame) -> list[Reading | tuple[Fault, ...]]:
        columns = found.columns
        places = [columns.index(name) if name in columns else None for name in self.block.inputs]
        rows = [tuple(None if at is None else row[at] for at in places) for row in found.rows()]
        if len(self._known) + len(rows) > MOST_KNOWN:
            self._known.clear()
        for row in rows:
            if row not in self._known:
                self._known[row] = self._read(row)
        return [self._known[row] for row in rows]

    def _spell_out(self, found: pl.DataFrame) -> pl.DataFrame:
        """Return what the combinations in `found` say: three columns a measure, a list a listed fact, and FAULTS."""
        return pl.DataFrame(list(self._facts(self._said(found))))

    def _facts(self, read: Sequence[Reading | tuple[Fault, ...]]) -> Iterator[pl.Series]:
        for name in self.block.outputs:
            if name in self.blank.measures:
                triples = [one.measures[name] if isinstance(one, Reading) else (None,) * ENDS for one in read]
                for end in range(ENDS):
                    yield pl.Series(at_end(name, end), [triple[end] for triple in triples], pl.Float64)
            else:
                values = [list(one.listed[name]) if isinstance(one, Reading) else None for one in read]
                yield pl.Series(name, values, pl.List(pl.String))
        faults = [None if isinstance(one, Reading) else [(f.column, f.words) for f in one] for one in read]
        yield pl.Series(FAULTS, [one and [{"column": c, "words": w} for c, w in one] for one in faults], FAULT_LIST)

    def _read(self, row: Row) -> Reading | tuple[Fault, ...]:
        given = {name: cell for name, cell in zip(self.block.inputs, row, strict=True) if cell is not None}
        is_sized = given.pop(SIZED, None) == YES
        document = Document("", tree_of(given, of_injury=self.block.subject is Subject.INJURY), {(): 0})
        model = case_model(self._book.vocabulary)
        try:
            case = model.model_validate(document.tree)
        except ValidationError as error:
            faults = find_faults(error, document, model, self._book.vocabulary)
            return tuple(Fault(_column(fault.field, given), fault.words) for fault in faults)
        if self.block.is_plain:
            facts = [self._book.vocabulary[name] for name in self.block.outputs]
            is_of_injury = self.block.subject is Subject.INJURY
            return read_facts(
                facts, lambda fact: case.injuries[0] if is_of_injury else case.section(fact.section)
            ).finish()
        if self.block.subject is Subject.INJURY:
            return read_injury(case.injuries[0], self._looked_at, is_sized=is_sized)
        return self._read_tyre(case, given)

    def _read_tyre(self, case: Case, given: Mapping[str, str]) -> Reading | tuple[Fault, ...]:
        on = case.judged_on or self._on
        try:
            check_dates(case, on)
        except ImpossibleCase as error:
            return (Fault(_column(".".join(map(str, error.path)), given), str(error)),)
        law = law_of(case, self._law)
        readings = read_readings(case, self._looked_at, on, law)
        listed = {**readings.tyre.listed, USES: tuple(readings.uses), LAW: (law,)}
        return Reading(readings.tyre.measures, listed, readings.tyre.uncertain)


def as_written(column: str) -> str:
    """Return the name under which what was written in `column` stands beside what it means."""
    return f"written {column}"


def tree_of(given: Mapping[str, str], *, of_injury: bool) -> dict[str, Tree]:
    """Return the case, as a tree of text, in which `given` columns alone are written."""
    if of_injury:
        return {"case": "yard", "injuries": [{"name": "A", **given}]}
    tree: dict[str, Tree] = {"case": "yard"}
    for column, cell in given.items():
        section, _, name = column.partition(".")
        if not name:
            tree[section] = cell
            continue
        part = tree.setdefault(section, {})
        assert isinstance(part, dict), "a section is a map"
        part[name] = [one.strip() for one in cell.split(";")] if name in LISTS else cell
    return tree


def _column(field: str, given: Mapping[str, str]) -> str:
    """Return the column of the fault in `field`, as errors of a case write it."""
    name = field.removeprefix("injuries [1].")
    return next((column for column in given if column == name or name.startswith(f"{column} ")), name)
