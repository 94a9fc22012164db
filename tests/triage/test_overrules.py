"""A house reject may be overruled by a named person with a reason; law, stops and other people's limits may not."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from mendbook.folders import folder
from mendbook.proof.permission import open_permitted
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case_file import CaseError
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, judge, open_shop, replay
from mendbook.triage.evaluators import ColumnEvaluator
from mendbook.triage.overrulable import refusal, rejecting
from mendbook.triage.overruling import OverruleRefusedError
from mendbook.triage.shop import set_up
from tests.triage.cases import CUT, LOADER, TRUCK, Tree, but, read, triage

RULE = "sidewall/through_steel_radial"
CHAFER = "bead/chafer_fabric_long"
LONG_CUT = but(CUT, length="72 mm", cords_cut="17")
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


def entry(rule: str = RULE, **changes: Any) -> Tree:
    """Return one overrule as a case file has it."""
    return but({"rule": rule, "by": "Ada Winter", "on": "2026-11-24", "why": "no spare for eight weeks"}, **changes)


def overruled(*entries: Tree, injuries: tuple[Tree, ...] = (LONG_CUT,), **changes: Any) -> Tree:
    return but(LOADER, injuries=list(injuries), overrule=list(entries or [entry()]), **changes)


@pytest.fixture(scope="module")
def docket(shop: Shop) -> Docket:
    return triage(overruled(), shop)


def test_what_is_overruled_is_the_most_that_a_repair_can_be(docket: Docket, shop: Shop) -> None:
    assert triage(but(LOADER, injuries=[LONG_CUT]), shop).outcome == "reject"
    assert (docket.outcome, docket.verdict, docket.bracket) == ("repair", "section", ("section", "section"))
    assert docket.uses["off-road"] == "section"
    assert docket.plan is not None
    assert [repair.verdict for repair in docket.plan.repairs] == ["section"]


def test_the_reject_stays_in_the_docket_with_who_overruled_it_when_and_why(docket: Docket) -> None:
    finding = next(f for f in docket.findings if f.rule == RULE)
    assert finding.verdict == "reject"
    assert finding.counts_as == "section"
    assert docket.overruled == (finding.overruled,)
    one = docket.overruled[0]
    assert (one.about, one.by, one.on, one.why) == ("A", "Ada Winter", "2026-11-24", "no spare for eight weeks")
    assert one.said == finding.because
    assert docket.overruled_from == docket.injuries[0].overruled_from == "reject"
    assert docket.reason == f"Ada Winter overruled a reject. The rule had said: {finding.because}"


def test_every_limit_and_the_docket_itself_carry_the_caution(docket: Docket) -> None:
    assert docket.plan is not None
    assert docket.plan.limits
    assert all("overruled by Ada Winter" in limit.caution for limit in docket.plan.limits)
    assert "overruled by Ada Winter" in docket.cautions[-1]


def test_without_an_overrule_nothing_of_it_is_in_the_docket(shop: Shop) -> None:
    plain = triage(but(LOADER, injuries=[CUT]), shop)
    assert plain.plan is not None
    assert (plain.overruled, plain.overruled_from) == ((), "")
    assert not any(limit.caution for limit in plain.plan.limits)
    assert not any("overruled" in caution for caution in plain.cautions)


def test_the_columns_alone_overrule_the_same(docket: Docket, shop: Shop) -> None:
    alone = triage(overruled(), replace(shop, evaluator=ColumnEvaluator(shop.book)))
    ignored = {"judged", "evaluator"}
    assert alone.model_dump(exclude=ignored) == docket.model_dump(exclude=ignored)


def test_an_overrule_of_one_injury_leaves_the_other_rejected(shop: Shop) -> None:
    other = but(LONG_CUT, name="B", clock="20 deg")
    one = triage(overruled(entry(injury="A"), injuries=(LONG_CUT, other)), shop)
    assert one.outcome == "reject"
    assert {i.name: (i.verdict, i.overruled_from) for i in one.injuries} == {
        "A": ("section", "reject"),
        "B": ("reject", ""),
    }
    both = triage(overruled(entry(injury="A"), entry(injury="B"), injuries=(LONG_CUT, other)), shop)
    whole = triage(overruled(entry(), injuries=(LONG_CUT, other)), shop)
    assert both.outcome == whole.outcome == "repair"
    assert [one.about for one in both.overruled] == [one.about for one in whole.overruled] == ["A", "B"]


@pytest.mark.parametrize("found", [{"loose cords": "found"}, {"kinked cords": "found"}])
def test_other_rejects_still_stand(found: Tree, shop: Shop) -> None:
    docket = triage(overruled(found=found), shop)
    assert docket.outcome == "reject"
    assert docket.injuries[0].verdict == "section"
    assert docket.reason in {f.because for f in docket.findings if f.verdict == "reject" and f.overruled is None}


def test_one_overrule_lets_a_rule_speak_that_needs_one_of_its_own(shop: Shop) -> None:
    """Whoever passes the size has not yet passed the age: a section repair on an old casing is another question."""
    old = {"date code": "0105"}
    first = triage(overruled(tyre=old), shop)
    assert (first.outcome, first.verdict) == ("reject", "reject")
    both = triage(overruled(entry(), entry("age/too_old_to_reinforce"), tyre=old), shop)
    assert both.verdict == "section"
    assert [one.rule for one in both.overruled] == [RULE, "age/too_old_to_reinforce"]


def test_what_no_kit_serves_is_said_and_not_made_up(shop: Shop) -> None:
    """Overruled by far: plan and kit come from the size as ever, and the tyre is held until something serves it."""
    docket = triage(overruled(injuries=(but(LONG_CUT, length="900 mm"),)), shop)
    assert (docket.outcome, docket.verdict) == ("hold", "section")
    assert docket.plan is not None
    repair = docket.plan.repairs[0]
    assert any("none in the catalogue serves; one 2075 x 600 mm or more" in lack for lack in repair.not_served)
    assert [f"Settle the plan for A: {lack}" for lack in repair.not_served] == list(docket.holds)
    assert "inside bag" not in {item.role for item in repair.kit}


def test_a_hold_is_not_overruled_by_it(shop: Shop) -> None:
    docket = triage(overruled(found={"moisture": "wet"}), shop)
    assert docket.outcome == "hold"
    assert docket.holds


def test_a_reject_of_the_tyre_counts_for_its_limits_too(shop: Shop) -> None:
    """A small repair on a tyre that the house would reject goes back under the limits of the largest one."""
    small = but(CUT, length="20 mm", width="20 mm", outside_length="20 mm", depth="12 mm", reaches="rubber")
    small = but(small, cords_cut=None)
    chafed = {"chafer fabric bare": "400 mm"}
    assert triage(but(LOADER, injuries=[small], found=chafed), shop).outcome == "reject"
    docket = triage(overruled(entry(CHAFER), injuries=(small,), found=chafed), shop)
    assert docket.verdict == "section"
    assert docket.overruled_from == "reject"
    assert [one.about for one in docket.overruled] == ["tyre"]
    assert docket.injuries[0].overruled_from == ""
    assert docket.injuries[0].verdict == "spot"
    assert any(f.rule == "release/position_section" for f in docket.findings)


def test_a_tyre_with_nothing_to_repair_is_held_until_somebody_says_what(shop: Shop) -> None:
    docket = triage(overruled(entry(CHAFER), injuries=(), found={"chafer fabric bare": "400 mm"}), shop)
    assert (docket.outcome, docket.verdict, docket.plan) == ("hold", "section", None)
    assert (
        "Settle with Ada Winter what is to be done: a reject of the tyre was overruled, and no injury is there to "
        "repair. Write down what is to be repaired as an injury."
    ) in docket.holds


def test_people_come_before_an_overrule(shop: Shop) -> None:
    docket = triage(overruled(found={"valve core": "in"}), shop)
    assert docket.outcome == "stop"
    assert docket.overruled == ()
    assert "The overrule in this case was not looked at" in docket.cautions[-1]


def test_a_docket_with_an_overrule_gives_itself(docket: Docket, shop: Shop) -> None:
    kept = Docket.model_validate_json(docket.model_dump_json(by_alias=True))
    found = replay(kept, shop)
    assert (found.is_same_book, found.differences) == (True, ())


def test_another_book_that_does_not_take_the_overrule_is_told(docket: Docket, shop: Shop) -> None:
    rules = tuple(rule for rule in shop.book.rules if rule.id != RULE)
    other = set_up(replace(shop.book, rules=rules, digest="another"))
    found = replay(docket, other)
    told = found.differences[0]
    assert (told.what, told.then) == ("overrule", "taken")
    assert told.now.startswith(f"not taken: the book has no rule '{RULE}'.")
    assert found.docket.overruled == ()


@pytest.mark.parametrize(
    ("changes", "path", "words"),
    [
        ({"rule": "sidewall/through_steel_radia"}, "rule", "the book has no rule"),
        ({"rule": "nonsense"}, "rule", "Write the id that the findings of the report name"),
        ({"rule": "people/valve_core"}, "rule", "a stop cannot be waived"),
        ({"rule": "people/signs_on_inflation"}, "rule", "a stop cannot be waived"),
        ({"rule": "law/us/bulge"}, "rule", "it speaks for a law, which nobody may waive"),
        ({"rule": "service/front_repair_us"}, "rule", "it rests on law, which nobody may waive"),
        ({"rule": "service/steered_road"}, "rule", "it rests on law, which nobody may waive"),
        ({"rule": "casing/separation_large"}, "rule", "it rests on published guidance"),
        ({"rule": "casing/foam"}, "rule", "it rests on common practice"),
        ({"rule": "any_zone/foreman_refuses_injury"}, "rule", "write 'foreman on injury' anew"),
        ({"rule": "casing/hardness_unsound"}, "rule", "what a look found"),
        ({"rule": "casing/separation_off_road"}, "rule", "holds, which the look clears"),
        ({"rule": "method/hot_section"}, "rule", "never rejects"),
        ({"rule": "crown/too_long"}, "rule", "says no reject here, so there is nothing to overrule"),
        ({"injury": "B"}, "injury", "no injury is called 'B' here. Write one of: A."),
        ({"rule": CHAFER, "injury": "A"}, "injury", "is about the tyre as a whole"),
        ({"on": "2029-01-01"}, "on", "2029-01-01 is still to come"),
    ],
)
def test_what_may_not_be_overruled_is_refused_with_its_place(
    changes: dict[str, str], path: str, words: str, shop: Shop
) -> None:
    case = read(overruled(entry(**changes)), shop.book.vocabulary)
    with pytest.raises(OverruleRefusedError) as refused:
        judge(case, shop, now=NOON)
    assert refused.value.path == ("overrule", 0, path)
    assert words in str(refused.value)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"by": None}, "case.yaml:38: overrule [1].by: it is missing. Add it."),
        ({"why": None}, "overrule [1].why: it is missing. Add it."),
        ({"on": None}, "overrule [1].on: it is missing. Add it."),
        ({"by": " "}, "overrule [1].by: it is missing"),
        ({"by": "?"}, "'?' names no person. Write the name of whoever answers for it."),
        ({"by": "Foreman"}, "'Foreman' names no person"),
        ({"why": "ok"}, "'ok' is no reason. Write a sentence that says why"),
        ({"on": "next week"}, "'next week' is not a date. Write year-month-day"),
        ({"because": "x"}, "no field is called 'because' here"),
    ],
)
def test_an_entry_that_is_not_whole_is_refused(changes: dict[str, Any], words: str, shop: Shop) -> None:
    with pytest.raises(CaseError) as refused:
        read(overruled(entry(**changes)), shop.book.vocabulary)
    assert words in str(refused.value)


@pytest.mark.parametrize(
    "entries", [(entry(), entry()), (entry(injury="A"), entry(injury="A")), (entry(), entry(injury="A"))]
)
def test_one_reject_is_overruled_once(entries: tuple[Tree, ...], shop: Shop) -> None:
    with pytest.raises(OverruleRefusedError, match=f"'{RULE}' is overruled twice here") as refused:
        triage(overruled(*entries), shop)
    assert refused.value.path == ("overrule", 1, "rule")


@pytest.mark.parametrize(
    "changes",
    [
        {"length": "61 ± 2 mm", "width": "90 mm", "cords cut": "10"},
        {"length": "unknown", "cords cut": "10"},
        {"cords cut": "14 to 20", "length": "40 mm"},
        {"reaches": "unknown"},
    ],
)
def test_what_is_not_measured_is_not_overruled(changes: dict[str, str], shop: Shop) -> None:
    with pytest.raises(OverruleRefusedError, match="still hangs on a reading, and what is not known is not overruled"):
        triage(overruled(injuries=(LONG_CUT | changes,)), shop)


def test_an_unknown_casing_is_not_overruled(shop: Shop) -> None:
    with pytest.raises(OverruleRefusedError, match="still hangs on a reading"):
        triage(overruled(tyre={"casing": "unknown"}), shop)


def test_a_reject_of_the_road_alone_is_not_overruled_while_the_use_is_open(shop: Shop) -> None:
    case = but(TRUCK, service={"use": "unknown", "dangerous goods": "yes"}, injuries=[])
    with pytest.raises(OverruleRefusedError):
        triage(but(case, overrule=[entry("service/dangerous_goods")]), shop)


def test_only_what_rests_on_the_house_alone_may_be_overruled(book: Rulebook) -> None:
    """Read off the book itself: no law, no stop, no text of others, no look among what may be."""
    allowed = [
        (rule, rule.lines[place])
        for rule in book.rules
        for place in rejecting(rule, book)
        if not refusal(rule, rule.lines[place], book)
    ]
    assert len(allowed) >= 30
    for rule, line in allowed:
        assert not rule.id.startswith("law/")
        assert line.outcome.stop is None
        assert {book.sources[one.source].kind for one in line.sources} == {"house"}


def own(folder_: Path, files: dict[str, str], cover: str = "") -> Shop:
    head = "rulebook: own\nedition: first\ndate: 2026-11-20\nowner: a foreman\n"
    for place, text in {"rulebook.yaml": head + cover, **files}.items():
        (folder_ / place).parent.mkdir(parents=True, exist_ok=True)
        (folder_ / place).write_text(text, encoding="utf-8")
    return set_up(open_permitted(folder("rules"), folder("knowledge"), folder_))


def shipped(place: str, before: str, after: str) -> dict[str, str]:
    text = (folder("rules") / place).read_text(encoding="utf-8")
    assert before in text
    return {place: text.replace(before, after)}


def test_guidance_that_an_own_book_calls_the_house_s_own_is_still_not_the_house_s(tmp_path: Path) -> None:
    rule = "casing/sat_flat.yaml"
    text = (folder("rules") / rule).read_text(encoding="utf-8")
    text = re.sub(r"^source: .*", "source: house, run flat", text, flags=re.MULTILINE)
    shop = own(tmp_path, {rule: re.sub(r"^also: .*\n", "", text, flags=re.MULTILINE)})
    found = shop.book.by_id()["casing/sat_flat"]
    assert {shop.book.sources[one.source].kind for one in found.lines[0].sources} == {"house"}
    assert "the shipped rule that it replaces rests on more" in refusal(found, found.lines[0], shop.book)


def test_a_stricter_limit_of_an_own_book_may_be_overruled(tmp_path: Path) -> None:
    shop = own(tmp_path, shipped(f"{RULE}.yaml", "up to 100 %", "up to 70 %"))
    cut = but(CUT, length="48 mm")
    assert triage(but(LOADER, injuries=[cut]), shop).outcome == "reject"
    assert triage(overruled(injuries=(cut,)), shop).outcome == "repair"
    assert triage(but(LOADER, injuries=[cut]), open_shop()).outcome == "repair"
