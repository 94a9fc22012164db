"""The tree: a chart split into plain conjunctions speaks exactly where the chart, read down, does."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from mendbook.inference.lower import MOST_COMPARISONS, lower
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import (
    Bound,
    Citation,
    Line,
    Op,
    Outcome,
    Rule,
    Value,
    is_possible,
    negate,
    simplify,
    tighter,
)
from mendbook.terms.vocabulary import Subject

MEASURES = ("a", "b", "c", "d")
NUMBERS = (0.0, 1.0, 2.0, 3.0)
STEPS = tuple(n / 2.0 for n in range(-1, 8))  # on, between and beyond all NUMBERS
GRADES = ("none", "light", "deep", "through")

measured = st.builds(
    Bound,
    fact=st.sampled_from(MEASURES),
    op=st.sampled_from([Op.UP_TO, Op.BELOW, Op.AT_LEAST, Op.OVER]),
    number=st.sampled_from(NUMBERS),
)


def graded(chosen: tuple[str, ...], fact: str = "grade") -> Bound:
    return Bound(fact, Op.IN, values=chosen, others=tuple(v for v in GRADES if v not in chosen))


listed = st.sets(st.sampled_from(GRADES), min_size=1).map(lambda chosen: graded(tuple(sorted(chosen))))
bound = measured | listed
facts = st.fixed_dictionaries(
    {
        **dict.fromkeys(MEASURES, st.sampled_from(STEPS)),
        "grade": st.sampled_from(GRADES),
        "kind": st.sampled_from(GRADES),
    }
)


def line(bounds: tuple[Bound, ...]) -> Line:
    return Line(bounds, Outcome(verdict="mend"), "so", (Citation("house", "so"),), 1)


@st.composite
def charts(draw: st.DrawFn) -> Rule:
    rows = draw(st.lists(st.lists(bound, min_size=1, max_size=4).map(tuple), min_size=1, max_size=5))
    kinds = draw(st.sets(st.sampled_from(GRADES), min_size=1))
    return Rule(
        id="drawn", name="drawn", asks="", file="drawn.yaml", stage="look", subject=Subject.TYRE,
        applies=(graded(tuple(sorted(kinds)), "kind"),), lines=tuple(map(line, (*rows, ()))), is_chart=True,
    )  # fmt: skip


def holds(bounds: tuple[Bound, ...], row: dict[str, Value]) -> bool:
    return all(b.holds(row[b.fact]) for b in bounds)


@given(charts(), facts)
def test_exactly_one_condition_holds_where_a_chart_speaks_and_it_names_the_same_line(
    rule: Rule, row: dict[str, Value]
) -> None:
    said = [index for index, bounds in rule.exclusive_conditions() if holds(bounds, row)]
    spoken = rule.speaks(row)
    assert said == ([] if spoken is None else [spoken])


@given(charts(), facts)
def test_lowered_patterns_are_as_exclusive_as_the_conditions(rule: Rule, row: dict[str, Value]) -> None:
    compare = {"$lte": Op.UP_TO, "$lt": Op.BELOW, "$gte": Op.AT_LEAST, "$gt": Op.OVER}

    def fits(condition: dict[str, object]) -> bool:
        ((key, against),) = condition.items()
        if key not in compare:
            return row[key] == against
        assert isinstance(against, dict)
        ((fact, number),) = against.items()
        return Bound(fact, compare[key], number).holds(row[fact])

    said = [pattern.line for pattern in lower(rule) if all(map(fits, pattern.conditions))]
    spoken = rule.speaks(row)
    assert said == ([] if spoken is None else [spoken])


@given(bound, facts)
def test_a_bound_or_its_opposite_holds_and_never_both(one: Bound, row: dict[str, Value]) -> None:
    assert one.holds(row[one.fact]) is not negate(one).holds(row[one.fact])
    back = negate(negate(one))
    assert (back.op, back.number, back.values) == (one.op, one.number, one.values)


@given(st.lists(bound, max_size=8).map(tuple), facts)
def test_simplified_bounds_hold_where_all_of_them_did(bounds: tuple[Bound, ...], row: dict[str, Value]) -> None:
    fewer = simplify(bounds)
    assert holds(fewer, row) is holds(bounds, row)
    assert len(fewer) <= len(bounds)
    assert simplify(fewer) == fewer
    sides = [(b.fact, b.op in (Op.UP_TO, Op.BELOW)) for b in fewer]
    assert len(set(sides)) == len(sides)


@given(st.lists(bound, max_size=6).map(tuple), facts)
def test_bounds_that_hold_somewhere_are_possible(bounds: tuple[Bound, ...], row: dict[str, Value]) -> None:
    if holds(bounds, row):
        assert is_possible(simplify(bounds))


@given(st.lists(bound, max_size=6).map(tuple))
def test_possible_bounds_hold_somewhere(bounds: tuple[Bound, ...]) -> None:
    somewhere = all(
        any(holds(tuple(b for b in bounds if b.fact == fact), {fact: value}) for value in values)
        for fact, values in ((*((m, STEPS) for m in MEASURES), ("grade", GRADES)))
    )
    assert is_possible(simplify(bounds)) is somewhere


@given(measured, measured, facts)
def test_the_tighter_of_two_bounds_implies_both(one: Bound, other: Bound, row: dict[str, Value]) -> None:
    upper = (Op.UP_TO, Op.BELOW)
    assume((one.op in upper) is (other.op in upper))
    value = row["a"]
    assert tighter(one, other).holds(value) is (one.holds(value) and other.holds(value))


def test_a_line_below_a_line_that_always_fits_is_never_reached() -> None:
    always = line((Bound("a", Op.AT_LEAST, 0.0), Bound("a", Op.UP_TO, 3.0)))
    rule = Rule("r", "r", "", "r.yaml", "look", Subject.TYRE, (), (always, line(())), is_chart=True)
    assert [rule.speaks({"a": n}) for n in (0.0, 3.0, 4.0)] == [0, 0, 1]


# The shipped book.


def test_no_pattern_of_the_shipped_book_compares_more_than_durable_rules_can_hold(book: Rulebook) -> None:
    # One comparison more is that with the row, which every pattern carries.
    assert max(1 + len(pattern.conditions) for rule in book.rules for pattern in lower(rule)) <= MOST_COMPARISONS


def test_the_shipped_book_lowers_to_a_number_of_patterns_that_a_session_can_hold(book: Rulebook) -> None:
    numbers = {rule.id: len(lower(rule)) for rule in book.rules}
    assert len(book.rules) <= sum(numbers.values()) <= 20 * len(book.rules)
    assert max(numbers.values()) <= 400, max(numbers, key=numbers.__getitem__)


def test_no_line_of_the_shipped_book_is_out_of_reach(book: Rulebook) -> None:
    for rule in book.rules:
        reached = {index for index, bounds in rule.exclusive_conditions() if is_possible(bounds)}
        assert reached == set(range(len(rule.lines))), rule.id


def test_every_listed_bound_of_the_shipped_book_knows_the_rest_of_its_list(book: Rulebook) -> None:
    for rule in book.rules:
        for one in (*rule.applies, *(b for row in rule.lines for b in row.bounds)):
            if one.op is Op.IN:
                assert {*one.values, *one.others} == set(book.vocabulary[one.fact].values)
                assert len(one.values) + len(one.others) == len(book.vocabulary[one.fact].values)


@pytest.mark.parametrize("op", [Op.UP_TO, Op.BELOW, Op.AT_LEAST, Op.OVER])
@pytest.mark.parametrize("value", [2.0 - 1e-12, 2.0, 2.0 + 1e-12])
def test_a_bound_is_exact_at_its_number(op: Op, value: float) -> None:
    want = {Op.UP_TO: value <= 2.0, Op.BELOW: value < 2.0, Op.AT_LEAST: value >= 2.0, Op.OVER: value > 2.0}
    assert Bound("a", op, 2.0).holds(value) is want[op]
