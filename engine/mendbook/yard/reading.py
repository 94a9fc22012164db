"""A yard read: the facts of every tyre and injury, at both ends of their errors, and the cells that are no reading."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import reduce

import polars as pl

from mendbook.facts.readings import BAD, GOOD
from mendbook.facts.runs import Runs
from mendbook.facts.scenarios import CHOICE, END, INJURY, INJURY_CHOICE, MOST_CHOICES, USE, VARIANT
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject, Vocabulary
from mendbook.triage.passes import MOST_ROWS
from mendbook.yard.blocks import LAW, SIZED, USES, blocks, is_ordered
from mendbook.yard.cell_table import AT, ENDS, FAULTS, NO_FAULTS, at_end, kind_of
from mendbook.yard.cells import YES, CellReader

TYRE = "tyre"
NAME = "name"
OPEN = "ways to read it"  # in how many ways the unordered facts still open may combine


@dataclass(frozen=True)
class Constant:
    """A fact of which nothing is written in the whole sheet: what it is at each end."""

    name: str
    ends: tuple[float | str | None, float | str | None, float | str | None]

    @property
    def is_listed(self) -> bool:
        """True for a listed fact, False for a measure."""
        return isinstance(self.ends[-1], str)


@dataclass(frozen=True)
class Read:
    """Tyres and injuries, one row each: TYRE, every fact as `CellTable` spells it, and OPEN; and the constants.

    `faults` holds TYRE, INJURY (null for a cell of the tyre), column and words of every cell that could not be read.
    `values` holds every value that a listed fact of them takes at all, and perhaps more; a zone is found later.
    """

    tyres: pl.DataFrame
    injuries: pl.DataFrame
    faults: pl.DataFrame
    constants: Mapping[Subject, Sequence[Constant]]
    values: Mapping[str, frozenset[str]]


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
        values: dict[str, frozenset[str]] = {}
        of_tyres, constants, faults = self._facts(tyres, Subject.TYRE, values)
        of_injuries, own, more = self._facts(with_sized(injuries, of_tyres), Subject.INJURY, values)
        values.pop("zone", None)  # the tape decides, whatever is written
        faults = pl.concat([faults, more], how="diagonal")
        return Read(of_tyres, of_injuries, faults, {Subject.TYRE: constants, Subject.INJURY: own}, values)

    def readers(self, subject: Subject) -> Sequence[CellReader]:
        """Return the readers of the columns of `subject`."""
        return self._readers[subject]

    def _facts(
        self, frame: pl.DataFrame, subject: Subject, values: dict[str, frozenset[str]]
    ) -> tuple[pl.DataFrame, list[Constant], pl.DataFrame]:
        keys = [name for name in (TYRE, INJURY, NAME) if name in frame.columns]
        facts, constants, faults = frame.select(keys), list[Constant](), [NO_FAULTS]
        for reader in self._readers[subject]:
            on = [name for name in reader.block.inputs if name in frame.columns]
            if not on and not reader.block.outputs:
                continue
            if not on and (found := self._constant(reader)):
                constants += found
                values |= {one.name: frozenset(map(str, one.ends)) for one in found if one.is_listed}
                continue
            got, faulty = reader.read(frame)
            values |= reader.values(frame)
            faults.append(faulty)
            facts = facts.hstack(got.get_columns())
        refused = pl.concat(faults).sort(AT, maintain_order=True).explode(FAULTS).unnest(FAULTS)
        whose = facts.select(name for name in (TYRE, INJURY) if name in keys)[refused.get_column(AT)]
        return facts.with_columns(self._open(facts)), constants, whose.hstack(refused.drop(AT).get_columns())

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
    sized = of_tyres.select(TYRE, pl.when(pl.col("size") == "read").then(pl.lit(YES)).alias(SIZED))
    return injuries.join(sized, on=TYRE, how="left", maintain_order="left")


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
    tyres = _ends(read.tyres.drop(OPEN), reader, CHOICE)
    injuries = _ends(read.injuries.drop(OPEN, SIZED, strict=False), reader, INJURY_CHOICE)
    return (
        tyres.with_columns(_constant(one, reader.vocabulary) for one in read.constants[Subject.TYRE]),
        injuries.with_columns(_constant(one, reader.vocabulary) for one in read.constants[Subject.INJURY]),
    )


def _constant(constant: Constant, vocabulary: Vocabulary) -> pl.Expr:
    kind = kind_of(constant.name, vocabulary) if constant.is_listed else pl.Float64
    good, read, bad = (pl.lit(value, kind) for value in constant.ends)
    if len(set(constant.ends)) == 1:
        return read.alias(constant.name)
    end = pl.col(END)
    return pl.when(end == GOOD).then(good).when(end == BAD).then(bad).otherwise(read).alias(constant.name)


def _ends(facts: pl.DataFrame, reader: YardReader, choice: str) -> pl.DataFrame:
    facts = _spread(facts, reader, choice)
    at_ends = [name.removesuffix("@0") for name in facts.columns if name.endswith("@0")]
    plain = [name for name in facts.columns if "@" not in name and name != NAME]
    return pl.concat(
        facts.select(
            *plain,
            (pl.col(TYRE) * ENDS + end).cast(pl.Int32).alias(VARIANT),
            pl.lit(end, pl.Int8).alias(END),
            *(pl.col(at_end(name, end)).alias(name) for name in at_ends),
        )
        for end in range(ENDS)
    )


def _spread(facts: pl.DataFrame, reader: YardReader, choice: str) -> pl.DataFrame:
    """Return a row for each way in which the unordered facts may come out together, and for each use."""
    unordered = reader.unordered(facts)
    several = [name for name in unordered if (facts.get_column(name).list.len() > 1).any()]
    kinds = {name: kind_of(name, reader.vocabulary) for name in unordered}
    single = [pl.col(name).list.first().cast(kinds[name]) for name in unordered if name not in several]
    lists = [*several, *(name for name in (USES,) if name in facts.columns)]
    spread = facts.select(pl.int_range(pl.len(), dtype=pl.UInt32).alias(AT), *lists)
    for name in several:
        spread = spread.explode(name).cast({name: kinds[name]})
    spread = spread.with_columns(Runs(spread, (AT,)).places().alias(choice))
    if USES in lists:
        spread = spread.explode(USES).rename({USES: USE}).cast({USE: kind_of(USE, reader.vocabulary)})
    wide = facts.with_columns(single).drop(lists)
    rows = wide if spread.height == wide.height else wide[spread.get_column(AT)]
    return rows.hstack(spread.drop(AT).get_columns())
