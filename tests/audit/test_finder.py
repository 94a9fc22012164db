"""Cases that the solver finds are cases that triage judges just so."""

import random

import pytest

from mendbook.audit.finder import Finder
from mendbook.audit.living import looks_at_neighbours
from mendbook.audit.witness import Witness, read_witness, spell_witness
from mendbook.proof.symbols import Guard
from mendbook.rulebook.tree import Rule
from mendbook.triage import judge
from mendbook.triage.shop import Shop
from mendbook.triage.stages import METHOD, PEOPLE, RELEASE

SEED = 7
FEW = 2


def lines(finder: Finder, shop: Shop) -> list[tuple[Rule, int, Guard]]:
    """Every line of the book that a tyre with one injury can make speak, with its formula."""
    return [
        (rule, place, guard)
        for speech in finder.relations.speech.values()
        for rule in speech.rules
        if not looks_at_neighbours(rule, shop.book) and not rule.in_reserve
        for place, guard in enumerate(speech.lines[rule.id])
    ]


def find(finder: Finder, shop: Shop, rule: Rule, guard: Guard) -> Witness | None:
    """A case in which the line speaks and is heard: the plan is reached only where a repair is allowed."""
    if rule.stage in PEOPLE:
        return finder.find(guard, finder.relations.is_in_one_zone)
    planned = rule.stage in (*METHOD, *RELEASE)
    severest = finder.relations.at_least(len(shop.book.verdicts) - 1)
    mildest = finder.relations.at_least(1)
    heard = (finder.is_clear, ~severest, mildest) if planned else (finder.is_clear,)
    return finder.find(guard, *heard)


def shows(witness: Witness, shop: Shop, rule: Rule, place: int) -> bool:
    docket = judge(read_witness(witness, shop.book.vocabulary), shop, law=witness.law)
    at = rule.lines[place].at
    return any(one.rule == rule.id and one.line == at and one.readings["as read"] for one in docket.findings)


def test_a_case_for_some_lines_is_judged_just_so(finder: Finder, shop: Shop) -> None:
    drawn = random.Random(SEED).sample(lines(finder, shop), FEW)
    for rule, place, guard in drawn:
        witness = find(finder, shop, rule, guard)
        assert witness is not None, f"{rule.id}:{place}"
        assert shows(witness, shop, rule, place), f"{rule.id}:{place}\n{spell_witness(witness)}"


@pytest.mark.long
def test_a_case_for_every_line_is_judged_just_so(finder: Finder, shop: Shop) -> None:
    missing = []
    for rule, place, guard in lines(finder, shop):
        witness = find(finder, shop, rule, guard)
        if witness is None or not shows(witness, shop, rule, place):
            missing.append(f"{rule.id}:{place}")
    assert not missing


def test_a_case_is_ordinary_wherever_it_may_be(finder: Finder, shop: Shop) -> None:
    witness = finder.find(finder.relations.equals("bead wire", "kinked"), finder.is_clear)
    assert witness is not None
    assert witness.unusual == ("bead wire",)
    assert "bead wire: kinked" in spell_witness(witness)
    assert judge(read_witness(witness, shop.book.vocabulary), shop).verdict == "reject"


def test_what_cannot_be_is_not_found(finder: Finder) -> None:
    wide = finder.relations.equals("width class", "W8")
    small = finder.relations.equals("designation", "11R22.5")
    assert finder.find(wide, small, finder.relations.equals("size", "read")) is None
    assert finder.find_impossible([wide, z_never(wide)]) == [False, True]


def z_never(guard: Guard) -> Guard:
    return guard & ~guard
