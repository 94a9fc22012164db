"""What can be done with symbols: choose, compare, take the larger, scale."""

import operator
from collections.abc import Callable, Sequence
from typing import Any

import z3

from mendbook.proof.functions import NotUnderstood
from mendbook.proof.symbols import (
    NEVER,
    Finite,
    Number,
    Plain,
    Symbol,
    Truth,
    all_of,
    any_of,
    collect,
    combine,
    constant,
    exact,
    null_of,
    number,
    opposite,
)

COMPARISON: dict[str, Callable[[Any, Any], Any]] = {
    "Eq": operator.eq, "NotEq": operator.ne, "Lt": operator.lt, "LtEq": operator.le, "Gt": operator.gt,
    "GtEq": operator.ge,
}  # fmt: skip


def compare(name: str, one: Finite | Number, other: Finite | Number) -> Truth:
    """Return whether `one` and `other` compare so; a null compares with nothing."""
    work = COMPARISON[name]
    if both := few_cases(one, other):
        rows = combine(both, lambda a, b: None if a is None or b is None else float(work(a, b)))
        return Truth(rows.cases.get(1.0, NEVER))
    for listed, measure in ((other, one), (one, other)):
        if isinstance(listed, Finite):
            many, is_left = number(measure), listed is one
            return Truth(any_of(_meets(work, value, guard, many, is_left) for value, guard in listed.cases.items()))
    first, second = number(one), number(other)
    return Truth(all_of((work(first.term, second.term), opposite(first.null), opposite(second.null))))


def truth(symbol: Symbol) -> z3.BoolRef:
    """Return when a symbol that is a condition holds."""
    if isinstance(symbol, Truth):
        return symbol.guard
    if isinstance(symbol, Finite) and symbol.cases.keys() <= {0.0, 1.0}:
        return symbol.cases.get(1.0, NEVER)
    raise NotUnderstood("the proof expects a condition here")


def _meets(work: Callable[[Any, Any], Any], value: Plain, guard: z3.BoolRef, many: Number, is_left: bool) -> z3.BoolRef:
    if value is None:
        return NEVER
    limit = exact(float(value))
    holds = work(limit, many.term) if is_left else work(many.term, limit)
    return all_of((guard, holds, opposite(many.null)))


def choose(guard: z3.BoolRef, truthy: Symbol, falsy: Symbol) -> Symbol:
    """Return `truthy` where `guard` holds, else `falsy`."""
    if isinstance(truthy, Truth) and isinstance(falsy, Truth):
        return Truth(any_of((all_of((guard, truthy.guard)), all_of((opposite(guard), falsy.guard)))))
    one, other = valued(truthy), valued(falsy)
    if isinstance(one, Finite) and isinstance(other, Finite):
        there = ((value, all_of((guard, own))) for value, own in one.cases.items())
        else_where = ((value, all_of((opposite(guard), own))) for value, own in other.cases.items())
        return collect((*there, *else_where))
    first, second = number(one), number(other)
    null = any_of((all_of((guard, first.null)), all_of((opposite(guard), second.null))))
    return Number(z3.If(guard, first.term, second.term), null)


def extreme(arguments: Sequence[Finite | Number], pick: Callable[..., float]) -> Finite | Number:
    """Return the largest, or smallest, of `arguments`; nulls are passed over."""
    found = arguments[0]
    for argument in arguments[1:]:
        if both := few_cases(found, argument):
            found = combine(both, lambda a, b: b if a is None else a if b is None else pick(a, b))
            continue
        one, other = number(found), number(argument)
        is_first = one.term >= other.term if pick is max else one.term <= other.term
        takes_first = any_of((all_of((is_first, opposite(one.null))), other.null))
        found = Number(z3.If(takes_first, one.term, other.term), all_of((one.null, other.null)))
    return found


def clip(symbol: Finite | Number, low: Finite | Number | None, high: Finite | Number | None) -> Finite | Number:
    """Return `symbol` within its ends; a null stays null."""
    null = null_of(symbol)
    found = symbol
    if low is not None:
        found = extreme((found, low), max)
    if high is not None:
        found = extreme((found, high), min)
    if isinstance(found, Finite):
        return valued(choose(null, constant(None), found)) if null is not NEVER else found
    return Number(found.term, null)


def scaled(many: Number, few: Finite, work: Callable[[Any, Any], Any]) -> Number:
    """Return a number times, or over, one of a few: linear for each of them."""
    values = [(float(value), guard) for value, guard in few.cases.items() if value is not None]
    term: z3.ArithRef = z3.RealVal(0)
    for value, guard in values:
        if work is operator.truediv and value == 0.0:
            continue
        term = z3.If(guard, work(many.term, exact(value)), term)
    return Number(term, any_of((many.null, null_of(few))))


def few_cases(one: Finite | Number, other: Finite | Number) -> tuple[Finite, Finite] | None:
    """Return the two when their combinations can be worked out one by one."""
    return (one, other) if isinstance(one, Finite) and isinstance(other, Finite) else None


def divide_safely(work: Callable[[Any, Any], Any], one: Any, other: Any) -> float:
    """Return what floats give; over nothing they give no number, and a formula gives nothing of use either."""
    return 0.0 if work is operator.truediv and other == 0 else float(work(one, other))


def valued(symbol: Symbol) -> Finite | Number:
    """Return a condition as 1 or 0, anything else as it is."""
    if isinstance(symbol, Truth):
        return Finite({1.0: symbol.guard, 0.0: opposite(symbol.guard)})
    return symbol
