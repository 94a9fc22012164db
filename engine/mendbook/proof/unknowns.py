"""Facts as unknowns of a solver: a listed fact is one of its values, a measure any number within its range."""

from collections.abc import Sequence

import z3

from mendbook.proof.symbols import ALWAYS, Finite, Number, Plain, Symbol, Truth, all_of, any_of, exact
from mendbook.terms.vocabulary import Fact, Worse


def one_of(name: str, values: Sequence[Plain]) -> tuple[Finite, z3.BoolRef]:
    """Return an unknown that is one of `values`, and the condition that it is exactly one."""
    guards = [z3.Bool(f"{name} = {value}") for value in values]
    return Finite(dict(zip(values, guards, strict=True))), z3.PbEq([(guard, 1) for guard in guards], 1)


def any_number(name: str, low: float, high: float) -> tuple[Number, z3.BoolRef]:
    """Return an unknown number, and the condition that it lies within its range."""
    term = z3.Real(name)
    return Number(term), z3.And(term >= exact(low), term <= exact(high))


def no_better(worse: Worse, values: Sequence[Plain], one: Symbol, other: Symbol) -> z3.BoolRef:
    """Return when `other` is no better than `one` in the direction `worse`; `values` is a list from good to bad.

    What has no direction may be anything. A condition with a direction is worse where it holds.
    """
    if worse is Worse.NEITHER:
        return ALWAYS
    if isinstance(one, Finite) and isinstance(other, Finite):
        return all_of(
            z3.Implies(other.cases[value], any_of(one.cases[before] for before in values[: place + 1]))
            for place, value in enumerate(values)
        )
    if isinstance(one, Truth) and isinstance(other, Truth):
        return z3.Implies(one.guard, other.guard)
    if not isinstance(one, Number) or not isinstance(other, Number):
        raise TypeError("only symbols of one kind have an order")
    return one.term <= other.term if worse is Worse.BIGGER else one.term >= other.term


def unknown(fact: Fact, suffix: str = "") -> tuple[Symbol, z3.BoolRef]:
    """Return the unknown of `fact` and the condition on it. `suffix` tells copies of one fact apart."""
    name = f"{fact.name}{suffix}"
    return one_of(name, fact.values) if fact.is_listed else any_number(name, fact.low, fact.high)
