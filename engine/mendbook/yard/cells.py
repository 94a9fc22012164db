"""What stands in the cells of a block, read once for every combination there is, by the reader of single cases."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

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

ENDS = 3
FAULTS = "faults"
YES = "yes"
LISTS = ("tread depths", "kit on hand")  # several in one cell, with a semicolon between

Cell = str | None
Row = tuple[Cell, ...]


@dataclass(frozen=True)
class Fault:
    """A cell that cannot be read: its column, and what, why and what to write instead."""

    column: str
    words: str


class CellReader:
    """Reads the combinations of one block, each once."""

    def __init__(self, block: Block, book: Rulebook, on: date, law: str | None) -> None:
        """Prepare it for cases judged `on` a day, where they do not say theirs, under `law` or their country's."""
        self.block = block
        self._book, self._on, self._law = book, on, law
        self._looked_at = book.vocabulary.only({*block.outputs, *ALWAYS})
        self._known: dict[Row, Reading | tuple[Fault, ...]] = {}

    @property
    def blank(self) -> Reading:
        """What the block says where nothing of it is written."""
        reading = self._read((None,) * len(self.block.inputs))
        assert isinstance(reading, Reading), "what is left out is no fault"
        return reading

    def read(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return the combinations of the block's columns in `frame`, with every fact that follows and the faults.

        A measure NAME becomes three columns NAME@0, NAME@1, NAME@2, its good end, as read and its bad end; a
        listed fact becomes a list of the values still possible, from good to bad.
        """
        found, read = self.readings(frame)
        return pl.DataFrame([*found.get_columns(), *self._facts(read)])

    def readings(self, frame: pl.DataFrame) -> tuple[pl.DataFrame, list[Reading | tuple[Fault, ...]]]:
        """Return the combinations of the block's columns in `frame`, renamed `as_written`, and what each says."""
        there = [name for name in self.block.inputs if name in frame.columns]
        found = frame.select(there).unique(maintain_order=True) if there else pl.DataFrame({"none": [None]})
        places = [there.index(name) if name in there else None for name in self.block.inputs]
        rows = [tuple(None if at is None else row[at] for at in places) for row in found.rows()]
        for row in rows:
            if row not in self._known:
                self._known[row] = self._read(row)
        return found.select(pl.col(name).alias(as_written(name)) for name in there), [self._known[row] for row in rows]

    def _facts(self, read: Sequence[Reading | tuple[Fault, ...]]) -> Iterator[pl.Series]:
        sound = next((one for one in read if isinstance(one, Reading)), None) or self.blank
        for name in self.block.outputs:
            if name in sound.measures:
                triples = [one.measures[name] if isinstance(one, Reading) else (None,) * ENDS for one in read]
                for end in range(ENDS):
                    yield pl.Series(f"{name}@{end}", [triple[end] for triple in triples], pl.Float64)
            else:
                values = [list(one.listed[name]) if isinstance(one, Reading) else None for one in read]
                yield pl.Series(name, values, pl.List(pl.String))
        faults = [None if isinstance(one, Reading) else [(f.column, f.words) for f in one] for one in read]
        schema = pl.List(pl.Struct({"column": pl.String, "words": pl.String}))
        yield pl.Series(FAULTS, [one and [{"column": c, "words": w} for c, w in one] for one in faults], schema)

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
        readings = read_readings(case, self._book.vocabulary, on, law)
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
