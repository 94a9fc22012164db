"""How a solver takes functions that are not linear: exactly, or by their order alone.

To find a case they must be exact. To show that an order is kept, it is enough to know that they keep it, and the
question stays linear.
"""

from typing import Protocol

import z3

from mendbook.proof.symbols import exact


class NotUnderstood(ValueError):
    """An expression uses an operation that the proof does not know."""


class Functions(Protocol):
    """Gives the result of a function as a term. `most_cases`: combinations of values worked out one by one."""

    most_cases: int

    def smooth(self, name: str, term: z3.ArithRef) -> z3.ArithRef:
        """Return a rising function of `term`: rounding to places, floor, ceil, log, tan, sqrt, square (from 0 up)."""

    def product(self, one: z3.ArithRef, other: z3.ArithRef) -> z3.ArithRef:
        """Return the product of two terms."""

    def quotient(self, one: z3.ArithRef, other: z3.ArithRef) -> z3.ArithRef:
        """Return the quotient of two terms; where the second is 0 it may be anything."""


class ExactFunctions:
    """Products as they are. Rounding is finer than any tape and left out; curves are refused."""

    most_cases = 2500

    def smooth(self, name: str, term: z3.ArithRef) -> z3.ArithRef:
        """Return a rising function of `term`. Raises NotUnderstood for a curve."""
        match name.split():
            case ["round", _]:
                return term
            case ["floor"]:
                return z3.ToReal(z3.ToInt(term))
            case ["ceil"]:
                return -z3.ToReal(z3.ToInt(-term))
            case ["square"]:
                return term * term
        raise NotUnderstood(f"the proof works out '{name}' of a few numbers only")

    def product(self, one: z3.ArithRef, other: z3.ArithRef) -> z3.ArithRef:
        """Return the product of two terms."""
        return one * other

    def quotient(self, one: z3.ArithRef, other: z3.ArithRef) -> z3.ArithRef:
        """Return the quotient of two terms, 0 where the second is 0."""
        return z3.If(other == 0, z3.RealVal(0), one / other)


class OrderedFunctions:
    """Unknown functions of which only their order is known, and a few limits.

    `conditions()` gives what is known of all results together, once everything is lowered.
    """

    def __init__(self, most_cases: int = 6000) -> None:
        self.most_cases = most_cases
        self._results: dict[tuple[str, int, int], z3.ArithRef] = {}
        self._terms: dict[str, list[tuple[z3.ArithRef, z3.ArithRef, z3.ArithRef]]] = {}
        self._limits: list[z3.BoolRef] = []

    def smooth(self, name: str, term: z3.ArithRef) -> z3.ArithRef:
        """Return a rising function of `term`."""
        is_new, result = self._result(name, term, term)
        if is_new:
            self._limits += _limits(name, term, result)
        return result

    def product(self, one: z3.ArithRef, other: z3.ArithRef) -> z3.ArithRef:
        """Return the product of two terms: rising in both where neither is below 0."""
        _, result = self._result("product", one, other)
        self._limits.append(z3.Implies(z3.And(one >= 0, other >= 0), result >= 0))
        return result

    def quotient(self, one: z3.ArithRef, other: z3.ArithRef) -> z3.ArithRef:
        """Return the quotient of two terms: rising in the first and falling in the second where both are above 0.

        Where the second is 0 it is 0, as in ExactFunctions.
        """
        _, result = self._result("quotient", one, other)
        self._limits.append(z3.Implies(z3.And(one >= 0, other > 0), result >= 0))
        self._limits.append(z3.Implies(z3.Or(one == 0, other == 0), result == 0))
        return result

    def conditions(self) -> list[z3.BoolRef]:
        """Return everything that is known of the results."""
        found = list(self._limits)
        for name, uses in self._terms.items():
            for place, first in enumerate(uses):
                for second in uses[place + 1 :]:
                    found += [_in_order(name, first, second), _in_order(name, second, first)]
        return found

    def _result(self, name: str, one: z3.ArithRef, other: z3.ArithRef) -> tuple[bool, z3.ArithRef]:
        key = (name, one.get_id(), other.get_id())
        is_new = key not in self._results
        if is_new:
            self._results[key] = z3.FreshReal(name.split()[0])
            self._terms.setdefault(name, []).append((one, other, self._results[key]))
        return is_new, self._results[key]


_Use = tuple[z3.ArithRef, z3.ArithRef, z3.ArithRef]


def _in_order(name: str, first: _Use, second: _Use) -> z3.BoolRef:
    """Return that arguments in order have results in order."""
    (one, other, result), (next_one, next_other, next_result) = first, second
    match name:
        case "product":
            rises = [one >= 0, other >= 0, one <= next_one, other <= next_other]
        case "quotient":
            rises = [one >= 0, next_other > 0, one <= next_one, other >= next_other]
        case "square":
            rises = [one >= 0, one <= next_one]
        case _:
            rises = [one <= next_one]
    return z3.Implies(z3.And(*rises), result <= next_result)


def _limits(name: str, term: z3.ArithRef, result: z3.ArithRef) -> list[z3.BoolRef]:
    signs = [z3.Implies(term >= 0, result >= 0), z3.Implies(term <= 0, result <= 0)]
    match name.split():
        case ["round", places]:
            half = exact(0.5 * 10.0 ** -int(places))
            return [result - term <= half, term - result <= half, *signs]
        case ["floor"]:
            return [result <= term, term < result + 1, z3.Implies(term >= 0, result >= 0)]
        case ["ceil"]:
            return [result >= term, result < term + 1, z3.Implies(term <= 0, result <= 0)]
        case ["tan"] | ["sqrt"]:
            return signs
        case ["square"]:
            return [result >= 0]
    return []
