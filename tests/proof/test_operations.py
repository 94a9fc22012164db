"""What is done with symbols, looked at one by one: guards that exclude each other, nulls that stay or are passed."""

import operator

import pytest
import z3

from mendbook.proof.functions import NotUnderstood
from mendbook.proof.operations import choose, clip, compare, divide_safely, extreme, few_cases, scaled, truth, valued
from mendbook.proof.symbols import ALWAYS, NEVER, Finite, Number, Truth, all_of, any_of, collect, constant, opposite

p, q = z3.Bools("p q")
x, y = z3.Reals("x y")


def always(claim: z3.BoolRef) -> bool:
    solver = z3.Solver()
    solver.add(z3.Not(claim))
    return bool(solver.check() == z3.unsat)


def test_guards_that_are_settled_leave_no_formula() -> None:
    assert any_of([NEVER, p]) is p
    assert any_of([p, ALWAYS]) is ALWAYS
    assert all_of([ALWAYS, p]) is p
    assert all_of([p, NEVER]) is NEVER
    assert any_of([]) is NEVER
    assert all_of([]) is ALWAYS
    assert opposite(NEVER) is ALWAYS


def test_what_leads_to_one_value_is_put_together() -> None:
    found = collect([(1.0, p), (2.0, NEVER), (1.0, q)])
    assert list(found.cases) == [1.0]
    assert always(found.cases[1.0] == z3.Or(p, q))


def test_of_chosen_values_exactly_one_guard_holds() -> None:
    one, other = Finite({1.0: q, None: z3.Not(q)}), constant(2.0)
    found = choose(p, one, other)
    assert isinstance(found, Finite)
    assert set(found.cases) == {1.0, None, 2.0}
    assert always(z3.PbEq([(guard, 1) for guard in found.cases.values()], 1))
    assert always(found.cases[None] == z3.And(p, z3.Not(q)))


def test_a_choice_between_conditions_is_a_condition() -> None:
    found = choose(p, Truth(q), Truth(NEVER))
    assert isinstance(found, Truth)
    assert always(found.guard == z3.And(p, q))


@pytest.mark.parametrize("name", ["Eq", "NotEq", "Lt", "LtEq", "Gt", "GtEq"])
def test_a_null_compares_with_nothing(name: str) -> None:
    nothing = constant(None)
    assert always(z3.Not(compare(name, nothing, constant(1.0)).guard))
    assert always(z3.Not(compare(name, Number(x), nothing).guard))
    assert always(z3.Implies(p, z3.Not(compare(name, Number(x, p), Number(y)).guard)))


def test_which_side_is_listed_makes_no_difference() -> None:
    listed, measure = Finite({1.0: p, 3.0: z3.Not(p)}), Number(x)
    below, above = compare("Lt", listed, measure), compare("Gt", measure, listed)
    assert always(below.guard == above.guard)
    assert always(below.guard == (z3.If(p, z3.RealVal(1), z3.RealVal(3)) < x))


def test_the_larger_passes_over_nulls() -> None:
    found = extreme((Number(x, p), Number(y, q)), max)
    assert isinstance(found, Number)
    assert always(found.null == z3.And(p, q))
    assert always(z3.Implies(z3.And(p, z3.Not(q)), found.term == y))
    assert always(z3.Implies(z3.And(z3.Not(p), q), found.term == x))
    assert always(z3.Implies(z3.And(z3.Not(p), z3.Not(q)), z3.And(found.term >= x, found.term >= y)))


def test_a_null_within_ends_stays_null() -> None:
    found = clip(Number(x, p), constant(0.0), constant(5.0))
    assert isinstance(found, Number)
    assert found.null is p
    assert always(z3.And(found.term >= 0, found.term <= 5))
    few = clip(Finite({None: p, 9.0: z3.Not(p)}), constant(0.0), constant(5.0))
    assert isinstance(few, Finite)
    assert {value for value, guard in few.cases.items() if not always(z3.Not(guard))} == {None, 5.0}


def test_a_number_over_one_of_a_few_is_linear() -> None:
    found = scaled(Number(x), Finite({2.0: p, 4.0: z3.Not(p)}), operator.truediv)
    assert always(z3.Implies(p, 2 * found.term == x))
    assert always(z3.Implies(z3.Not(p), 4 * found.term == x))
    assert always(z3.Not(found.null))


def test_over_nothing_there_is_no_number_of_use() -> None:
    assert divide_safely(operator.truediv, 3.0, 0.0) == 0.0
    assert divide_safely(operator.mul, 3.0, 0.0) == 0.0
    assert divide_safely(operator.truediv, 3.0, 2.0) == 1.5


def test_a_condition_counts_as_one_or_nothing() -> None:
    found = valued(Truth(p))
    assert isinstance(found, Finite)
    assert found.cases[1.0] is p
    assert truth(Truth(p)) is truth(found) is p
    with pytest.raises(NotUnderstood, match="a condition"):
        truth(constant(2.0))


def test_few_are_only_two_listed_symbols() -> None:
    one, other = constant(1.0), constant(2.0)
    assert few_cases(one, other) == (one, other)
    assert few_cases(one, Number(x)) is None
