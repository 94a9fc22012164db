"""Rows of facts for the two evaluators, chosen where errors hide: at, just below and just above every limit."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from random import Random

import polars as pl

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Op, Rule, Value
from mendbook.terms.vocabulary import Vocabulary

Row = dict[str, Value]
Spoken = set[tuple[int, str, int]]  # row, rule, line

FINEST = 1e-6  # of any fact; the derivations round to this or coarser


def bounds_of(rule: Rule) -> Iterator[Bound]:
    yield from rule.applies
    for line in rule.lines:
        yield from line.bounds


def around(number: float) -> tuple[float, ...]:
    """Return `number`, its neighbours at the finest step of a fact, and the nearest numbers a machine has."""
    nearest = (math.nextafter(number, -math.inf), math.nextafter(number, math.inf)) if number else ()
    return (number, number - FINEST, number + FINEST, *nearest)


def choices(rules: Iterable[Rule], vocabulary: Vocabulary) -> dict[str, tuple[Value, ...]]:
    """Return for every fact that `rules` look at the values worth trying."""
    numbers: dict[str, set[float]] = {}
    listed: dict[str, tuple[Value, ...]] = {}
    for rule in rules:
        for bound in bounds_of(rule):
            fact = vocabulary[bound.fact]
            if fact.is_listed:
                listed[fact.name] = fact.values
            else:
                numbers.setdefault(fact.name, {fact.low, fact.high}).update(around(bound.number))
    return {**listed, **{name: tuple(sorted(values)) for name, values in numbers.items()}}


def aimed(rule: Rule, line: int, row: Mapping[str, Value], pick: Random) -> Row:
    """Return `row` changed so that line `line` of `rule` fits, each bound met at its limit or well inside."""
    changed = dict(row)
    for bound in (*rule.applies, *rule.lines[line].bounds):
        if bound.op is Op.IN:
            changed[bound.fact] = pick.choice(bound.values)
        else:
            inward = -1.0 if bound.op in (Op.UP_TO, Op.BELOW) else 1.0
            on = 0.0 if bound.op in (Op.UP_TO, Op.AT_LEAST) else inward * FINEST
            changed[bound.fact] = bound.number + pick.choice([on, inward * FINEST])
    return changed


def as_frame(rows: Sequence[Row], vocabulary: Vocabulary) -> pl.DataFrame:
    """Return the rows as a frame typed by the vocabulary, as the derivations type theirs."""
    schema = {name: pl.String if vocabulary[name].is_listed else pl.Float64 for name in rows[0]}
    return pl.DataFrame(list(rows), schema=schema)


def referee(rules: Iterable[Rule], rows: Sequence[Row]) -> Spoken:
    """Return what `rules` say about `rows`, read down in plain Python."""
    return {
        (place, rule.id, line)
        for place, row in enumerate(rows)
        for rule in rules
        if (line := rule.speaks(row)) is not None
    }


def groups(book: Rulebook) -> list[tuple[str, tuple[Rule, ...]]]:
    """Return the rules of each stage and subject: what one session, or one set of columns, is made of."""
    keys = dict.fromkeys((rule.stage, rule.subject) for rule in book.rules)
    return [
        (f"{stage}, {subject}", tuple(r for r in book.rules if (r.stage, r.subject) == (stage, subject)))
        for stage, subject in keys
    ]
