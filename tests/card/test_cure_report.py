import pytest
from rich.cells import cell_len

from mendbook.card.cure_report import cure_report
from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.docket import Docket
from tests.card.samples import DOCKET, REPAIR, SHEET

WIDTHS = (40, 60, 80, 100, 120)


def flat(sheet: CureSheet, width: int = 80) -> str:
    return " ".join(as_text(cure_report(sheet, width), width).split())


def test_the_top_says_how_long_from_switching_on() -> None:
    lines = as_text(cure_report(SHEET, 80), 80).splitlines()
    assert lines[0] == "Quarry loader, A (invented)"
    assert lines[2] == "CURE          134 min (2 h 14 min) of heat from switching on."


@pytest.mark.parametrize("width", WIDTHS)
def test_the_parts_stand_in_their_order_and_fit(width: int) -> None:
    said = as_text(cure_report(SHEET, width), width)
    parts = ("CURE", "Warning", "By timer", "Release", "Slowest", "Outside", "Inside", "Layers", "Pressure")
    places = [said.index(part) for part in (*parts, "\nWhat the figure counts", "\nCautions")]
    assert places == sorted(places)
    assert all(cell_len(line) <= min(width, 100) for line in said.splitlines())
    assert "\x1b" not in said


def test_all_figures_of_the_sheet_are_told() -> None:
    said = flat(SHEET)
    for words in (
        "117 min (1 h 57 min), started 17 min after switching on",
        "61 min after power-off, hottest point below 100 °C. The clamp stays on until then.",
        "fill, 24 mm below the outside: 131 °C at power-off, at most 132 °C; cured 1 x t90 by power-off.",
        "Outside fill cured 4.22 x t90, within its limit of 6 x t90.",
        "Inside cover cured 7.11 x t90, OVERCURED, past its limit of 6 x t90.",
        "TOO LOW: 2.00 bar given, 2.60 bar needed at 140 °C",
        "Warning The inside face is cured past what it bears.",
        "Heat after power-off is not counted.",
        "A cure is never left alone.",
    ):
        assert words in said


def test_figures_are_rounded_to_the_safe_side() -> None:
    porosity = SHEET.porosity.model_copy(update={"clamp_needed_bar": 2.601, "highest_safe_setpoint_C": 133.9})
    sheet = SHEET.model_copy(
        update={
            "minutes_from_timer": 45.01,
            "minutes_to_release": 60.2,
            "slowest": SHEET.slowest.model_copy(update={"peak_C": 131.01}),
            "layers": (SHEET.layers[0].model_copy(update={"least_at_power_off": 0.999, "most": 4.001}),),
            "porosity": porosity,
        }
    )
    said = flat(sheet)
    assert "By timer 46 min, started" in said
    assert "Release 61 min after" in said
    assert "at most 132 °C" in said
    assert "at least 0.99 x t90 at power-off" in said
    assert "to 4.01 x t90 after cooling" in said
    assert "2.61 bar needed" in said
    assert "holds up to 133 °C" in said


def test_a_whole_figure_is_not_rounded_up_by_the_noise_of_the_arithmetic() -> None:
    said = flat(SHEET.model_copy(update={"minutes_from_timer": 45.000000001}))
    assert "By timer 45 min, started" in said


def test_a_pressure_that_holds_and_a_face_not_judged_are_said_plainly() -> None:
    sheet = SHEET.model_copy(
        update={
            "porosity": SHEET.porosity.model_copy(update={"ok": True, "clamp_given_bar": 2.7}),
            "inside": None,
        }
    )
    said = flat(sheet)
    assert "Pressure 2.70 bar given, 2.60 bar needed at 140 °C to keep water from boiling." in said
    assert "TOO LOW" not in said
    assert "Inside not judged: the order gives no compound for this face." in said


def test_a_sheet_without_cautions_gets_the_standing_ones() -> None:
    assert "Only trained, authorised persons" in flat(SHEET.model_copy(update={"cautions": ()}))


def test_in_a_docket_the_cure_follows_the_plan_and_its_cautions_join_the_others() -> None:
    assert DOCKET.plan is not None
    said = as_text(report(DOCKET.model_copy(update={"cure": SHEET}), 80), 80)
    assert said.index("\nPlan for A") < said.index("\nCure\n") < said.index("\nLimits in service")
    assert said.count("A cure is never left alone.") == 1
    both = DOCKET.plan.model_copy(update={"repairs": (REPAIR.model_copy(update={"cure": SHEET}),) * 2})
    said = as_text(report(DOCKET.model_copy(update={"cure": SHEET, "plan": both}), 80), 80)
    assert "\nCure of the longest repair\n" in said
    assert said.count("  Cure        134 min (2 h 14 min) of heat from switching on.") == 2


def staged(second: CureSheet | None) -> Docket:
    """The docket with a repair in two stages, of which the first takes longest."""
    assert DOCKET.plan is not None
    assert REPAIR.method is not None
    method = REPAIR.method.model_copy(update={"stages": "two stages"})
    repair = REPAIR.model_copy(update={"method": method, "cure": SHEET, "second_cure": second})
    return DOCKET.model_copy(update={"cure": SHEET, "plan": DOCKET.plan.model_copy(update={"repairs": (repair,)})})


def test_both_cures_of_two_stages_are_told() -> None:
    porosity = SHEET.porosity.model_copy(update={"setpoint_C": 125.0})
    changes = {"minutes_from_switch_on": 88.0, "minutes_from_timer": 70.0, "porosity": porosity}
    second = SHEET.model_copy(update={**changes, "case": "A, cure 2 of 2", "warnings": ("the second one overcures",)})
    said = as_text(report(staged(second), 80), 80)
    told = " ".join(said.split())
    assert "Cure Stage one: 134 min (2 h 14 min) of heat from switching on, setpoint 140 °C" in told
    assert (
        "Stage two: 88 min of heat from switching on, setpoint 125 °C; by timer 70 min, started 17 min after "
        "switching on; release 61 min after power-off, below 100 °C." in told
    )
    assert said.index("\nCure, stage one\n") < said.index("\nCure, stage two\n") < said.index("\nLimits in service")
    assert "The second one overcures." in told
    assert told.count("Heat after power-off is not counted.") == 1


def test_a_second_stage_without_a_cure_says_so() -> None:
    told = " ".join(as_text(report(staged(None), 80), 80).split())
    assert "Stage two: no cure was found. See 'Missing'." in told


def test_warnings_of_every_repair_are_told_not_only_of_the_longest() -> None:
    assert DOCKET.plan is not None
    short = SHEET.model_copy(update={"case": "B", "warnings": ("the short one boils",)})
    repairs = tuple(REPAIR.model_copy(update={"cure": sheet}) for sheet in (SHEET, short))
    plan = DOCKET.plan.model_copy(update={"repairs": repairs})
    told = " ".join(as_text(report(DOCKET.model_copy(update={"cure": SHEET, "plan": plan}), 80), 80).split())
    assert told.count("The short one boils.") == 1


def test_a_sentence_told_among_the_cautions_is_not_told_again_by_the_sheet() -> None:
    sheet = SHEET.model_copy(update={"cautions": ("Pressure first. A cure is never left alone.", "Wait 1.25 h.")})
    said = as_text(report(DOCKET.model_copy(update={"cure": sheet}), 80), 80)
    assert said.count("A cure is never left alone.") == 1
    assert "  -  Pressure first.\n" in said
    assert "  -  Wait 1.25 h.\n" in said


def test_the_schedules_not_followed_are_told_with_what_they_count() -> None:
    said = flat(SHEET)
    assert "economy schedule: 119 min (1 h 59 min) of heat, by timer 102 min (1 h 42 min), release 58 min" in said
    assert "clamp and pads stay on" in said
