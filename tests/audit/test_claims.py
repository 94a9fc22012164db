"""Each claim holds for the shipped book, and fails for a book broken where it looks."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from mendbook.audit.claims import Claim
from mendbook.audit.cleared import show_cleared
from mendbook.audit.covered import show_covered
from mendbook.audit.finder import Finder
from mendbook.audit.grown import show_grown
from mendbook.audit.lawful import show_lawful
from mendbook.audit.methods import show_methods
from mendbook.audit.ordered import follow, show_order
from mendbook.audit.proofs import answer, prove
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitRow
from mendbook.rulebook.tree import Bound, Line, Op, Rule
from mendbook.triage.shop import Shop, set_up


def broken(shop: Shop, place: str, change: Callable[[Rule], Rule | None]) -> Shop:
    """A shop whose book has the rule at `place` changed, or without it."""
    changed = (change(rule) if rule.id == place else rule for rule in shop.book.rules)
    return set_up(replace(shop.book, rules=tuple(rule for rule in changed if rule is not None)))


def milder(rule: Rule, verdict: str) -> Rule:
    return replace(rule, lines=tuple(with_verdict(line, verdict) for line in rule.lines))


def with_verdict(line: Line, verdict: str) -> Line:
    return replace(line, outcome=replace(line.outcome, verdict=verdict))


@pytest.mark.long  # the gate proves the book anyway
def test_the_quick_claims_hold(finder: Finder, shop: Shop) -> None:
    claims = (
        show_grown(shop), show_cleared(shop), show_covered(shop, finder), show_methods(shop, finder),
        show_lawful(shop, finder),
    )  # fmt: skip
    assert [claim.name for claim in claims if not claim.holds] == []
    assert all(claim.asked for claim in claims)


def test_what_is_derived_keeps_the_order_but_for_how_deep_it_reaches(shop: Shop) -> None:
    assert follow(shop, frozenset({"reaches"})).turns == []
    assert {turn.column for turn in follow(shop, frozenset()).turns} >= {"length limit", "width limit"}


@pytest.fixture(scope="module")
def sought(shop: Shop) -> tuple[Shop, Finder]:
    """A shop whose book has one rule too few and one law too mild, and the solver over it."""
    less = broken(shop, "sidewall/through_steel_radial", lambda _: None)
    leak = next(rule.id for rule in shop.book.rules if rule.id.startswith("law/us") and "leak" in rule.id)
    bad = broken(less, leak, lambda rule: milder(rule, "leave"))
    return bad, Finder(bad)


def test_an_injury_that_no_rule_speaks_of_is_shown(shop: Shop, sought: tuple[Shop, Finder]) -> None:
    bad, finder = sought
    claim = show_covered(bad, finder)
    assert not claim.holds
    (case,) = claim.failures[0].cases
    said = answer(case, bad)
    assert (said.outcome, said.verdict) == ("reject", "reject")  # what no rule speaks of counts as worst
    assert answer(case, shop).reason != said.reason


def test_a_law_that_is_milder_than_its_clause_is_shown(shop: Shop, sought: tuple[Shop, Finder]) -> None:
    bad, finder = sought
    claim = show_lawful(bad, finder)
    assert not claim.holds
    (case,) = claim.failures[0].cases
    assert case.law == "us"
    asked, said = (answer(case, one).verdict for one in (shop, bad))
    assert asked is not None
    assert said is not None
    assert shop.book.rank(said) < shop.book.rank(asked)


@pytest.mark.long
def test_a_repair_without_any_process_is_shown(shop: Shop) -> None:
    both = broken(shop, "method/hot_section", lambda rule: replace(rule, lines=tuple(map(ruling_out_heat, rule.lines))))
    claim = show_methods(both, Finder(both))
    assert not claim.holds
    (case,) = claim.failures[0].cases
    assert answer(case, both).outcome == "hold"
    assert answer(case, shop).outcome == "repair"


def ruling_out_heat(line: Line) -> Line:
    return replace(line, outcome=replace(line.outcome, rule_out=("hot", "cold")))


def test_a_hold_that_nothing_clears_is_named(shop: Shop) -> None:
    place = next(rule.id for rule in shop.book.rules if rule.id == "casing/moisture")
    never = (Bound("moisture", Op.IN, values=("damp",), others=("dry", "wet")),)

    def lasting(rule: Rule) -> Rule:
        lines = (replace(line, outcome=replace(line.outcome, cleared_by=(never,))) for line in rule.lines)
        return replace(rule, lines=tuple(lines))

    bad = broken(shop, place, lasting)
    claim = show_cleared(bad)
    assert [failure for failure in claim.failures if "casing/moisture" in failure.says]


def is_w8(row: LimitRow) -> bool:
    return any(bound.values == ("W8",) for bound in row.bounds)


def test_a_limit_that_falls_as_the_tyre_grows_is_named(shop: Shop) -> None:
    def fall(book: Rulebook) -> Rulebook:
        tables = []
        for table in book.tables:
            rows = table.rows
            if table.id == "limits/size_radial":
                rows = tuple(
                    replace(row, numbers=tuple(10.0 for _ in row.numbers)) if is_w8(row) else row for row in rows
                )
            tables.append(replace(table, rows=rows))
        return replace(book, tables=tuple(tables))

    claim = show_grown(set_up(fall(shop.book)))
    assert any("size_radial" in failure.says for failure in claim.failures)


@pytest.mark.long
def test_a_rule_that_is_stricter_on_the_shallower_injury_is_shown_by_two_cases(shop: Shop) -> None:
    bad = broken(shop, "rubber/cord_bared", lambda rule: milder(rule, "reject"))
    claims: dict[str, Claim] = {claim.name: claim for claim in show_order(bad, Finder(bad))}
    claim = claims["worse is never milder, reaches"]
    better, worse = claim.failures[0].cases
    assert answer(better, bad).verdict == "reject"
    assert answer(worse, bad).verdict != "reject"


@pytest.mark.long
def test_every_claim_holds_for_the_shipped_book(shop: Shop) -> None:
    assert [claim.name for claim in prove(shop) if not claim.holds] == []
