"""Every hold of the shipped book can be cleared: at the level of its rule, and never a stop or a rejection by law."""

from collections.abc import Iterator
from typing import Any

import pytest

from mendbook.folders import folder
from mendbook.proof.clearing import find_lasting_holds
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.tree import Bound, Op, Rule, Value
from mendbook.terms.case import Case
from mendbook.terms.case_model import case_model

BOOK = open_book(folder("rules"), folder("knowledge"))
STEP = 1.0  # far enough past any limit of the book, in its own unit


def holding_lines() -> Iterator[tuple[Rule, int]]:
    yield from ((rule, place) for rule in BOOK.rules for place, line in enumerate(rule.lines) if line.outcome.hold)


LINES = list(holding_lines())


def cleared(way: tuple[Bound, ...]) -> dict[str, Value]:
    """Return one value for each fact of `way` that lies within it, as near to its limit as it may."""
    near = {Op.UP_TO: 0.0, Op.AT_LEAST: 0.0, Op.BELOW: -STEP, Op.OVER: STEP}
    return {b.fact: b.values[0] if b.op is Op.IN else b.number + near[b.op] for b in way}


def test_there_are_many_holds() -> None:
    assert len(LINES) > 70


@pytest.mark.parametrize(("rule", "place"), LINES, ids=[f"{rule.id}:{place}" for rule, place in LINES])
def test_the_look_that_a_hold_names_clears_it(rule: Rule, place: int) -> None:
    held = [example.facts for example in rule.examples if rule.speaks(example.facts) == place]
    assert held
    assert rule.lines[place].outcome.cleared_by
    for facts in held:
        for way in rule.lines[place].outcome.cleared_by:
            spoken = rule.speaks({**facts, **cleared(way)})
            assert spoken is None or rule.lines[spoken].outcome.hold is None


def test_no_way_to_clear_a_hold_leaves_any_case_held(book: Rulebook) -> None:
    assert list(find_lasting_holds(book)) == []


def test_every_fact_that_clears_a_hold_is_written_somewhere_in_the_case(book: Rulebook) -> None:
    model = case_model(book.vocabulary)
    fields = {field.alias or name for name, field in model.model_fields.items()}
    for fact in book.vocabulary:
        if fact.follows:
            *section, name = fact.follows
            assert name in (names_of(model, section[0]) if section else fields), fact.name


def names_of(model: type[Case], section: str) -> set[str]:
    part: Any = model.model_fields[section].annotation
    return {field.alias or name for name, field in part.model_fields.items()}


def test_looks_are_not_done_until_somebody_writes_them(book: Rulebook) -> None:
    looks = [fact for fact in book.vocabulary if fact.is_look]
    assert len(looks) == 22
    assert {fact.missing for fact in looks} == {"not done", "not asked", "not shown", "not looked up"}
    assert all(len(fact.values) == 3 and fact.is_given and fact.measure for fact in looks)


def test_every_look_clears_a_hold_and_a_bad_one_is_never_silent(book: Rulebook) -> None:
    """A bad look leaves the hold, and all but the permit and the papers reject by a rule of their own."""
    cleared_by = {b.fact for rule, place in LINES for way in rule.lines[place].outcome.cleared_by for b in way}
    rejecting = {
        bound.fact
        for rule in book.rules
        for line in rule.lines
        for bound in line.bounds
        if line.outcome.verdict == book.verdicts[-1]
        and book.vocabulary[bound.fact].is_look
        and bound.values == (book.vocabulary[bound.fact].values[-1],)
    }
    looks = {fact.name for fact in book.vocabulary if fact.is_look}
    assert looks <= cleared_by
    assert looks - rejecting == {"overload permit", "age record"}


def test_no_look_clears_a_stop_or_a_rejection(book: Rulebook) -> None:
    """A look stands only in lines that hold, and where it turned out badly; so a good one takes no verdict away."""
    for rule in book.rules:
        for line in rule.lines:
            for bound in (*rule.applies, *line.bounds):
                fact = book.vocabulary[bound.fact]
                if fact.is_look and not line.outcome.hold:
                    assert line.outcome.verdict == book.verdicts[-1], rule.id
                    assert line.outcome.stop is None, rule.id
                    assert bound.values == (fact.values[-1],), rule.id
                    assert book.sources[line.sources[0].source].kind != "law", rule.id
                if fact.is_look and line.outcome.hold:
                    assert line.outcome.words() == ("hold",), rule.id
