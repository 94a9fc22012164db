"""Formulas against the dataframe library itself: on a drawn row its answer is the only one the solver allows."""

from collections.abc import Mapping

import polars as pl
import pytest
import z3
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.proof.expressions import Lowering
from mendbook.proof.functions import ExactFunctions, NotUnderstood
from mendbook.proof.symbols import Finite, Number, Plain, Symbol, Truth, exact, null_of, number

# Quarters: what is worked out of them is the same in binary fractions and in decimals, also right on a limit.
QUARTERS = st.integers(-40, 40).map(lambda n: n / 4)
KINDS = ("ash", "spruce", "none at all")
NEARLY = 1e-9
a, b, c, few, more, kind, other = (pl.col(name) for name in ("a", "b", "c", "few", "more", "kind", "other"))
listed_angle = pl.when(few > 0.0).then(20.0).when(few < 0.0).then(-35.5).otherwise(0.0)
load_of_kind = kind.replace_strict(list(KINDS), [1.5, 2.5, 4.0], return_dtype=pl.Float64)

UNDERSTOOD: Mapping[str, pl.Expr] = {
    "a column": a,
    "a literal": a + 1.25,
    "a null literal": pl.coalesce(pl.lit(None, dtype=pl.Float64), a),
    "a listed column": kind,
    "when": pl.when(a > b).then(a).when(few == 1.0).then(few).otherwise(b),
    "when of words": pl.when(a > 1.0).then(pl.lit("ash")).when(a < few).then(other).otherwise(kind),
    "when of nulls": pl.when(a > b).then(None).otherwise(a),
    "when without otherwise": pl.when(a > b).then(few),
    "when of conditions": pl.when(c > 1.0).then(a > b).otherwise(kind == "ash"),
    "plus": a + b,
    "minus": few - more,
    "minus of two sorts": a - few,
    "times": a * b,
    "times few": a * few,
    "few times few": few * more,
    "over": a / (b * b + 1.0),
    "over few": a / (few + 0.125),
    "few over": few / (a * a + 1.0),
    "few over few": few / (more + 0.125),
    "remainder of few": few % 3.0,
    "equal": a == b,
    "not equal": a != few,
    "not equal of few": few != more,
    "below": a < b,
    "up to a literal": a <= 2.0,
    "a literal up to": pl.lit(2.0) <= a,
    "few above": few > a,
    "few at least few": few >= more,
    "words equal": kind == "ash",
    "words of two columns": kind == other,
    "words not equal": kind != "ash",
    "and": (a > 1.0) & (kind == "ash"),
    "or": (a > 1.0) | (few > more),
    "literal conditions": (pl.lit(value=True) & (a > 1.0)) | pl.lit(value=False),
    "clip": a.clip(-2.5, 3.0),
    "clip below": a.clip(0.5),
    "clip above": a.clip(upper_bound=0.5),
    "clip few": few.clip(-1.0, 1.0),
    "clip below few": more.clip(0.5),
    "larger": pl.max_horizontal("a", "b", "few"),
    "smaller": pl.min_horizontal("few", "a", "b"),
    "larger of few": pl.max_horizontal("few", "more"),
    "smaller of few": pl.min_horizontal("more", "few"),
    "fill null": a.fill_null(b),
    "fill null of few": few.fill_null(7.0),
    "coalesce": pl.coalesce("a", "few", "b", pl.lit(3.0)),
    "coalesce of words": pl.coalesce("other", "kind"),
    "without a sign": a.abs(),
    "few without a sign": few.abs(),
    "round few": few.round(0),
    "round thirds of few": (few / 3.0).round(2),
    "floor": a.floor(),
    "floor of few": few.floor(),
    "ceil": a.ceil(),
    "ceil of few": few.ceil(),
    "square": (a - b) ** 2,
    "square of few": few**2,
    "root of few": few.abs().sqrt(),
    "log of few": (few.abs() + 1.0).log(),
    "radians": a.radians(),
    "degrees": a.degrees(),
    "tangent of few": listed_angle.radians().tan(),
    "is in": kind.is_in(["ash", "spruce"]),
    "is in numbers": few.is_in([1.0, 2.25, -3.0]),
    "any": pl.any_horizontal(a > 5.0, kind == "ash", more < few),
    "is null": a.is_null(),
    "few is null": few.is_null(),
    "larger is null": pl.max_horizontal("a", "few").is_null(),
    "starts with": kind.str.starts_with("no"),
    "null starts with": other.str.starts_with("N"),
    "sum of casts": pl.sum_horizontal((kind == "ash").cast(pl.Float64), (b > 0.0).cast(pl.Float64)),
    "sum of columns": pl.sum_horizontal("b", "c"),
    "sum of null columns": pl.sum_horizontal("a", "few", "c"),
    "replace": load_of_kind,
    "replace and work on": load_of_kind * a + 1.0,
    "nested": pl.when(pl.max_horizontal("a", "b").is_null()).then(-1.0).otherwise((a * few - b).clip(0.0)).alias("x"),
}

REFUSED: Mapping[str, tuple[pl.Expr, str]] = {
    "not": (~(a > 1.0), "Not"),
    "sign": (-a, "Negate"),
    "exclusive or": ((a > 1.0) ^ (b > 1.0), "Xor"),
    "whole quotient": (a // 2.0, "FloorDivide"),
    "remainder of a measure": (a % 2.0, "remainder of listed numbers"),
    "third power": (a**3, "power 3"),
    "sine": (a.sin(), "Sin"),
    "exponential": (a.exp(), "Exp"),
    "root of a measure": ((a + 20.0).sqrt(), "sqrt"),
    "tangent of a measure": (a.tan(), "tan"),
    "log of a measure": ((a + 20.0).log(), "log"),
    "part of a word": (kind.str.contains("a"), "StringExpr"),
    "sum over rows": (a.sum(), "Agg"),
    "sum within groups": (a.sum().over("kind"), "Over"),
    "a measure in a list": (a.is_in([1.0]), "listed values"),
    "a number as a condition": (pl.when(few.is_null()).then(a > 1.0).otherwise(b) & (a > 1.0), "a condition"),
    "whole numbers of a measure": (a.cast(pl.Int64), "Int64"),
    "words of a number": (few.cast(pl.String), "String"),
    "stand-in for other values": (kind.replace_strict({"ash": 1.0}, default=9.0), "default"),
}


@st.composite
def rows(draw: st.DrawFn) -> dict[str, Plain]:
    """A row: measures that may be missing or not, numbers and words of a short list."""
    numbers = {name: draw(QUARTERS if name in "bc" else QUARTERS | st.none()) for name in ("a", "b", "c")}
    shorts = {name: draw(st.integers(-12, 12).map(lambda n: n / 4) | st.none()) for name in ("few", "more")}
    return {**numbers, **shorts, "kind": draw(st.sampled_from(KINDS)), "other": draw(st.sampled_from((None, *KINDS)))}


def lay_out(row: Mapping[str, Plain]) -> tuple[dict[str, Symbol], list[z3.BoolRef]]:
    """Unknowns for the columns, with other values beside the drawn one, and the conditions that they are the row's."""
    symbols: dict[str, Symbol] = {}
    pinned: list[z3.BoolRef] = []
    for name in ("a", "b", "c"):
        value, term, null = row[name], z3.Real(name), z3.Bool(f"{name} is null")
        symbols[name] = Number(term, null) if name == "a" else Number(term)
        pinned.append(null if value is None else z3.And(term == exact(float(value)), z3.Not(null)))
    for name, beside in (("few", (0.0, None, 1.5)), ("more", (-1.0, None)), ("kind", KINDS), ("other", (None, "ash"))):
        values = tuple(dict.fromkeys((row[name], *beside)))
        guards = [z3.Bool(f"{name} = {value}") for value in values]
        symbols[name] = Finite(dict(zip(values, guards, strict=True)))
        pinned += [guards[0], *map(z3.Not, guards[1:])]
    return symbols, pinned


def is_answer(symbol: Symbol, answer: Plain) -> z3.BoolRef:
    """Whether the symbol is what the dataframe library answered."""
    if isinstance(symbol, Truth):
        return symbol.guard if answer else z3.Not(symbol.guard)
    if answer is None:
        return null_of(symbol)
    if isinstance(answer, str):
        assert isinstance(symbol, Finite)
        return symbol.cases.get(answer, z3.BoolVal(val=False))
    term, near = number(symbol).term, exact(NEARLY * (1.0 + abs(answer)))
    distance = term - z3.RealVal(repr(float(answer)))
    return z3.And(z3.Not(null_of(symbol)), distance <= near, -distance <= near)


def answer_of(expression: pl.Expr, row: Mapping[str, Plain]) -> Plain:
    texts = ("kind", "other")
    frame = pl.DataFrame(
        {name: [value] for name, value in row.items()},
        schema={name: pl.String if name in texts else pl.Float64 for name in row},
    )
    answer: Plain = frame.select(expression).to_series().item()
    return answer


@given(rows())
@settings(max_examples=25)
def test_no_other_answer_is_possible(row: dict[str, Plain]) -> None:
    symbols, pinned = lay_out(row)
    lowering = Lowering(symbols, ExactFunctions())
    solver = z3.Solver()
    solver.add(*pinned)
    assert solver.check() == z3.sat
    for name, expression in UNDERSTOOD.items():
        answer = answer_of(expression, row)
        solver.push()
        solver.add(z3.Not(is_answer(lowering.lower(expression), answer)))
        assert solver.check() == z3.unsat, f"{name}: {row} gives {answer}"
        solver.pop()


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_not_understood_is_refused_by_name(name: str) -> None:
    expression, told = REFUSED[name]
    symbols, _ = lay_out({"a": 1.0, "b": 2.0, "c": 0.0, "few": 1.0, "more": 2.0, "kind": "ash", "other": None})
    with pytest.raises(NotUnderstood, match=told):
        Lowering(symbols, ExactFunctions()).lower(expression)


def test_a_column_that_is_not_there_is_named() -> None:
    with pytest.raises(KeyError, match="nowhere"):
        Lowering({}, ExactFunctions()).lower(pl.col("nowhere") + 1.0)


def test_rounding_of_a_measure_is_left_out() -> None:
    """Finer than any tape, as ExactFunctions says: the formula is the number itself."""
    symbol = Lowering({"b": Number(z3.Real("b"))}, ExactFunctions()).lower(pl.col("b").round(6))
    assert isinstance(symbol, Number)
    assert z3.is_true(z3.simplify(symbol.term == z3.Real("b")))
