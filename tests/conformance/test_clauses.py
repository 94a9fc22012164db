"""The clauses of the laws, as the sources state them, against what the rules say: no answer is milder than its clause.

A clause is written from the text of the law and says of itself whether that text was read; the rules are written
apart from it. Each clause is tried where its bounds hold only just, on a tyre with no other fault and on drawn ones.
"""

from collections.abc import Iterator, Mapping
from random import Random

import pytest

from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.source import Clause, Source
from mendbook.rulebook.tree import Op, Rule, Value
from mendbook.terms.vocabulary import Fact, Worse

DRAWN = 12  # tyres for each clause
FINEST = 1e-6

BOOK = open_book(folder("rules"), folder("knowledge"))
CLAUSES = [(source, clause) for source in BOOK.sources.values() for clause in source.clauses]
ASKING = [(source, clause) for source, clause in CLAUSES if not clause.not_expressed]


def name(pair: tuple[Source, Clause]) -> str:
    return f"{pair[0].id} {pair[1].place}, {pair[1].says}"


def best(fact: Fact) -> Value:
    """Return the value of `fact` that no rule should mind."""
    if fact.is_listed:
        return fact.values[0] if fact.worse is Worse.LATER or fact.missing is None else fact.missing
    if fact.worse is Worse.NEITHER:
        return (fact.low + fact.high) / 2.0
    return fact.ends(fact.low, fact.high)[0]


def drawn(fact: Fact, pick: Random) -> Value:
    return pick.choice(fact.values) if fact.is_listed else pick.uniform(fact.low, fact.high)


def just_met(facts: Mapping[str, Value], clause: Clause, pick: Random) -> dict[str, Value]:
    """Return `facts` changed so that every bound of the clause holds, its measures by the least that counts."""
    changed = dict(facts)
    for bound in clause.bounds:
        inward = -FINEST if bound.op in (Op.UP_TO, Op.BELOW) else FINEST
        on_the_line = bound.op in (Op.UP_TO, Op.AT_LEAST)
        changed[bound.fact] = (
            pick.choice(bound.values) if bound.op is Op.IN else bound.number + (0.0 if on_the_line else inward)
        )
    assert all(bound.holds(changed[bound.fact]) for bound in clause.bounds)
    return changed


def tried(clause: Clause, pick: Random) -> Iterator[dict[str, Value]]:
    mildest = {fact.name: best(fact) for fact in BOOK.vocabulary}
    yield just_met(mildest, clause, pick)
    for _ in range(DRAWN):
        yield just_met({fact.name: drawn(fact, pick) for fact in BOOK.vocabulary}, clause, pick)


def is_met(clause: Clause, facts: Mapping[str, Value], rules: tuple[Rule, ...]) -> bool:
    """Return whether `rules`, all folded, are as strict about `facts` as the clause."""
    spoken = [rule.lines[line].outcome for rule in rules if (line := rule.speaks(facts)) is not None]
    verdict = max((one.verdict for one in spoken if one.verdict), key=BOOK.rank, default=None)
    return clause.is_met(
        verdict, BOOK.verdicts, is_held=any(one.hold for one in spoken), is_stopped=any(one.stop for one in spoken)
    )


@pytest.mark.parametrize("pair", ASKING, ids=name)
def test_the_book_is_never_milder_than_a_clause(pair: tuple[Source, Clause]) -> None:
    _, clause = pair
    for facts in tried(clause, Random(name(pair))):
        assert is_met(clause, facts, BOOK.rules), facts


def test_the_sound_tyre_meets_no_clause_by_chance() -> None:
    """The yardstick can fail: what the book says of a tyre with no fault at all is as strict as none of them."""
    sound = {fact.name: best(fact) for fact in BOOK.vocabulary}
    assert [name(pair) for pair in ASKING if is_met(pair[1], sound, BOOK.rules)] == []


def test_without_its_law_the_book_is_milder_than_many_clauses() -> None:
    rules = tuple(rule for rule in BOOK.rules if not rule.id.startswith("law/"))
    broken = [
        name(pair)
        for pair in ASKING
        if any(not is_met(pair[1], facts, rules) for facts in tried(pair[1], Random(name(pair))))
    ]
    assert len(broken) > len(ASKING) / 3
    assert any("(c), at least 2/32 in" in clause for clause in broken)


def test_every_law_that_a_rule_of_the_law_cites_states_its_clauses() -> None:
    """What a rule of the law cites as its own source is stated there as a clause, at that very place."""
    stated = {(source.id, clause.place) for source, clause in CLAUSES}
    cited = {
        (line.sources[0].source, line.sources[0].place)
        for rule in BOOK.rules
        if rule.id.startswith("law/")
        for line in rule.lines
    }
    assert cited <= stated


def test_every_clause_holds_on_the_road_under_one_law_and_nowhere_else() -> None:
    for _, clause in ASKING:
        bounds = {bound.fact: bound.values for bound in clause.bounds}
        assert bounds["use"] == ("road",)
        assert bounds["law"]
        assert "none" not in bounds["law"]


def test_a_clause_milder_than_reject_says_why() -> None:
    mild = [name(pair) for pair in ASKING if pair[1].at_least not in (None, "reject") and not pair[1].because]
    assert mild == []


def test_a_clause_that_no_fact_expresses_says_why() -> None:
    silent = [clause for _, clause in CLAUSES if clause.not_expressed]
    assert len(silent) > 5
    assert all(len(clause.not_expressed) > 30 and not clause.bounds for clause in silent)


def test_no_rule_of_the_law_speaks_off_the_road_or_under_another_law(book: Rulebook) -> None:
    of_the_law = [rule for rule in book.rules if "law" in rule.facts() or rule.id.startswith("law/")]
    assert len(of_the_law) > 50
    for rule in of_the_law:
        applies = {bound.fact: set(bound.values) for bound in rule.applies}
        assert applies["use"] == {"road"}, rule.id
        assert applies["law"] <= {"us", "uk", "uk-part-worn", "un-r109"}, rule.id


def test_a_sale_is_never_judged_milder_than_running_the_same_tyre(book: Rulebook) -> None:
    for rule in book.rules:
        laws = {value for bound in rule.applies if bound.fact == "law" for value in bound.values}
        assert "uk" not in laws or "uk-part-worn" in laws, rule.id
