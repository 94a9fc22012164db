"""Readings laid out as frames: one row for each way the case may be read and each value still possible."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import prod

import polars as pl

from mendbook.facts.readings import BAD, GOOD, READ, Reading, Readings
from mendbook.terms.vocabulary import Vocabulary, Worse

VARIANT, CHOICE, INJURY, INJURY_CHOICE, USE, END = (
    "variant",
    "choice",
    "injury",
    "injury choice",
    "use",
    "end",
)
TYRE_CHOICE_KEYS = (VARIANT, CHOICE, USE)
ROW = "tyre row"  # numbers the derived tyre rows: one number for variant, choice and use together
MOST_CHOICES = 4096
_ENDS = (GOOD, READ, BAD)

Override = Mapping[str, float | str]


class TooManyChoices(ValueError):
    """So little is known that the values still possible cannot all be tried."""


@dataclass(frozen=True)
class Variant:
    """One way to read a case: every measure at one end, but for the facts named.

    `tyre` and `injuries` override single facts: a number for a measure, a value for a listed fact.
    """

    end: int
    tyre: Override = field(default_factory=dict)
    injuries: Mapping[int, Override] = field(default_factory=dict)


THREE_READINGS = (Variant(GOOD), Variant(READ), Variant(BAD))


@dataclass(frozen=True)
class Frames:
    """The tyre's rows and the injuries' rows, and the values that given listed facts take in them at all."""

    tyres: pl.DataFrame
    injuries: pl.DataFrame
    possible: Mapping[str, frozenset[str]] = field(default_factory=dict)


def lay_out(readings: Readings, variants: Sequence[Variant], vocabulary: Vocabulary, all_uses: Sequence[str]) -> Frames:
    """Return the frames of `variants`. The three readings are laid out for `all_uses`, others for those asked for.

    The first three variants must be THREE_READINGS. Raises TooManyChoices beyond MOST_CHOICES a variant.
    """
    tyres = _rows(readings.tyre, variants, [v.tyre for v in variants], vocabulary, CHOICE)
    tyres = tyres.join(pl.DataFrame({USE: list(all_uses)}), how="cross")
    if len(variants) > len(THREE_READINGS) and set(readings.uses) != set(all_uses):
        tyres = tyres.filter((pl.col(VARIANT) < len(THREE_READINGS)) | pl.col(USE).is_in(list(readings.uses)))
    possible = _possible(readings, variants)
    if not readings.injuries:
        return Frames(tyres, pl.DataFrame(), possible)
    parts = [
        _rows(reading, variants, [v.injuries.get(n, {}) for v in variants], vocabulary, INJURY_CHOICE).with_columns(
            pl.lit(n, pl.Int32).alias(INJURY)
        )
        for n, reading in enumerate(readings.injuries)
    ]
    # What is open differs from injury to injury, and with it the order of the columns.
    return Frames(tyres, pl.concat([part.select(parts[0].columns) for part in parts]), possible)


def _possible(readings: Readings, variants: Sequence[Variant]) -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for reading in (readings.tyre, *readings.injuries):
        for name, values in reading.listed.items():
            found.setdefault(name, set()).update(values)
    for variant in variants:
        for override in (variant.tyre, *variant.injuries.values()):
            for name, value in override.items():
                if isinstance(value, str):
                    found[name].add(value)
    found.pop("zone", None)  # the tape decides it, row by row
    return {name: frozenset(values) for name, values in found.items()}


def choices(readings: Readings, vocabulary: Vocabulary) -> int:
    """Return in how many ways the unordered facts that are still open may combine."""
    subjects = (readings.tyre, *readings.injuries)
    return prod(len(values) for reading in subjects for values in reading.alternatives(vocabulary).values())


def _rows(
    reading: Reading,
    variants: Sequence[Variant],
    overrides: Sequence[Override],
    vocabulary: Vocabulary,
    choice: str,
) -> pl.DataFrame:
    """Return the rows of one subject: for each variant one row for each combination still possible."""
    stem, count = _stem(reading, vocabulary, choice)
    picks = [variant.end * count + number for variant in variants for number in range(count)]
    rows = stem[picks]
    columns = [pl.Series(VARIANT, [v for v in range(len(variants)) for _ in range(count)], pl.Int32)]
    for name, changes in _by_fact(overrides).items():
        places = [v * count + number for v, _ in changes for number in range(count)]
        values = [value for _, value in changes for _ in range(count)]
        columns.append(_changed(rows.get_column(name), places, values))
    return rows.with_columns(columns)


def _stem(reading: Reading, vocabulary: Vocabulary, choice: str) -> tuple[pl.DataFrame, int]:
    """Return the rows of the three ends, end after end, and the number of combinations in each."""
    left = reading.alternatives(vocabulary)
    if prod(len(values) for values in left.values()) > MOST_CHOICES:
        names = ", ".join(left)
        raise TooManyChoices(
            f"too little is known to judge: {names} are all unknown. Fill in one of them and ask again."
        )
    combinations = list(product(*left.values()))
    count = len(combinations)
    columns = {
        END: pl.Series(END, [end for end in _ENDS for _ in range(count)], pl.Int8),
        choice: pl.Series(choice, list(range(count)) * len(_ENDS), pl.Int32),
    }
    for name, triple in reading.measures.items():
        columns[name] = pl.Series(name, [triple[end] for end in _ENDS for _ in range(count)], pl.Float64)
    for name, values in reading.listed.items():
        if name in left:
            continue
        is_ordered = name in vocabulary and vocabulary[name].worse is Worse.LATER
        triple_of = (values[0], values[-1], values[-1]) if is_ordered else (values[0],) * 3
        columns[name] = pl.Series(name, [triple_of[end] for end in _ENDS for _ in range(count)], pl.String)
    for place, name in enumerate(left):
        columns[name] = pl.Series(name, [c[place] for c in combinations] * len(_ENDS), pl.String)
    return pl.DataFrame(columns), count


def _by_fact(overrides: Iterable[Override]) -> dict[str, list[tuple[int, float | str]]]:
    found: dict[str, list[tuple[int, float | str]]] = {}
    for place, override in enumerate(overrides):
        for name, value in override.items():
            found.setdefault(name, []).append((place, value))
    return found


def _changed(column: pl.Series, places: Sequence[int], values: Sequence[float | str]) -> pl.Series:
    if column.dtype == pl.Float64:
        return column.scatter(places, values)
    changed = column.to_list()
    for place, value in zip(places, values, strict=True):
        changed[place] = value
    return pl.Series(column.name, changed, column.dtype)
