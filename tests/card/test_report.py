from collections.abc import Mapping
from io import StringIO
from typing import Any

import pytest
from rich.cells import cell_len
from rich.console import Console

from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.terms.docket import Docket, Finding, OverruledReject
from tests.card.samples import CORE, CUT, DOCKET, LAW, LOOK, REPAIR, SHEET, STEP

WIDTHS = (40, 60, 64, 80, 100, 120)
STOP: Mapping[str, Any] = {
    "outcome": "stop",
    "verdict": None,
    "bracket": None,
    "decided": False,
    "basis": "law",
    "reason": CORE.because,
    "stops": (CORE.text, "Keep everybody away"),
    "findings": (CORE,),
    "injuries": (),
    "plan": None,
    "would_change": (),
    "uses": {},
}
HOLD: Mapping[str, Any] = {
    "outcome": "hold",
    "decided": False,
    "bracket": ("section", "reject"),
    "holds": ("a second person reads the size",),
    "measure_next": (LOOK,),
}


def changed(changes: Mapping[str, Any]) -> Docket:
    return DOCKET.model_copy(update=dict(changes))


def complete(changes: Mapping[str, Any]) -> Docket:
    """The docket with a plan that lacks nothing."""
    assert DOCKET.plan is not None
    whole = REPAIR.model_copy(update={"not_served": ()})
    return changed({"plan": DOCKET.plan.model_copy(update={"repairs": (whole,)}), **changes})


def text(docket: Docket, width: int = 80) -> str:
    return as_text(report(docket, width), width)


def flat(docket: Docket, width: int = 80) -> str:
    """The report with every run of spaces and line breaks as one space: wrapping does not matter."""
    return " ".join(text(docket, width).split())


def test_the_top_says_what_it_is_in_one_word_why_how_sure_and_what_next() -> None:
    lines = text(complete({})).splitlines()
    assert lines[0] == "Quarry loader, sharp limestone (invented)"
    assert lines[1].startswith("tyre A-17, 26.5R25, radial, steel, 3.3 years, ")
    assert lines[4] == "REPAIR        Section repair."
    heads = [line.split("  ")[0] for line in lines[6:16] if line[:1].strip()]
    assert heads == ["Why", "Basis", "How sure", "By use", "What next", "Injuries"]
    assert "What next     No look is missing. Work to the plan below." in lines


def test_what_a_plan_lacks_stands_at_the_top() -> None:
    assert DOCKET.plan is not None
    whole = REPAIR.model_copy(update={"not_served": ()})
    for changes, told in (
        ({}, "No look is missing. Work to the plan below."),
        ({"method": None}, "Stop before the work: every process is ruled out for one of the repairs."),
        ({"cure": SHEET}, "Read the warnings of the cure before switching on."),
    ):
        plan = DOCKET.plan.model_copy(update={"repairs": (whole.model_copy(update=dict(changes)),)})
        top = flat(changed({"plan": plan})).split("Injuries")[0]
        assert told in top
        assert (f"2 {told}" in top) is bool(changes)


@pytest.mark.parametrize("outcome", ["repair", "hold"])
def test_a_plan_that_is_not_complete_is_never_worked_to(outcome: str) -> None:
    assert DOCKET.plan is not None
    lacks = ("no pad serves", "cure 2 of 2: it never cures. Heat both faces.", "no bag serves")
    plan = DOCKET.plan.model_copy(update={"repairs": (REPAIR.model_copy(update={"not_served": lacks}),)})
    top = flat(changed({"plan": plan, "outcome": outcome})).split("Injuries")[0]
    assert (
        "What next 1 The plan is not complete: no pad serves. 2 The plan is not complete: cure 2 of 2: it never "
        "cures. Heat both faces. 3 The plan is not complete: no bag serves. 4 Do not begin the work. Get what "
        "'Missing' in the plan names, write it into the case, and ask again." in top
    )
    assert "Work to the plan" not in top
    holds = (*HOLD["holds"], *(f"Settle the plan for A: {lack}" for lack in lacks))
    held = flat(changed({**HOLD, "plan": plan, "holds": holds})).split("Injuries")[0]
    assert held.count("no pad serves") == 1
    assert held.index("plan is not complete") < held.index("Hold. A second person") < held.index("Settle depth")


def test_a_warning_of_the_second_cure_is_pointed_to() -> None:
    assert DOCKET.plan is not None
    second = REPAIR.model_copy(update={"not_served": (), "second_cure": SHEET})
    top = flat(changed({"plan": DOCKET.plan.model_copy(update={"repairs": (second,)})})).split("Injuries")[0]
    assert "Read the warnings of the cure before switching on." in top


@pytest.mark.parametrize(
    ("changes", "word", "answer"),
    [
        (STOP, "STOP", "People first. Nothing else is decided until this is cleared."),
        (HOLD, "HOLD", "No release yet. So far: between section repair and reject."),
        ({"outcome": "hold", "bracket": None}, "HOLD", "No release yet."),
        ({"outcome": "serve", "verdict": "leave"}, "SERVE", "Back to service as it is."),
        ({"outcome": "repair", "verdict": "reinforce"}, "REPAIR", "Reinforced repair."),
        (
            {"outcome": "reject", "verdict": "reject", "uses": {"off-road": "reject", "road": "reject"}},
            "REJECT",
            "No repair and no further service.",
        ),
        ({"outcome": "reject", "verdict": "reject"}, "REJECT", "Not for road use."),
    ],
)
def test_each_outcome_has_its_word(changes: Mapping[str, Any], word: str, answer: str) -> None:
    assert f"{word:<14}{answer}" in text(changed(changes)).splitlines()


def test_a_stop_comes_before_everything_and_names_all_stops() -> None:
    said = flat(changed(STOP))
    assert "What next 1 Stop. Take the valve core out. 2 Stop. Keep everybody away. 3 Then look at the tyre" in said
    assert "Law. It cannot be waived." in said
    assert "How sure" not in said
    assert "Plan for" not in said
    assert "Assumed" not in said


def test_a_stop_says_why_once_and_what_to_do_once() -> None:
    told = {**STOP, "stops": (CORE.text,), "reason": CORE.text, "findings": (CORE,)}
    top = flat(changed(told)).split("Findings")[0]
    assert top.count(CORE.text) == 1
    assert f"Why {CORE.because}" in top


def test_holds_and_looks_come_in_their_order() -> None:
    said = flat(complete(HOLD))
    assert "How sure Between section repair and reject." in said
    assert (
        "What next 1 Hold. A second person reads the size. "
        "2 Settle depth of A: depth gauge in the skived cavity. It decides between section and reject." in said
    )


def test_a_house_rejection_says_who_may_overrule_it_and_a_legal_one_does_not() -> None:
    house = flat(changed({"outcome": "reject", "verdict": "reject", "findings": (rejecting(may_be_overruled=True),)}))
    mixed = (rejecting(may_be_overruled=True), rejecting(may_be_overruled=False))
    bound = flat(changed({"outcome": "reject", "verdict": "reject", "findings": mixed}))
    law = flat(changed({"outcome": "reject", "verdict": "reject", "basis": "law"}))
    assert "Only a named person may overrule it, with a written reason." in house
    assert "A house default; no law or standard sets this limit. It cannot be overruled." in bound
    assert "overrule" not in law
    assert "cannot be waived" in law


def rejecting(*, may_be_overruled: bool) -> Finding:
    return CUT.model_copy(update={"verdict": "reject", "may_be_overruled": may_be_overruled})


def test_an_overruled_reject_is_told_at_the_top_at_the_injury_at_the_finding_and_over_the_limits() -> None:
    reject = OverruledReject(
        rule=CUT.rule, name=CUT.name, about="A", by="Ada Winter", on="2026-11-20", why="no spare for weeks",
        said=CUT.because, counts_as="section",
    )  # fmt: skip
    assert DOCKET.plan is not None
    limits = tuple(one.model_copy(update={"caution": "Ada Winter answers for it."}) for one in DOCKET.plan.limits)
    said = flat(
        changed({
            "verdict": "section", "overruled": (reject,), "overruled_from": "reject",
            "injuries": (DOCKET.injuries[0].model_copy(update={"overruled_from": "reject"}),),
            "findings": (rejecting(may_be_overruled=True).model_copy(update={"overruled": reject}),),
            "plan": DOCKET.plan.model_copy(update={"limits": limits}),
        })
    )  # fmt: skip
    told = "overruled by Ada Winter, 2026-11-20: No spare for weeks."
    assert f"Overruled From reject, A, {CUT.name} ({CUT.rule}), {told} Basis" in said
    assert f"O{told[1:]} It counts as section repair." in said
    assert "overruled from" in said.split("Plan for")[0]
    assert said.count("! Ada Winter answers for it.") == 1
    assert "(may be overruled)" not in said
    assert "(may be overruled)" in flat(changed({"findings": (rejecting(may_be_overruled=True),)}))


@pytest.mark.parametrize(
    ("basis", "known", "said"),
    [
        ("law", "from memory: check before quoting", "It is quoted from memory: read the text before you rely on it."),
        ("guidance", "reported by others", "It is known from reports by others."),
    ],
)
def test_a_published_text_that_nobody_read_says_so_beside_the_answer(basis: str, known: str, said: str) -> None:
    base = {"outcome": "reject", "verdict": "reject", "basis": basis}
    assert said in flat(changed({**base, "basis_known": known}))
    assert said not in flat(changed({**base, "basis_known": "read in an excerpt"}))
    assert said not in flat(changed({**base, "basis": "practice", "basis_known": known}))


@pytest.mark.parametrize("width", WIDTHS)
def test_the_parts_stand_in_their_order_short_before_long(width: int) -> None:
    said = text(DOCKET, width)
    parts = (
        "REPAIR",
        "Why",
        "How sure",
        "What next",
        "\nInjuries",
        "\nWhat would change it",
        "\nPlan for A",
        "\nLimits in service",
        "\nSteps for A",
        "\nBack to service",
        "\nFindings",
        "\nAssumed",
        "\nCautions",
        "\nRecord",
    )
    places = [said.index(part) for part in parts]
    assert places == sorted(places)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("changes", [{}, STOP, HOLD])
def test_no_line_is_wider_than_the_page_or_ends_in_space(changes: Mapping[str, Any], width: int) -> None:
    for line in text(changed(changes), width).splitlines():
        assert cell_len(line) <= min(width, 100)
        assert line == line.rstrip()


@pytest.mark.parametrize("width", WIDTHS)
def test_no_word_is_lost_on_a_narrow_page(width: int) -> None:
    said = flat(DOCKET, width)
    for words in (
        CUT.because,
        "outside pad: pad-200x300, 200 x 300 mm (the opening asks 170 x 245 mm)",
        "2 x pad-250x400",
        "Hold point: Foreman looks at the skive.",
        "Caution: Never stand in line with a strap.",
        "2.2 bar, 145 °C, 113 min",
        "arm press: its throat does not reach the place (house, reach)",
        "fill rubber: 0.45 kg (cavity and a quarter)",
        "speed: 15 km/h (house, first hours)",
        "3 pads, 3.1 kW, 9 kWh",
        "at least 290 mm x 360 mm",
        "46 mm thick",
        "No pad covers it in one piece.",
    ):
        assert words in said


def test_injuries_stand_in_a_table_with_sizes_beside_what_is_allowed() -> None:
    lines = text(DOCKET, 100).splitlines()
    head = lines.index("Injuries") + 1
    assert lines[head].split() == [
        "Injury",
        "Zone",
        "Size",
        "Box",
        "allowed",
        "Of",
        "its",
        "limit",
        "Verdict",
    ]
    row = lines[head + 1]
    for column, cell in (
        ("Size", "48 x 118 mm"),
        ("Box", "60 x 150 mm"),
        ("Of", "length 80 %"),
        ("Verdict", "section repair"),
    ):
        assert row.index(cell) == lines[head].index(column)
    assert lines[head + 2].strip().endswith("area 84 %")
    assert lines[head + 3].strip() == "ply 72 %"


def test_on_a_narrow_page_each_injury_is_a_block() -> None:
    lines = text(DOCKET, 60).splitlines()
    assert "  Injury        A" in lines
    assert "  Size          48 x 118 mm" in lines
    assert "  Verdict       between dress and spot repair" in lines


def test_sources_spell_out_their_kind_and_say_when_they_are_quoted_from_memory() -> None:
    said = flat(changed(STOP))
    assert "law (29 cfr 1910.177, (f)(2); from memory)" in said
    assert "house default (cord limits)" in said


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("law", "law"),
        ("standard", "standard"),
        ("guidance", "guidance"),
        ("practice", "common practice"),
        ("house", "house default"),
    ],
)
def test_every_kind_of_source_is_spelled_out(kind: str, words: str) -> None:
    source = LAW.model_copy(update={"kind": kind, "known": "read"})
    finding = CUT.model_copy(update={"sources": (source,)})
    assert f"{words} (29 cfr 1910.177, (f)(2)) · sidewall/" in flat(changed({"findings": (finding,)}))


def test_findings_stand_weightiest_first_and_silent_ones_share_a_line() -> None:
    said = flat(changed({"findings": (*DOCKET.findings, CORE)}))
    places = [said.index(part) for part in ("tyre: stop", "A, upper sidewall: section repair", "Nothing to object")]
    assert places == sorted(places)
    assert "Nothing to object: cracks." in said
    assert "No crack is deeper" not in said


def test_a_finding_that_hangs_on_a_reading_says_so_and_a_bound_says_its_room() -> None:
    hung = CUT.model_copy(update={"readings": {"good": False, "as read": True, "bad": True}})
    assert "section repair (at the middle and bad readings)" in flat(changed({"findings": (hung,)}))
    said = flat(DOCKET)
    assert "reading)" not in said
    assert "Bounds: share of cord limit up to 100 % (28 inside)." in said
    past = CUT.model_copy(update={"margin": {"share of cord limit": -7.0}})
    assert "(7 outside)" in flat(changed({"findings": (past,)}))


def test_a_report_without_cautions_gets_the_standing_ones() -> None:
    said = flat(changed({"cautions": ()}))
    for caution in (
        "Only trained, authorised persons",
        "override this report",
        "not a certificate",
        "Unknown counts as worst",
    ):
        assert caution in said
    assert "Only trained and authorised persons do this work." in flat(DOCKET)


def test_nothing_to_change_is_said_in_its_place() -> None:
    said = flat(
        changed(
            {
                "would_change": (),
                "nothing_to_change": "nothing you can change would help; it was decided by age",
            }
        )
    )
    assert "What would change it - Nothing you can change would help; it was decided by age." in said


def test_text_has_no_escape_and_a_terminal_has_the_same_words() -> None:
    drawn = report(DOCKET, 80)
    terminal = Console(file=StringIO(), width=80, force_terminal=True, color_system="standard", legacy_windows=False)
    with terminal.capture() as captured:
        terminal.print(drawn)
    coloured = captured.get()
    assert "\x1b[" in coloured
    assert "\x1b" not in as_text(drawn, 80)
    bare = Console(file=StringIO(), width=80, force_terminal=True, color_system=None, legacy_windows=False)
    with bare.capture() as captured:
        bare.print(drawn)
    assert captured.get().split() == as_text(drawn, 80).split()


HOSTILE = "[red]\x1b[31m[/nothing]\x1b]0;title\x07 \u202egnorw " + "w" * 3000


def test_hostile_text_is_printed_as_letters_and_harms_no_line() -> None:
    injury = DOCKET.injuries[0].model_copy(update={"name": HOSTILE, "zone": HOSTILE})
    repair = REPAIR.model_copy(update={"injury": HOSTILE, "zone": HOSTILE})
    docket = changed(
        {
            "case": HOSTILE,
            "reason": HOSTILE,
            "holds": (HOSTILE,),
            "outcome": "hold",
            "injuries": (injury,),
            "findings": (
                CUT.model_copy(update={"about": HOSTILE, "because": HOSTILE, "text": HOSTILE, "name": HOSTILE}),
            ),
            "tyre": DOCKET.tyre.model_copy(update={"tag": HOSTILE}),
            "assumed": {HOSTILE: HOSTILE},
            "cautions": (HOSTILE,),
            "plan": DOCKET.plan.model_copy(update={"repairs": (repair,)}) if DOCKET.plan else None,
        }
    )
    for width in WIDTHS:
        said = text(docket, width)
        assert said.startswith("[red][/nothing] gnorw")
        assert "\x1b" not in said
        assert "\x07" not in said
        assert "\u202e" not in said
        assert all(cell_len(line) <= min(width, 100) for line in said.splitlines())


def test_letters_from_right_to_left_stay_and_are_measured_as_they_show() -> None:
    said = text(changed({"case": "צמיג של מעמיס"}), 60)
    assert said.splitlines()[0] == "צמיג של מעמיס"


def test_reasons_of_the_plan_follow_the_findings_each_once() -> None:
    twice = [STEP.model_copy(update={"about": name}) for name in ("A", "B")]
    out = STEP.model_copy(update={"says": ("rule out",), "rule": "method/deep_fill", "because": "It stays weak."})
    said = flat(changed({"findings": (*DOCKET.findings, *twice, out)}))
    assert "Why a method is ruled out - It stays weak. house default (cord limits) · method/deep_fill:7" in said
    assert "Why a step is added - A and B: Warm rubber is weak. house default" in said
    assert said.count("Warm rubber is weak.") == 1
    assert said.index("Findings") < said.index("Why a method") < said.index("Why a step") < said.index("Assumed")


def test_what_was_assumed_is_grouped_by_value() -> None:
    facts = {"moisture": "dry", "zipper signs": "none", "object": "none", "A: pulled cords": "none"}
    said = flat(changed({"assumed": facts}))
    assert "Assumed, since the case does not say - none: zipper signs, object, A: pulled cords. - moisture dry." in said
