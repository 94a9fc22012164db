"""What is handed to durable-rules: conjunctions of comparisons with constants, and nothing else."""

import json
import math
from inspect import signature
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.inference.lower import LEAST, MOST, MOST_COMPARISONS, MOST_MATCHES, ROW, lower, plain, ruleset
from mendbook.inference.session import Session, is_available
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.tree import Bound, Line, Op, Outcome, Rule
from mendbook.terms.vocabulary import Subject
from tests.columns.rows import groups


def chart(*rows: tuple[Bound, ...]) -> Rule:
    lines = tuple(Line(row, Outcome(verdict="mend"), "so", (), 7 + n) for n, row in enumerate((*rows, ())))
    return Rule("chart", "chart", "", "rails/chart.yaml", "look", Subject.TYRE, (), lines, is_chart=True)


def nothing(_: Any) -> None: ...


def test_a_list_becomes_a_pattern_for_each_value_and_never_an_or() -> None:
    # $or fires the action once for each branch that holds.
    two = Bound("kind", Op.IN, values=("ash", "spruce"), others=("metal",))
    patterns = lower(chart((two, Bound("length", Op.UP_TO, 60.0))))
    assert [(p.line, p.conditions) for p in patterns] == [
        (0, ({"kind": "ash"}, {"$lte": {"length": 60.0}})),
        (0, ({"kind": "spruce"}, {"$lte": {"length": 60.0}})),
        (1, ({"kind": "metal"},)),
        (1, ({"kind": "ash"}, {"$gt": {"length": 60.0}})),
        (1, ({"kind": "spruce"}, {"$gt": {"length": 60.0}})),
    ]


def test_a_line_that_needs_too_many_comparisons_is_refused_with_its_place() -> None:
    # durable-rules reads past its buffer beyond 32; the row takes one of them.
    def wide(number: int) -> Rule:
        return chart(tuple(Bound(f"fact {n}", Op.UP_TO, 1.0) for n in range(number)))

    assert len(lower(wide(MOST_COMPARISONS - 1))[0].conditions) == MOST_COMPARISONS - 1
    with pytest.raises(RulebookError, match=r"rails/chart\.yaml:7: this line and those above it compare 32 facts"):
        lower(wide(MOST_COMPARISONS))


def test_every_definition_of_the_shipped_book_stays_inside_the_walls(book: Rulebook) -> None:
    compare = {"$lte", "$lt", "$gte", "$gt"}
    for _, rules in groups(book):
        definition = ruleset((pattern for rule in rules for pattern in lower(rule)), lambda _: nothing)
        for name, entry in definition.items():
            # No joins: a rule that matches two facts reads past its buffer when many rules are present.
            assert [list(fact) for fact in entry["all"]] == [["m"]]
            # A second parameter would make the action asynchronous.
            assert len(signature(entry["run"]).parameters) == 1
            wanted = entry["all"][0]["m"]
            if name == "seen":
                assert wanted == {"$gte": {ROW: 0}}
                continue
            # One conjunction of comparisons, each with a constant: field against field gave a wrong answer.
            assert list(wanted) == ["$and"]
            assert len(wanted["$and"]) <= MOST_COMPARISONS
            for condition in wanted["$and"]:
                ((key, against),) = condition.items()
                if key in compare:
                    ((fact, number),) = against.items()
                    assert fact == ROW or not book.vocabulary[fact].is_listed
                    assert isinstance(number, int | float)
                else:
                    assert against in book.vocabulary[key].values
        # No exponent, no null: durable-rules refuses the one and crashes on the other.
        written = json.dumps([entry["all"] for entry in definition.values()])
        assert "null" not in written
        assert not any(mark in written for mark in ("e-", "e+", "NaN", "Infinity"))


def test_every_ruleset_of_the_shipped_book_keeps_below_the_most_that_one_fact_may_match(
    book: Rulebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Error 303 beyond 64. At most one pattern of a rule matches a fact, and the rule that catches every fact does.
    if not is_available():  # the sets that it counts are made by a session of durable-rules alone
        pytest.skip("durable-rules cannot be imported here (Python 3.13 and later)")
    sizes: list[int] = []

    def counted(patterns: Any, on_match: Any) -> dict[str, Any]:
        patterns = list(patterns)
        sizes.append(len({pattern.rule for pattern in patterns}) + 1)
        return ruleset(patterns, on_match)

    monkeypatch.setattr("mendbook.inference.session.ruleset", counted)
    for _, rules in groups(book):
        Session(rules)
    assert sum(sizes) - len(sizes) == len(book.rules)
    assert max(sizes) <= MOST_MATCHES
    assert len(sizes) > len(groups(book))  # one stage has more rules than a ruleset may hold


@given(st.floats(allow_nan=False))
def test_no_number_is_written_with_an_exponent(number: float) -> None:
    written = json.dumps(plain(number))
    assert "e" not in written.lower().replace("infinity", "e")
    assert math.copysign(1.0, plain(number)) == math.copysign(1.0, number) or number == 0.0


@given(st.floats(LEAST, MOST))
def test_a_number_of_the_trade_is_handed_over_unrounded(number: float) -> None:
    # Rounding here would let the two evaluators differ at a limit.
    assert plain(number) == number
    assert plain(-number) == -number


def test_nothing_is_nothing_and_what_is_no_number_is_refused() -> None:
    assert [math.copysign(1.0, plain(zero)) for zero in (0, 0.0, -0.0)] == [1.0, 1.0, 1.0]
    assert plain(5e-5) == LEAST
    assert plain(-5e-5) == -LEAST
    with pytest.raises(ValueError, match="not a number"):
        plain(math.nan)
