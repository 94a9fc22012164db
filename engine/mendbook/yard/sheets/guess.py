"""Which column of a sheet holds which field: read from its headings and a map, and asked for where two would fit."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from mendbook.terms.spelling import did_you_mean
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.sheets.column_map import UNREAD, ColumnMap
from mendbook.yard.sheets.fault import SheetError
from mendbook.yard.sheets.fields import TREAD_DEPTHS, Field, fields
from mendbook.yard.sheets.headings import alike, candidates, take_apart
from mendbook.yard.sheets.table import letters

MOST_NAMED = 5  # headings or columns that a sentence names
MOST_EXPLAINED = 50  # headings for which what they may be is looked for; a sheet may have ten thousand


class How(StrEnum):
    """Where it is known from what a column holds."""

    NAME = "its heading"
    MAP = "the map"
    UNREAD = "not read"
    OPEN = "two would fit"


@dataclass(frozen=True)
class Guessed:
    """One column: its place from 0, its heading, what it holds (None: not read), the unit of its bare numbers.

    `note` says what a person should know: what it may be, or why its unit is not taken. `rivals` are the columns
    that would fit as well.
    """

    place: int
    heading: str
    field: Field | None
    unit: str
    how: How
    note: str = ""
    rivals: tuple[str, ...] = ()


@dataclass(frozen=True)
class Guess:
    """The columns of one sheet."""

    file: str
    columns: tuple[Guessed, ...]

    @property
    def read(self) -> tuple[Guessed, ...]:
        """The columns that are read."""
        return tuple(column for column in self.columns if column.field is not None)

    @property
    def unread(self) -> tuple[Guessed, ...]:
        """The columns that are carried through unread."""
        return tuple(column for column in self.columns if column.field is None)

    def places(self, column: str) -> list[int]:
        """Return the places of the columns that hold the field `column`."""
        return [one.place for one in self.read if one.field is not None and one.field.column == column]

    def lines(self) -> Iterator[tuple[str, str, str, str]]:
        """Yield heading, field, unit and a note for each column: the guess as people check it."""
        for one in self.columns:
            heading = one.heading or f"column {letters(one.place)}, without a heading"
            yield heading, one.field.column if one.field else str(one.how), one.unit, one.note

    def as_map(self) -> ColumnMap:
        """Return the guess as a map that can be saved, corrected and given again; what is open stays to be chosen."""
        return ColumnMap({one.heading: (_held(one), one.unit) for one in self.columns if one.heading})


def guess_columns(file: str, headings: Sequence[str], vocabulary: Vocabulary, given: ColumnMap | None) -> Guess:
    """Return what each of `headings` holds; the map `given` wins, and what it leaves out is guessed."""
    known = fields(vocabulary)
    found = [_guess(place, heading, vocabulary, given) for place, heading in enumerate(headings)]
    by_field: dict[str, list[int]] = defaultdict(list)
    for one in [one for one in found if one.how is How.UNREAD and one.heading][:MOST_EXPLAINED]:
        if given is None or one.heading not in given.columns:
            found[one.place] = replace(one, note=_may_be(one.heading, vocabulary))
    for one in found:
        if one.field is not None and one.field.column != TREAD_DEPTHS:
            by_field[one.field.column].append(one.place)
    for column, places in by_field.items():
        mapped = [place for place in places if found[place].how is How.MAP]
        if len(mapped) == 1:  # the person said which; the others are left unread
            for place in set(places) - set(mapped):
                found[place] = replace(found[place], field=None, how=How.UNREAD, note=f"'{column}' is mapped already")
        elif len(places) > 1:
            for place in places:
                found[place] = replace(
                    found[place], field=None, how=How.OPEN, rivals=(known[column].column,),
                    note=f"{len(places)} columns would be '{column}'",
                )  # fmt: skip
    return Guess(file, tuple(found))


def check_guess(guess: Guess) -> None:
    """Raise SheetError where two fields would fit a column or two columns a field, or where nothing is understood."""
    asked = [one for one in guess.columns if one.how is How.OPEN]
    if asked:
        told = "; ".join(f"'{one.heading}' (column {letters(one.place)}): {one.note}" for one in asked[:MOST_NAMED])
        example = f'"{asked[0].heading}": {{fact: {asked[0].rivals[0]}}}'
        raise SheetError(
            guess.file,
            f"what some columns hold is not clear. {told}. Say in a map what each one holds, under 'columns:', such as "
            f"{example}, or: {UNREAD}.",
        )
    if not guess.read:
        shown = ", ".join(f"'{one.heading}'" for one in guess.columns[:MOST_NAMED] if one.heading) or "nothing"
        raise SheetError(
            guess.file,
            f"no heading is one I know: the first row has {shown}. Write headings there, such as 'tag', 'designation', "
            "'length [mm]', or start from the template.",
        )


def _guess(place: int, heading: str, vocabulary: Vocabulary, given: ColumnMap | None) -> Guessed:
    if given is not None and heading in given.columns:
        column, unit = given.columns[heading]
        field = None if column == UNREAD else fields(vocabulary)[column]
        return Guessed(place, heading, field, unit, How.MAP if field else How.UNREAD)
    apart = take_apart(heading)
    named, unit = candidates(apart, vocabulary)
    if not named:
        return Guessed(place, heading, None, "", How.UNREAD, "not understood" if heading else "no heading")
    if len(named) > 1:
        rivals = tuple(field.column for field in named)
        return Guessed(place, heading, None, "", How.OPEN, f"it may be {_either(rivals)}", rivals)
    return _with_unit(Guessed(place, heading, named[0], "", How.NAME), (*apart.units, *([unit] if unit else [])))


def _with_unit(one: Guessed, units: Sequence[str]) -> Guessed:
    if not units or one.field is None or one.field.dimension is None:
        return one
    if len(units) > 1:
        return replace(one, note=f"it names {_either(units)}: a bare number has no unit, and is not read")
    if why := one.field.refuses(units[0]):
        return replace(one, note=f"{why} A bare number is not read")
    return replace(one, unit=units[0])


def _held(one: Guessed) -> str:
    if one.field is not None:
        return one.field.column
    return " or ".join(one.rivals) if len(one.rivals) > 1 else UNREAD


def _may_be(heading: str, vocabulary: Vocabulary) -> str:
    near = alike(take_apart(heading), vocabulary)
    if 0 < len(near) <= MOST_NAMED:
        return f"not understood; it may be {_either(near)}"
    return f"not understood.{did_you_mean(heading, fields(vocabulary))}"


def _either(columns: Sequence[str]) -> str:
    return " or ".join(f"'{column}'" for column in columns)
