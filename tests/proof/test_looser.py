"""The regions in which one rule says less than another, against the plain question asked at drawn facts."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.proof.loosenings import scale_of
from mendbook.proof.looser import Scale, find_less, is_smaller, lacking
from mendbook.rulebook.tree import Bound, Citation, Line, Op, Outcome, Rule
from mendbook.terms.vocabulary import Subject
from tests.rulebook.ladders import open_ladders, write_book

KINDS, ROTS = ("ash", "spruce", "metal"), ("none", "light", "deep", "through")
NUMBERS = st.sampled_from([0.0, 10.0, 25.0, 60.0, 100.0])
HOUSE, LAW = Citation("house", "x"), Citation("law", "x")


def lists(fact: str, values: tuple[str, ...]) -> st.SearchStrategy[Bound]:
    chosen = st.sets(st.sampled_from(values), min_size=1).map(lambda some: tuple(v for v in values if v in some))
    return chosen.map(
        lambda some: Bound(fact, Op.IN, values=some, others=tuple(v for v in values if v not in some))
    )  # fmt: skip


BOUNDS = st.one_of(
    lists("kind", KINDS),
    lists("rot", ROTS),
    st.builds(Bound, st.just("crack length"), st.sampled_from([Op.UP_TO, Op.BELOW, Op.OVER, Op.AT_LEAST]), NUMBERS),
    st.builds(Bound, st.just("wood left"), st.sampled_from([Op.UP_TO, Op.BELOW, Op.OVER, Op.AT_LEAST]), NUMBERS),
)
OUTCOMES = st.builds(
    Outcome,
    verdict=st.sampled_from([None, "keep", "mend", "scrap"]),
    hold=st.sampled_from([None, "Look."]),
    cap=st.sampled_from([(), (("load", "40 kg"),), (("load", "50 kg"),)]),
)
LINES = st.builds(
    Line, st.lists(BOUNDS, max_size=3).map(tuple), OUTCOMES, st.just("So."), st.sampled_from([(HOUSE,), (LAW,)]),
    st.just(1),
)  # fmt: skip
RULES = st.builds(
    Rule,
    id=st.just("a"), name=st.just("a"), asks=st.just("?"), file=st.just("a.yaml"), stage=st.just("look"),
    subject=st.just(Subject.INJURY), applies=st.lists(lists("kind", KINDS), max_size=2).map(tuple),
    lines=st.lists(LINES, min_size=1, max_size=4).map(tuple), is_chart=st.just(True),
)  # fmt: skip
FACTS = st.fixed_dictionaries(
    {
        "kind": st.sampled_from(KINDS),
        "rot": st.sampled_from(ROTS),
        "crack length": st.sampled_from([0.0, 5.0, 10.0, 24.9, 25.0, 25.1, 60.0, 99.0, 100.0, 900.0]),
        "wood left": st.sampled_from([0.0, 5.0, 10.0, 24.9, 25.0, 25.1, 60.0, 99.0, 100.0]),
    }
)


@pytest.fixture(scope="module")
def scale(tmp_path_factory: pytest.TempPathFactory) -> Scale:
    folder = tmp_path_factory.mktemp("ladders")
    write_book(folder)
    return replace(scale_of(open_ladders(folder)), laws=frozenset({"law"}))


@settings(max_examples=100)
@given(then=RULES, now=st.none() | RULES, drawn=st.lists(FACTS, min_size=12, max_size=12))
def test_the_regions_are_exactly_where_it_says_less(
    scale: Scale, then: Rule, now: Rule | None, drawn: list[dict[str, float | str]]
) -> None:
    found = list(find_less(then, now, scale))
    for facts in drawn:
        spoke = then.speaks(facts)
        speaks = None if now is None else now.speaks(facts)
        line = None if speaks is None or now is None else now.lines[speaks]
        lacks = () if spoke is None else lacking(then.lines[spoke], line, scale)
        inside = [less for less in found if all(bound.holds(facts[bound.fact]) for bound in less.box)]
        assert len(inside) == (1 if lacks else 0)
        assert all((less.lacks, less.now) == (lacks, line) for less in inside)


@given(rule=RULES)
def test_a_rule_says_no_less_than_itself(scale: Scale, rule: Rule) -> None:
    assert list(find_less(rule, rule, scale)) == []


def test_a_rule_that_no_longer_speaks_of_each_place_says_less(scale: Scale) -> None:
    rule = Rule(
        "a", "a", "?", "a.yaml", "look", Subject.INJURY, (), (Line((), Outcome("mend"), "So.", (HOUSE,), 1),), True
    )
    [less] = find_less(rule, replace(rule, subject=Subject.TYRE), scale)
    assert less.lacks == ("what it says of each place",)


@pytest.mark.parametrize(
    ("cap", "other", "smaller"),
    [("40 kg", "50 kg", True), ("50 kg", "50 kg", True), ("50.5 kg", "50 kg", False), ("40 kg", "50 t", None),
     ("half", "half", True), ("half", "most", None), ("3 %", "half", None), ("-5 mm", "-4 mm", True)],
)  # fmt: skip
def test_caps_are_compared_in_one_unit(cap: str, other: str, smaller: bool | None) -> None:
    assert is_smaller(cap, other) is smaller
