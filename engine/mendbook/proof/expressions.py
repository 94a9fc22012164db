"""Column expressions to solver formulas: a proof reads the very expressions that the machine runs.

Only what the derivations use is understood; anything else is refused by name, never guessed.
"""

import json
import math
import operator
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import polars as pl
import z3

from mendbook.proof.functions import Functions, NotUnderstood
from mendbook.proof.operations import (
    COMPARISON,
    choose,
    clip,
    compare,
    divide_safely,
    extreme,
    few_cases,
    scaled,
    truth,
    valued,
)
from mendbook.proof.symbols import (
    ALWAYS,
    NEVER,
    Finite,
    Number,
    Plain,
    Symbol,
    Truth,
    all_of,
    any_of,
    combine,
    constant,
    exact,
    null_of,
    number,
    opposite,
)

MOST_SCALES = 200  # values that a number is scaled by one by one

_ARITHMETIC: dict[str, Callable[[Any, Any], Any]] = {
    "Plus": operator.add, "Minus": operator.sub, "Multiply": operator.mul, "TrueDivide": operator.truediv,
    "Modulus": operator.mod,
}  # fmt: skip
_WHOLE: dict[str, Callable[[float], float]] = {"Floor": math.floor, "Ceil": math.ceil, "Log": math.log}


class Lowering:
    """Lowers expressions over named columns; `functions` tells how what is not linear is taken."""

    def __init__(self, columns: Mapping[str, Symbol], functions: Functions) -> None:
        self._columns = columns
        self._functions = functions
        self._smooth = functions.smooth

    def lower(self, expression: pl.Expr) -> Symbol:
        """Return the symbol of `expression`. Raises NotUnderstood, and KeyError for a column that is not there."""
        return self._node(json.loads(expression.meta.serialize(format="json")))

    def _node(self, node: Any) -> Symbol:
        kind, body = next(iter(node.items()))
        match kind:
            case "Column":
                return self._columns[body]
            case "Literal":
                return _literal(body)
            case "Alias":
                return self._node(body[0])
            case "Cast":
                return _cast(self._node(body["expr"]), body["dtype"])
            case "BinaryExpr":
                return self._binary(body["op"], self._node(body["left"]), self._node(body["right"]))
            case "Ternary":
                guard = truth(self._node(body["predicate"]))
                return choose(guard, self._node(body["truthy"]), self._node(body["falsy"]))
            case "Function":
                return self._function(body["function"], body["input"])
        raise NotUnderstood(f"the proof does not understand '{kind}'")

    def _binary(self, name: str, left: Symbol, right: Symbol) -> Symbol:
        if name in ("And", "Or"):
            guards = (truth(left), truth(right))
            return Truth(all_of(guards) if name == "And" else any_of(guards))
        one, other = valued(left), valued(right)
        if name in COMPARISON:
            return compare(name, one, other)
        if name not in _ARITHMETIC:
            raise NotUnderstood(f"the proof does not understand the operator '{name}'")
        return self._calculate(name, one, other)

    def _calculate(self, name: str, one: Finite | Number, other: Finite | Number) -> Finite | Number:
        work = _ARITHMETIC[name]
        if both := self._few(one, other):
            return combine(both, lambda a, b: None if a is None or b is None else divide_safely(work, a, b))
        if name == "Modulus":
            raise NotUnderstood("the proof understands a remainder of listed numbers only")
        for listed, measure in ((other, one), (one, other)):
            scales = name == "Multiply" or (name == "TrueDivide" and listed is other)
            if scales and isinstance(listed, Finite) and len(listed.cases) <= MOST_SCALES:
                return scaled(number(measure), listed, work)
        first, second = number(one), number(other)
        null = any_of((first.null, second.null))
        if name == "TrueDivide":
            return Number(self._functions.quotient(first.term, second.term), null)
        if name == "Multiply":
            return Number(self._functions.product(first.term, second.term), null)
        return Number(work(first.term, second.term), null)

    def _function(self, function: Any, inputs: Sequence[Any]) -> Symbol:
        name: str
        options: Any
        name, options = (function, None) if isinstance(function, str) else next(iter(function.items()))
        if name == "Boolean":
            return self._boolean(options, inputs)
        read = inputs[:1] if name == "ReplaceStrict" else inputs
        arguments = [valued(self._node(node)) for node in read]
        first = arguments[0]
        match name:
            case "MaxHorizontal" | "MinHorizontal":
                pick = max if name == "MaxHorizontal" else min
                return extreme(arguments, pick)
            case "Clip":
                low = arguments[1] if options["has_min"] else None
                high = arguments[-1] if options["has_max"] else None
                return clip(first, low, high)
            case "FillNull":
                return choose(opposite(null_of(first)), first, arguments[1])
            case "Coalesce":
                found = arguments[-1]
                for argument in reversed(arguments[:-1]):
                    found = valued(choose(opposite(null_of(argument)), argument, found))
                return found
            case "Abs":
                return self._unary(first, abs, lambda term: z3.If(term < 0, -term, term))
            case "Pow" if options == "Sqrt":
                return self._unary(first, math.sqrt, lambda term: self._smooth("sqrt", term))
            case "Pow":
                return self._power(first, arguments[1])
            case "Round":
                places = options["decimals"]
                return self._unary(first, lambda x: round(x, places), lambda t: self._smooth(f"round {places}", t))
            case "Floor" | "Ceil" | "Log":
                return self._unary(first, _WHOLE[name], lambda t: self._smooth(name.lower(), t))
            case "Trigonometry":
                return self._angle(options, first)
            case "SumHorizontal":
                total: Finite | Number = constant(0.0)
                for argument in arguments:
                    filled = valued(choose(null_of(argument), constant(0.0), argument))
                    total = self._calculate("Plus", total, filled)
                return total
            case "ReplaceStrict":
                if len(inputs) > 3:
                    raise NotUnderstood("the proof understands a replacement without a default only")
                new = dict(zip(_list(inputs[1]), _list(inputs[2]), strict=True))
                return combine((_finite(first),), new.get)
            case "StringExpr" if options == "StartsWith":
                prefix = str(_only(arguments[1]))
                return Truth(_finite(first).where(lambda value: value is not None and str(value).startswith(prefix)))
        raise NotUnderstood(f"the proof does not understand '{name}'")

    def _boolean(self, options: Any, inputs: Sequence[Any]) -> Truth:
        if options == "AnyHorizontal":
            return Truth(any_of(truth(self._node(node)) for node in inputs))
        symbol = valued(self._node(inputs[0]))
        if options == "IsNull":
            return Truth(null_of(symbol))
        if isinstance(options, dict) and "IsIn" in options:
            wanted = frozenset(_list(inputs[1]))
            return Truth(_finite(symbol).where(lambda value: value in wanted))
        raise NotUnderstood(f"the proof does not understand '{options}'")

    def _angle(self, name: str, symbol: Finite | Number) -> Finite | Number:
        turn = exact(math.pi / 180.0)
        match name:
            case "Radians":
                return self._unary(symbol, math.radians, lambda term: term * turn)
            case "Degrees":
                return self._unary(symbol, math.degrees, lambda term: term / turn)
            case "Tan":
                return self._unary(symbol, math.tan, lambda term: self._smooth("tan", term))
        raise NotUnderstood(f"the proof does not understand '{name}'")

    def _power(self, symbol: Finite | Number, exponent: Finite | Number) -> Finite | Number:
        power = float(str(_only(exponent)))
        if power != 2.0:
            raise NotUnderstood(f"the proof does not understand the power {power:g}")
        return self._unary(symbol, lambda x: x * x, lambda term: self._smooth("square", term))

    def _few(self, one: Finite | Number, other: Finite | Number) -> tuple[Finite, Finite] | None:
        both = few_cases(one, other)
        return both if both and len(both[0].cases) * len(both[1].cases) <= self._functions.most_cases else None

    def _unary(
        self,
        symbol: Finite | Number,
        work: Callable[[float], float],
        formula: Callable[[z3.ArithRef], z3.ArithRef],
    ) -> Finite | Number:
        if isinstance(symbol, Finite):
            return combine((symbol,), lambda value: None if value is None else work(float(value)))
        return Number(formula(symbol.term), symbol.null)


def _cast(symbol: Symbol, dtype: Any) -> Symbol:
    """Return what keeps its value as another type: a number as a float, a condition as 1 or 0."""
    kind = dtype.get("Literal") if isinstance(dtype, dict) else dtype
    if kind == "Float64" or (kind in ("Int64", "Int32") and isinstance(symbol, Truth)):
        return valued(symbol)
    raise NotUnderstood(f"the proof does not understand a cast to '{kind}'")


def _finite(symbol: Finite | Number) -> Finite:
    if isinstance(symbol, Finite):
        return symbol
    raise NotUnderstood("the proof expects listed values here")


def _only(symbol: Finite | Number) -> Plain:
    (value,) = _finite(symbol).cases
    return value


def _literal(body: Any) -> Symbol:
    value = _plain(body)
    return Truth(ALWAYS if value else NEVER) if isinstance(value, bool) else constant(value)


def _plain(body: Any) -> Any:
    """Return the value of a literal, whatever type it is wrapped in."""
    if isinstance(body, dict):
        ((kind, inner),) = body.items()
        if kind == "Null":
            return None
        value = _plain(inner)
        return float(value) if kind in ("Float", "Float64", "Int", "Int64", "Int32", "Int16", "Int8") else value
    return None if body == "Null" else body


def _list(node: Any) -> list[Any]:
    """Return the values of a literal list."""
    series = pl.select(pl.Expr.deserialize(json.dumps(node).encode(), format="json")).to_series()
    return list(series.explode().to_list()) if series.dtype == pl.List else series.to_list()
