"""Worse is never milder: shown of a sound book of another trade, and each way to break it is found where it stands."""

from collections.abc import Callable
from dataclasses import replace

import polars as pl
import pytest

from mendbook.proof.order import Milder, Pair
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Op, Outcome, Rule
from mendbook.terms.vocabulary import Vocabulary, Worse

CRACK, ROTTEN, GLUE = "rails/crack", "rails/rot", "mending/glue"


def found(book: Rulebook) -> list[tuple[str, int, str, tuple[str, ...]]]:
    return [(one.rule.id, one.line, one.says, one.differs) for one in Pair(book).find_milder()]


def changed(book: Rulebook, rule_id: str, change: Callable[[Rule], Rule]) -> Rulebook:
    assert rule_id in book.by_id()
    return replace(book, rules=tuple(change(rule) if rule.id == rule_id else rule for rule in book.rules))


def saying(place: int, outcome: Outcome) -> Callable[[Rule], Rule]:
    """Let a line of a rule say something else."""

    def change(rule: Rule) -> Rule:
        lines = list(rule.lines)
        lines[place] = replace(lines[place], outcome=outcome)
        return replace(rule, lines=tuple(lines))

    return change


def bounded(place: int, *bounds: Bound) -> Callable[[Rule], Rule]:
    """Let a line of a rule have other bounds."""

    def change(rule: Rule) -> Rule:
        lines = list(rule.lines)
        lines[place] = replace(lines[place], bounds=bounds)
        return replace(rule, lines=tuple(lines))

    return change


def alone(book: Rulebook, rule_id: str) -> Rulebook:
    return replace(book, rules=tuple(rule for rule in book.rules if rule.id == rule_id))


def rot(*values: str) -> Bound:
    others = tuple(value for value in ("none", "light", "deep", "through") if value not in values)
    return Bound("rot", Op.IN, values=values, others=others)


def test_a_sound_book_loses_nothing(ladders: Rulebook) -> None:
    assert found(ladders) == []


def test_a_verdict_that_gets_milder_is_found(ladders: Rulebook) -> None:
    """A longer crack is kept where a shorter one is mended."""
    broken = changed(ladders, CRACK, saying(2, Outcome(verdict="keep")))
    assert {(rule, line, says) for rule, line, says, _ in found(broken)} == {(CRACK, 1, "mend")}
    [milder] = Pair(broken).find_milder()
    assert milder.rank == 1
    assert set(milder.differs) & {"crack length", "rot"}
    assert set(milder.differs) <= {"crack length", "rot", "wood left"}


def test_another_rule_that_says_as_much_makes_up_for_it(ladders: Rulebook) -> None:
    """Rot that scraps a rail by its own rule may be passed over by the chart of cracks."""
    kept = changed(alone(ladders, ROTTEN), ROTTEN, bounded(0, rot("deep", "through")))
    assert found(kept) == []
    narrow = changed(kept, ROTTEN, bounded(0, rot("deep")))
    assert found(narrow) == [(ROTTEN, 0, "mend", ("rot",)), (ROTTEN, 0, "scrap", ("rot",))]
    [rule] = narrow.rules
    other = replace(rule, id="rails/more", lines=(replace(rule.lines[0], bounds=(rot("through"),)),))
    assert found(replace(narrow, rules=(rule, other))) == []


@pytest.mark.parametrize("word", ["hold", "stop"])
def test_a_hold_or_a_stop_that_is_dropped_is_found(word: str, ladders: Rulebook) -> None:
    said = Outcome(hold="Look again.") if word == "hold" else Outcome(stop="Get down.")
    speaks = changed(alone(ladders, ROTTEN), ROTTEN, saying(0, said))
    assert found(speaks) == []
    short = changed(speaks, ROTTEN, bounded(0, Bound("crack length", Op.UP_TO, 5.0)))
    assert found(short) == [(ROTTEN, 0, word, ("crack length",))]


@pytest.mark.parametrize("instead", [Outcome(stop="Get down."), Outcome(verdict="scrap")])
def test_something_stricter_may_take_the_place_of_a_hold(instead: Outcome, ladders: Rulebook) -> None:
    [rule] = alone(ladders, ROTTEN).rules
    short = replace(rule.lines[0], bounds=(Bound("crack length", Op.UP_TO, 5.0),), outcome=Outcome(hold="Look."))
    long = replace(rule.lines[0], bounds=(Bound("crack length", Op.OVER, 5.0),), outcome=instead)
    rules = (replace(rule, lines=(short,)), replace(rule, id="rails/long", lines=(long,)))
    assert found(replace(ladders, rules=rules)) == []


@pytest.mark.parametrize(("anyway", "lost"), [("scrap", []), ("mend", [(ROTTEN, 0, "hold", ("crack length",))])])
def test_what_has_the_severest_verdict_anyway_needs_no_hold(
    anyway: str, lost: list[tuple[str, int, str, tuple[str, ...]]], ladders: Rulebook
) -> None:
    [rule] = alone(ladders, ROTTEN).rules
    short = replace(rule.lines[0], bounds=(Bound("crack length", Op.UP_TO, 5.0),), outcome=Outcome(hold="Look."))
    always = replace(rule.lines[0], bounds=(), outcome=Outcome(verdict=anyway))
    rules = (replace(rule, lines=(short,)), replace(rule, id="rails/always", lines=(always,)))
    assert found(replace(ladders, rules=rules)) == lost


@pytest.mark.parametrize("is_scale", [True, False])
def test_a_fact_that_tells_the_verdict_was_said_by_some_rule(is_scale: bool, ladders: Rulebook) -> None:
    """What is mended is held: once it is scrap nobody need look, but only when the fact tells that very verdict."""
    [rule] = alone(ladders, ROTTEN).rules
    values = ladders.verdicts if is_scale else ("fine", "mend", "worn")
    facts = {**ladders.vocabulary.facts, "class": replace(ladders.vocabulary["rot"], name="class", values=values)}
    mended = Bound("class", Op.IN, values=("mend",), others=(values[0], values[2]))
    held = replace(rule.lines[0], bounds=(mended,), outcome=Outcome(hold="Look."))
    chart = ladders.by_id()[CRACK]
    book = replace(
        ladders,
        vocabulary=Vocabulary(facts, ladders.vocabulary.synonyms),
        rules=(replace(rule, applies=(), lines=(held,)), replace(chart, applies=())),
    )
    assert [(rule, says) for rule, _, says, _ in found(book)] == ([] if is_scale else [(ROTTEN, "hold")])


def test_a_milder_thing_may_not(ladders: Rulebook) -> None:
    [rule] = alone(ladders, ROTTEN).rules
    short = replace(rule.lines[0], bounds=(Bound("crack length", Op.UP_TO, 5.0),), outcome=Outcome(hold="Look."))
    long = replace(rule.lines[0], bounds=(Bound("crack length", Op.OVER, 5.0),), outcome=Outcome(do=("Sand it.",)))
    rules = (replace(rule, lines=(short,)), replace(rule, id="rails/long", lines=(long,)))
    assert found(replace(ladders, rules=rules)) == [(ROTTEN, 0, "hold", ("crack length",))]


def test_a_fact_that_is_worse_in_neither_direction_never_differs(ladders: Rulebook) -> None:
    """Damp has a window, in which alone the glue is ruled out: let it give a verdict, and nothing is milder."""
    window = changed(alone(ladders, GLUE), GLUE, saying(0, Outcome(verdict="scrap")))
    assert found(window) == []
    [damp] = (fact for fact in ladders.vocabulary if fact.name == "damp")
    facts = {**ladders.vocabulary.facts, "damp": replace(damp, worse=Worse.BIGGER)}
    directed = replace(window, vocabulary=Vocabulary(facts, ladders.vocabulary.synonyms))
    assert found(directed) == [(GLUE, 0, "mend", ("damp",)), (GLUE, 0, "scrap", ("damp",))]


def narrow_rot(book: Rulebook) -> Rulebook:
    return changed(alone(book, ROTTEN), ROTTEN, bounded(0, rot("deep")))


def says(milders: list[Milder]) -> list[str]:
    return [milder.says for milder in milders]


def test_a_fact_that_is_held_is_the_same_in_both(ladders: Rulebook) -> None:
    assert says(list(Pair(narrow_rot(ladders)).find_milder())) == ["mend", "scrap"]
    assert list(Pair(narrow_rot(ladders), held={"rot"}).find_milder()) == []


def test_what_a_fact_follows_from_narrows_it(ladders: Rulebook) -> None:
    """Rot that is never more than deep is never past a rule of deep rot; rot that goes through is."""
    length = pl.col("crack length")
    to_deep = pl.when(length > 100.0).then(pl.lit("deep")).otherwise(pl.lit("none"))
    through = pl.when(length > 500.0).then(pl.lit("through")).otherwise(to_deep)
    assert list(Pair(narrow_rot(ladders), definitions={"rot": to_deep}).find_milder()) == []
    assert says(list(Pair(narrow_rot(ladders), definitions={"rot": through}).find_milder())) == ["mend", "scrap"]
