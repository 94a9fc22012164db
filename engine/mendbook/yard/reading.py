"""A yard read: the facts of every tyre and injury, at both ends of their errors, and the cells that are no reading."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import reduce

import polars as pl

from mendbook.facts.readings import BAD, GOOD
from mendbook.facts.scenarios import CHOICE, END, INJURY, INJURY_CHOICE, MOST_CHOICES, USE, VARIANT
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject, Vocabulary, Worse
from mendbook.triage.passes import MOST_ROWS
from mendbook.yard.blocks import LAW, SIZED, USES, blocks
from mendbook.yard.cells import ENDS, FAULTS, YES, CellReader, as_written

TYRE = "tyre"
NAME = "name"
OPEN = "ways to read it"  # in how many ways the unordered facts still open may combine


@dataclass(frozen=True)
class Constant:
    """A fact of which nothing is written in the whole sheet: what it is at each end."""

    name: str
    ends: tuple[float | str | None, float | str | None, float | str | None]

    @property
    def kind(self) -> type[pl.DataType]:
        """The type of its column."""
        return pl.String if isinstance(self.ends[-1], str) else pl.Float64


@dataclass(frozen=True)
class Read:
    """Tyres and injuries, one row each: TYRE, every fact as its reader gives it, FAULTS and OPEN; and the constants."""

    tyres: pl.DataFrame
    injuries: pl.DataFrame
    constants: Mapping[Subject, Sequence[Constant]]


class YardReader:
    """Reads yard after yard by one rulebook; what was read once is known."""

    def __init__(self, book: Rulebook, on: date, law: str | None = None) -> None:
        """Prepare it for tyres judged `on` a day under `law`, where they do not say theirs."""
        self.vocabulary = book.vocabulary
        self._readers = {
            subject: [CellReader(block, book, on, law) for block in blocks(book.vocabulary, subject)]
            for subject in Subject
        }

    def read(self, tyres: pl.DataFrame, injuries: pl.DataFrame) -> Read:
        """Return the facts of `tyres` (TYRE, columns of text) and `injuries` (TYRE, INJURY, NAME, columns of text)."""
        of_tyres, constants = self._facts(tyres, Subject.TYRE)
        of_injuries, own = self._facts(with_sized(injuries, of_tyres), Subject.INJURY)
        return Read(of_tyres, of_injuries, {Subject.TYRE: constants, Subject.INJURY: own})

    def readers(self, subject: Subject) -> Sequence[CellReader]:
        """Return the readers of the columns of `subject`."""
        return self._readers[subject]

    def _facts(self, frame: pl.DataFrame, subject: Subject) -> tuple[pl.DataFrame, list[Constant]]:
        keys = [name for name in (TYRE, INJURY, NAME) if name in frame.columns]
        facts, constants = frame.select(keys), list[Constant]()
        faults: list[pl.Series] = []
        for reader in self._readers[subject]:
            on = [name for name in reader.block.inputs if name in frame.columns]
            if not on and not reader.block.outputs:
                continue
            if not on and (found := self._constant(reader)):
                constants += found
                continue
            table = reader.read(frame)
            if on:
                written = [as_written(name) for name in on]
                keys_of = frame.select(pl.col(name).alias(as_written(name)) for name in on)
                got = keys_of.join(table, on=written, how="left", nulls_equal=True, maintain_order="left").drop(written)
            else:
                got = table[[0] * frame.height]
            faults.append(got.get_column(FAULTS))
            facts = facts.hstack(got.drop(FAULTS).get_columns())
        named = [faulty.alias(str(place)) for place, faulty in enumerate(faults) if faulty.null_count() < len(faulty)]
        together = pl.Series(FAULTS, [None] * facts.height, pl.Null)
        if named:
            lists = pl.concat_list([pl.col(f.name).fill_null([]) for f in named])
            together = pl.DataFrame(named).select(lists.alias(FAULTS)).get_column(FAULTS)
        return facts.with_columns(together, self._open(facts)), constants

    def _constant(self, reader: CellReader) -> list[Constant]:
        """Return the facts of a block of which nothing is written; none where one may come out in several ways."""
        blank = reader.blank
        found = []
        for name in reader.block.outputs:
            if name in blank.measures:
                found.append(Constant(name, blank.measures[name]))
                continue
            values = blank.listed[name]
            if name == USES or (len(values) > 1 and not is_ordered(name, self.vocabulary)):
                return []
            found.append(Constant(name, (values[0], values[-1], values[-1])))
        return found

    def _open(self, facts: pl.DataFrame) -> pl.Expr:
        lengths = [pl.col(name).list.len().cast(pl.Int64) for name in self.unordered(facts)]
        return reduce(lambda a, b: a * b, lengths, pl.lit(1, pl.Int64)).alias(OPEN)

    def unordered(self, facts: pl.DataFrame) -> list[str]:
        """Return the listed facts in `facts` that may come out in several ways, none of them worse."""
        listed = (name for name, kind in facts.schema.items() if kind == pl.List(pl.String) and name not in (USES, LAW))
        return [name for name in listed if not is_ordered(name, self.vocabulary)]


def with_sized(injuries: pl.DataFrame, of_tyres: pl.DataFrame) -> pl.DataFrame:
    """Return the columns of injuries with SIZED, by what was read of their tyres."""
    if "size" not in of_tyres.columns:
        return injuries
    is_sized = pl.col("size").list.first() == "read"
    sized = of_tyres.select(TYRE, pl.when(is_sized).then(pl.lit(YES)).alias(SIZED))
    return injuries.join(sized, on=TYRE, how="left", maintain_order="left")


def is_ordered(name: str, vocabulary: Vocabulary) -> bool:
    """Return whether the values of a listed fact run from good to bad."""
    return name in vocabulary and vocabulary[name].worse is Worse.LATER


def is_too_open(tyres: pl.DataFrame, injuries: pl.DataFrame) -> pl.DataFrame:
    """Return for each tyre whether too little is known to try everything that is still possible."""
    by_tyre = injuries.group_by(TYRE).agg(pl.col(OPEN).max().alias("most"), pl.col(OPEN).sum().alias("all"))
    found = tyres.select(TYRE, OPEN, USES).join(by_tyre, on=TYRE, how="left")
    rows = ENDS * pl.col(OPEN) * pl.col("all").fill_null(0) * pl.col(USES).list.len()
    is_open = (pl.max_horizontal(OPEN, "most") > MOST_CHOICES) | (rows > MOST_ROWS)
    return found.select(TYRE, is_open.alias("is too open"))


def lay_out(read: Read, reader: YardReader) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Return the frames of both subjects: one row for each end of the readings and each value still possible.

    VARIANT numbers the readings of all tyres through: three for each.
    """
    tyres = _ends(read.tyres.drop(FAULTS, OPEN), reader, CHOICE)
    tyres = tyres.with_columns(map(_constant, read.constants[Subject.TYRE]))
    tyres = tyres.explode(USES).rename({USES: USE})
    injuries = _ends(read.injuries.drop(FAULTS, OPEN, SIZED, strict=False), reader, INJURY_CHOICE)
    return tyres, injuries.with_columns(map(_constant, read.constants[Subject.INJURY]))


def _constant(constant: Constant) -> pl.Expr:
    good, read, bad = (pl.lit(value, constant.kind) for value in constant.ends)
    if len(set(constant.ends)) == 1:
        return read.alias(constant.name)
    end = pl.col(END)
    return pl.when(end == GOOD).then(good).when(end == BAD).then(bad).otherwise(read).alias(constant.name)


def _ends(facts: pl.DataFrame, reader: YardReader, choice: str) -> pl.DataFrame:
    several = [name for name in reader.unordered(facts) if (facts.get_column(name).list.len() > 1).any()]
    plain = [
        name for name, kind in facts.schema.items() if "@" not in name and kind != pl.List(pl.String) and name != NAME
    ]
    lists = [name for name, kind in facts.schema.items() if kind == pl.List(pl.String) and name not in several]
    measures = [name.removesuffix("@0") for name in facts.columns if name.endswith("@0")]
    parts = []
    for end in range(ENDS):
        listed = [
            pl.col(name)
            if name == USES  # spread over rows later
            else pl.col(name).list.last()
            if end and is_ordered(name, reader.vocabulary)
            else pl.col(name).list.first()
            for name in lists
        ]
        parts.append(
            facts.select(
                *plain,
                (pl.col(TYRE) * ENDS + end).cast(pl.Int32).alias(VARIANT),
                pl.lit(end, pl.Int8).alias(END),
                *(pl.col(f"{name}@{end}").alias(name) for name in measures),
                *listed,
                *several,
            )
        )
    frame = pl.concat(parts)
    for name in several:
        frame = frame.explode(name)
    number = pl.int_range(pl.len(), dtype=pl.Int32).over([VARIANT, *(k for k in (INJURY,) if k in frame.columns)])
    return frame.with_columns((number if several else pl.lit(0, pl.Int32)).alias(choice))
