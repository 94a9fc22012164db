"""Functions known by their order alone: the real ones keep it, and it is enough to show that an order is kept."""

import math
from collections.abc import Callable, Mapping

import pytest
import z3
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.proof.functions import ExactFunctions, NotUnderstood, OrderedFunctions
from mendbook.proof.symbols import exact

# Quarters within a right angle, so that the tangent rises too.
QUARTERS = st.integers(-6, 6).map(lambda n: n / 4)
NUMBERS = st.lists(st.tuples(QUARTERS, QUARTERS), min_size=2, max_size=2)
SMOOTH: Mapping[str, Callable[[float], float]] = {
    "round 0": lambda value: float(round(value)),
    "round 1": lambda value: round(value, 1),
    "floor": lambda value: float(math.floor(value)),
    "ceil": lambda value: float(math.ceil(value)),
    "tan": math.tan,
    "square": lambda value: value * value,
}
FROM_NOTHING_UP: Mapping[str, Callable[[float], float]] = {"sqrt": math.sqrt, "log": lambda value: math.log(value + 1)}


def is_true_of(functions: OrderedFunctions, results: Mapping[z3.ArithRef, float]) -> bool:
    """Whether all that is said of the results holds when each is what the real function gives."""
    real = [(term, exact(value)) for term, value in results.items()]
    return all(z3.is_true(z3.simplify(z3.substitute(said, *real))) for said in functions.conditions())


@given(NUMBERS)
@settings(max_examples=20)
def test_what_is_said_is_true_of_the_real_functions(drawn: list[tuple[float, float]]) -> None:
    functions = OrderedFunctions()
    results: dict[z3.ArithRef, float] = {}
    for one, other in drawn:
        first, second = exact(one), exact(other)
        results[functions.product(first, second)] = one * other
        results[functions.quotient(first, second)] = one / other if other else 0.0
        for name, work in SMOOTH.items():
            results[functions.smooth(name, first)] = work(one)
        for name, work in FROM_NOTHING_UP.items():
            results[functions.smooth(name, exact(abs(one)))] = work(abs(one))
    assert len(functions.conditions()) > len(results)
    assert is_true_of(functions, results)


def test_a_wrong_result_is_told_apart() -> None:
    """The check above can fail."""
    functions = OrderedFunctions()
    small, large = (functions.smooth("tan", exact(value)) for value in (0.5, 1.0))
    assert is_true_of(functions, {small: 0.5, large: 1.5})
    assert not is_true_of(functions, {small: 1.5, large: 0.5})


def follows(functions: OrderedFunctions, known: list[z3.BoolRef], claim: z3.BoolRef) -> bool:
    solver = z3.Solver()
    solver.add(*functions.conditions(), *known, z3.Not(claim))
    return bool(solver.check() == z3.unsat)


@pytest.mark.parametrize("name", [*SMOOTH, *FROM_NOTHING_UP])
def test_a_rising_function_is_shown_to_rise(name: str) -> None:
    functions, (x, y) = OrderedFunctions(), z3.Reals("x y")
    one, other = functions.smooth(name, x), functions.smooth(name, y)
    assert follows(functions, [x >= 0, x <= y], one <= other)
    assert not follows(functions, [x >= 0, x <= y], one == other)
    assert follows(functions, [x <= y], one <= other) is (name != "square")


def test_a_product_rises_where_nothing_is_below_nothing() -> None:
    functions, (x, y, u, v) = OrderedFunctions(), z3.Reals("x y u v")
    one, other = functions.product(x, y), functions.product(u, v)
    assert follows(functions, [x >= 0, y >= 0, x <= u, y <= v], one <= other)
    assert not follows(functions, [x <= u, y <= v], one <= other)


def test_a_quotient_falls_with_what_it_is_divided_by() -> None:
    functions, (x, y, u, v) = OrderedFunctions(), z3.Reals("x y u v")
    one, other = functions.quotient(x, y), functions.quotient(u, v)
    assert follows(functions, [x >= 0, v > 0, x <= u, y >= v], one <= other)
    assert not follows(functions, [x >= 0, y > 0, x <= u, y <= v], one <= other)


def test_a_result_is_asked_for_once() -> None:
    functions, (x, y) = OrderedFunctions(), z3.Reals("x y")
    assert functions.product(x, y) is functions.product(x, y)
    assert functions.smooth("floor", x) is functions.smooth("floor", x)
    assert functions.smooth("floor", x) is not functions.smooth("ceil", x)


@given(st.integers(-40, 40).map(lambda n: n / 8), st.integers(-40, 40).map(lambda n: n / 8))
@settings(max_examples=25)
def test_exact_functions_give_the_number_itself(one: float, other: float) -> None:
    functions, first, second = ExactFunctions(), exact(one), exact(other)
    expected = [
        (functions.product(first, second), first * second),
        (functions.quotient(first, second), first / second if other else z3.RealVal(0)),
        (functions.smooth("floor", first), exact(math.floor(one))),
        (functions.smooth("ceil", first), exact(math.ceil(one))),
        (functions.smooth("square", first), exact(one * one)),
    ]
    for found, real in expected:
        assert z3.is_true(z3.simplify(found == real))


@pytest.mark.parametrize("curve", ["tan", "sqrt", "log"])
def test_exact_functions_refuse_a_curve(curve: str) -> None:
    with pytest.raises(NotUnderstood, match=curve):
        ExactFunctions().smooth(curve, z3.Real("x"))
