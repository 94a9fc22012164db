"""The order in which facts follow from each other. Each pass takes frames and returns frames."""

from collections.abc import Collection, Iterable, Mapping, Sequence

import polars as pl

from mendbook.facts.injuries import clearance_steps, count_steps, limit_steps, size_steps, table_steps
from mendbook.facts.lookup import Lookup
from mendbook.facts.method import method_steps
from mendbook.facts.numbers import derive_numbers, number_steps
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END, ROW, VARIANT, Frames
from mendbook.facts.section import section_steps
from mendbook.facts.sectors import count_punctures
from mendbook.facts.service import tyre_steps
from mendbook.facts.spacing import derive_spacing, spacing_steps
from mendbook.facts.steps import Step, add_by_number, run
from mendbook.facts.zones import zone_steps
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case import Repair
from mendbook.terms.vocabulary import Fact, Subject, Worse

_AT_TYRE, _AT_INJURY = "at tyre", "at injury"


class Derivation:
    """The derivations of one rulebook, made ready once."""

    def __init__(self, book: Rulebook) -> None:
        lookup = Lookup(book)
        base = [f for f in book.vocabulary if not f.is_given and not f.stage]
        self.tyre_steps: tuple[Step, ...] = (
            *tyre_steps(book, lookup),
            *section_steps(),
            FillUnknown(f for f in base if f.subject is Subject.TYRE),
        )
        self._spreading: tuple[Step, ...] = (*size_steps(), *zone_steps())
        self._spread: tuple[Step, ...] = (
            *table_steps(lookup),
            *count_steps(),
            *limit_steps(lookup),
            *clearance_steps(),
            FillUnknown(f for f in base if f.subject is Subject.INJURY),
        )
        self.injury_steps: tuple[Step, ...] = (*self._spreading, *self._spread)
        self.number_steps: tuple[Step, ...] = tuple(number_steps(lookup))
        self.spacing_steps: tuple[Step, ...] = tuple(spacing_steps(lookup))
        self.method_steps: tuple[Step, ...] = tuple(method_steps(lookup))

    def tyres(self, tyres: pl.DataFrame) -> pl.DataFrame:
        """Return tyre rows with every base fact of the tyre, numbered by ROW."""
        return run(self.tyre_steps, tyres).with_row_index(ROW)

    def injuries(self, injuries: pl.DataFrame, tyres: pl.DataFrame) -> pl.DataFrame:
        """Return injury rows with every fact that needs no repair class: one row for each zone touched.

        `tyres` are the derived rows of their tyres; their facts stand in every injury row. What has one ROW stands
        together, within it each injury, and within that each way to read it.
        """
        if injuries.is_empty():
            return injuries
        injuries = injuries.drop(END)
        frames = {_AT_TYRE: tyres, _AT_INJURY: injuries}
        # A zone more is a row more: what the zones do not hang on is laid beside them when they are known.
        needed = frozenset[str]().union(*(step.looks_at for step in self._spreading))
        rows = run(self._spreading, _beside(_meet(tyres, injuries), frames, needed))
        rows = _beside(rows, frames, {*tyres.columns, *injuries.columns})
        return run(self._spread, rows.drop(_AT_TYRE, _AT_INJURY))

    def pairs(self, frames: Frames, repairs: Sequence[Repair], kept: Collection[str] | None = None) -> Frames:
        """Return the frames with number and spacing; the facts of the tyre stand in every injury row.

        The injuries must hold `repair class` already, and the tyres `tyre class`. Of what is new of the tyre only the
        facts `kept` are laid beside the injuries; all of them where it is None.
        """
        tyres, rows = derive_numbers(run(self.number_steps, frames.tyres), frames.injuries, repairs), frames.injuries
        if rows.is_empty():
            return Frames(tyres, rows)
        rows = count_punctures(derive_spacing(run(self.spacing_steps, rows), repairs))
        new = [name for name in tyres.columns if name not in rows.columns and (kept is None or name in kept)]
        return Frames(tyres, add_by_number(rows, tyres.select(ROW, *new), ROW))

    def method(self, injuries: pl.DataFrame) -> pl.DataFrame:
        """Return injury rows that hold their final `repair class` with the facts of the method stage."""
        return run(self.method_steps, injuries)


def _meet(tyres: pl.DataFrame, injuries: pl.DataFrame) -> pl.DataFrame:
    """Return which rows of the two are of one variant, tyre after tyre."""
    left, right = tyres.select(VARIANT).with_row_index(_AT_TYRE), injuries.select(VARIANT).with_row_index(_AT_INJURY)
    return left.join(right, on=VARIANT, maintain_order="left_right")


def _beside(rows: pl.DataFrame, frames: Mapping[str, pl.DataFrame], names: Collection[str]) -> pl.DataFrame:
    """Return `rows` with what they lack of `names`; the column that a frame is named after tells which of its rows."""
    for at, frame in frames.items():
        new = [name for name in frame.columns if name in names and name not in rows.columns]
        rows = rows.hstack(frame.select(new)[rows.get_column(at)].get_columns())
    return rows


class FillUnknown:
    """Leaves no measure open: unknown is its good end when read well, else its bad end."""

    def __init__(self, facts: Iterable[Fact]) -> None:
        self.stand_ins: dict[str, pl.Expr] = {}
        for fact in facts:
            if fact.is_listed or fact.worse is Worse.NEITHER:
                continue
            good, bad = fact.ends(fact.low, fact.high)
            stand_in = pl.when(pl.col(END) == GOOD).then(good).otherwise(bad)
            self.stand_ins[fact.name] = pl.col(fact.name).fill_null(stand_in)
        self.looks_at = frozenset({*self.stand_ins, END})

    def __call__(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return `frame` without nulls in these facts."""
        missing = [fact for name, fact in self.stand_ins.items() if frame.get_column(name).null_count()]
        return frame.with_columns(missing) if missing else frame
