"""What a column can be to a solver: a handful of values with a guard each, or any number with one formula."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import TypeAlias

import z3

Plain: TypeAlias = float | str | None
Guard: TypeAlias = z3.BoolRef

NEVER, ALWAYS = z3.BoolVal(val=False), z3.BoolVal(val=True)


@dataclass(frozen=True, eq=False)
class Finite:
    """One of a few values, null among them; exactly one guard holds."""

    cases: Mapping[Plain, Guard]

    def where(self, holds: Callable[[Plain], bool]) -> Guard:
        """Return when the value is one for which `holds`."""
        return any_of(guard for value, guard in self.cases.items() if holds(value))


@dataclass(frozen=True, eq=False)
class Number:
    """Any real number; null where `null` holds."""

    term: z3.ArithRef
    null: Guard = NEVER


@dataclass(frozen=True, eq=False)
class Truth:
    """Whether something holds; what is null does not."""

    guard: Guard


Symbol: TypeAlias = Finite | Number | Truth


def any_of(guards: Iterable[Guard]) -> Guard:
    """Return when any of `guards` holds."""
    kept = [guard for guard in guards if guard is not NEVER]
    if any(guard is ALWAYS for guard in kept):
        return ALWAYS
    return NEVER if not kept else kept[0] if len(kept) == 1 else z3.Or(kept)


def all_of(guards: Iterable[Guard]) -> Guard:
    """Return when all of `guards` hold."""
    kept = [guard for guard in guards if guard is not ALWAYS]
    if any(guard is NEVER for guard in kept):
        return NEVER
    return ALWAYS if not kept else kept[0] if len(kept) == 1 else z3.And(kept)


def opposite(guard: Guard) -> Guard:
    """Return when `guard` does not hold."""
    return NEVER if guard is ALWAYS else ALWAYS if guard is NEVER else z3.Not(guard)


def constant(value: Plain) -> Finite:
    """Return what is always `value`."""
    return Finite({value: ALWAYS})


def collect(pairs: Iterable[tuple[Plain, Guard]]) -> Finite:
    """Return the finite symbol of `pairs`; what leads to one value is put together."""
    guards: dict[Plain, list[Guard]] = {}
    for value, guard in pairs:
        guards.setdefault(value, []).append(guard)
    joined = {value: any_of(some) for value, some in guards.items()}
    return Finite({value: guard for value, guard in joined.items() if guard is not NEVER})


def combine(symbols: Iterable[Finite], work_out: Callable[..., Plain]) -> Finite:
    """Return `work_out` of every combination of values."""
    rows = product(*(symbol.cases.items() for symbol in symbols))
    return collect((work_out(*(value for value, _ in row)), all_of(guard for _, guard in row)) for row in rows)


def exact(value: float) -> z3.RatNumRef:
    """Return the decimal that `value` is printed as: limits are meant as written, not as binary fractions."""
    return z3.RealVal(repr(float(value)))


def null_of(symbol: Finite | Number) -> Guard:
    """Return when the symbol is null."""
    return symbol.null if isinstance(symbol, Number) else symbol.cases.get(None, NEVER)


def number(symbol: Finite | Number) -> Number:
    """Return the symbol as a number: a choice between its values."""
    if isinstance(symbol, Number):
        return symbol
    values = [(float(value), guard) for value, guard in symbol.cases.items() if value is not None]
    if not values:
        return Number(z3.RealVal(0), ALWAYS)
    term: z3.ArithRef = exact(values[-1][0])
    for value, guard in reversed(values[:-1]):
        term = z3.If(guard, exact(value), term)
    return Number(term, null_of(symbol))


def read_number(model: z3.ModelRef, term: z3.ArithRef) -> Fraction:
    """Return what `model` gives to `term`; a root is taken to twelve places."""
    value = model.eval(term, True)
    if z3.is_algebraic_value(value):
        value = value.approx(12)
    return Fraction(value.numerator_as_long(), value.denominator_as_long())


def read_value(model: z3.ModelRef, symbol: Symbol) -> Plain:
    """Return what `model` gives to `symbol`; a condition is 1 or 0."""
    if isinstance(symbol, Finite):
        return next(value for value, guard in symbol.cases.items() if z3.is_true(model.eval(guard, True)))
    if isinstance(symbol, Truth):
        return float(z3.is_true(model.eval(symbol.guard, True)))
    return None if z3.is_true(model.eval(symbol.null, True)) else float(read_number(model, symbol.term))


def spell_value(value: Plain) -> str:
    """Return a value as people write it."""
    return "nothing" if value is None else value if isinstance(value, str) else f"{value:.6g}"
