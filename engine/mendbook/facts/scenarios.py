"""Readings laid out as frames: one row for each way the case may be read and each value still possible."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import prod

import polars as pl

from mendbook.facts.readings import BAD, GOOD, READ, Reading, Readings
from mendbook.terms.vocabulary import Vocabulary, Worse

VARIANT, CHOICE, INJURY, INJURY_CHOICE, USE, END = "variant", "choice", "injury", "injury choice", "use", "end"
TYRE_CHOICE_KEYS = (VARIANT, CHOICE, USE)
MOST_CHOICES = 4096


class TooManyChoices(ValueError):
    """So little is known that the values still possible cannot all be tried."""


@dataclass(frozen=True)
class Variant:
    """One way to read a case: every measure at one end, but for the facts named.

    `tyre` and `injuries` override single facts: a number for a measure, a value for a listed fact.
    """

    name: str
    end: int
    tyre: Mapping[str, float | str] = field(default_factory=dict)
    injuries: Mapping[int, Mapping[str, float | str]] = field(default_factory=dict)


THREE_READINGS = (Variant("good", GOOD), Variant("as read", READ), Variant("bad", BAD))


@dataclass(frozen=True)
class Frames:
    """The tyre's rows and the injuries' rows, not yet with any derived fact."""

    tyres: pl.DataFrame
    injuries: pl.DataFrame


def lay_out(
    readings: Readings, variants: Sequence[Variant], uses: Sequence[str], vocabulary: Vocabulary
) -> Frames:
    """Return the frames of `variants`, for each of `uses`. Raises TooManyChoices beyond MOST_CHOICES a variant."""
    tyres = _frame(readings.tyre, [(v, v.tyre, {}) for v in variants], vocabulary, CHOICE)
    tyres = tyres.join(pl.DataFrame({USE: list(uses)}), how="cross")
    if not readings.injuries:
        return Frames(tyres, pl.DataFrame())
    parts = [
        _frame(reading, [(v, v.injuries.get(n, {}), {INJURY: n}) for v in variants], vocabulary, INJURY_CHOICE)
        for n, reading in enumerate(readings.injuries)
    ]
    return Frames(tyres, pl.concat(parts, how="vertical_relaxed"))


def _frame(
    reading: Reading,
    wanted: Iterable[tuple[Variant, Mapping[str, float | str], Mapping[str, int]]],
    vocabulary: Vocabulary,
    choice: str,
) -> pl.DataFrame:
    open_facts = reading.alternatives(vocabulary)
    ends: list[int] = []
    keys: dict[str, list[int]] = {VARIANT: [], choice: []}
    overrides: list[Mapping[str, float | str]] = []
    for place, (variant, override, key) in enumerate(wanted):
        left = {name: values for name, values in open_facts.items() if name not in override}
        for number, values in enumerate(_choices(left)):
            ends.append(variant.end)
            keys[VARIANT].append(place)
            keys[choice].append(number)
            for name, value in key.items():
                keys.setdefault(name, []).append(value)
            overrides.append({**override, **dict(zip(left, values, strict=True))})
    columns: dict[str, pl.Series] = {name: pl.Series(name, values, pl.Int32) for name, values in keys.items()}
    columns[END] = pl.Series(END, ends, pl.Int8)
    for name, triple in reading.measures.items():
        columns[name] = pl.Series(name, [triple[end] for end in ends], pl.Float64)
    for name, values in reading.listed.items():
        later = name in vocabulary and vocabulary[name].worse is Worse.LATER
        triple3 = (values[0], values[-1], values[-1]) if later else (values[0], values[0], values[0])
        columns[name] = pl.Series(name, [triple3[end] for end in ends], pl.String)
    return _overridden(pl.DataFrame(columns), overrides)


def choices(readings: Readings, vocabulary: Vocabulary) -> int:
    """Return in how many ways the unordered facts that are still open may combine."""
    subjects = (readings.tyre, *readings.injuries)
    return prod(len(values) for reading in subjects for values in reading.alternatives(vocabulary).values())


def _choices(left: Mapping[str, tuple[str, ...]]) -> Iterable[tuple[str, ...]]:
    if prod(len(values) for values in left.values()) > MOST_CHOICES:
        names = ", ".join(left)
        raise TooManyChoices(
            f"too little is known to judge: {names} are all unknown. Fill in one of them and ask again."
        )
    return product(*left.values())


def _overridden(frame: pl.DataFrame, overrides: Sequence[Mapping[str, float | str]]) -> pl.DataFrame:
    names = dict.fromkeys(name for override in overrides for name in override)
    changed = []
    for name in names:
        column = frame.get_column(name).to_list()
        for row, override in enumerate(overrides):
            if name in override:
                column[row] = override[name]
        changed.append(pl.Series(name, column, frame.schema[name]))
    return frame.with_columns(changed)
