"""A slip in what the book orders, or a line that nothing reaches, is found, with cases that triage bears out."""

from itertools import islice

import pytest

from mendbook.audit.claims import Claim
from mendbook.audit.finder import Finder
from mendbook.audit.living import show_living
from mendbook.audit.ordered import follow, show_order, spell_turn
from mendbook.audit.proofs import answer
from mendbook.audit.witness import Witness, read_witness
from mendbook.rulebook.book import Rulebook
from mendbook.triage import judge
from mendbook.triage.shop import set_up
from tests.audit.breaks import saying, with_number, with_rule

STEPPED = frozenset({"reaches"})  # followed value by value instead
RESERVE, EDGE = "any_zone/factors_below_floor", "any_zone/near_class_edge"


def cases(claim: Claim) -> tuple[Witness, ...]:
    """Return the cases of the first failure of a claim that does not hold."""
    assert not claim.holds
    return claim.failures[0].cases


def test_a_line_that_nothing_reaches_is_told_from_one_that_speaks(finder: Finder) -> None:
    guards = [
        speech.lines[place][0]
        for place in (RESERVE, EDGE)
        for speech in finder.relations.speech.values()
        if place in speech.lines
    ]
    assert finder.find_impossible(guards) == [True, False]


@pytest.mark.long
def test_a_line_is_dead_unless_its_rule_is_in_reserve(book: Rulebook) -> None:
    """And a rule that speaks is in no reserve."""
    changed = with_rule(with_rule(book, RESERVE, in_reserve=""), EDGE, in_reserve="nobody knows")
    broken = set_up(changed)
    said = [failure.says for failure in show_living(broken, Finder(broken)).failures]
    assert len(said) == 2
    assert any("factors_below_floor" in one and "no case that can be written down" in one for one in said)
    assert any("near_class_edge" in one and "it speaks" in one for one in said)


@pytest.mark.long
def test_a_verdict_milder_further_down_is_shown_by_two_cases(book: Rulebook) -> None:
    broken = set_up(saying(book, "sidewall/through_steel_radial", -1, verdict="spot"))
    rules, _ = islice(show_order(broken, Finder(broken)), 2)
    better, worse = (answer(witness, broken).verdict for witness in cases(rules))
    assert better is not None
    assert worse is not None
    assert book.rank(worse) < book.rank(better)


@pytest.mark.long
def test_a_hold_lost_further_down_is_shown_by_two_cases(book: Rulebook) -> None:
    rule = next(rule for rule in book.rules if rule.id == "casing/heat_suspected")
    line = rule.lines[0]
    bound = next(bound for bound in line.bounds if bound.fact == "heat event")
    narrow = type(bound)(bound.fact, bound.op, values=("suspected",), others=("none", "confirmed"))
    bounds = tuple(narrow if one is bound else one for one in line.bounds)
    broken = set_up(with_rule(book, rule.id, lines=(type(line)(bounds, line.outcome, line.because, line.sources, 1),)))
    rules, _ = islice(show_order(broken, Finder(broken)), 2)
    held = [
        rule.id in {f.rule for f in judge(read_witness(one, book.vocabulary), broken, law=one.law).findings}
        for one in cases(rules)
    ]
    assert held == [True, False]


def test_a_limit_that_grows_with_age_is_named(book: Rulebook) -> None:
    slipped = set_up(with_number(book, "limits/age_factor", -1, 0.97))
    turns = {turn.column: turn for turn in follow(slipped, STEPPED).turns}
    assert spell_turn(turns["age factor"]).startswith(
        "'age factor' runs both ways while what it follows from gets worse"
    )
    for way in (turns["age factor"], turns["age factor"].other_way):
        assert way is not None
        assert float(way.first["age"]) < float(way.second["age"])
