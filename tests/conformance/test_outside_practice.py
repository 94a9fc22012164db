"""Common practice of the trade, no source: what every workshop does alike, held against plan, kit and cure.

Nothing here is law or standard, and no published source stands behind it; the steps of the plan must say so too.
"""

import pytest

from mendbook.folders import folder
from mendbook.plan.catalogue import read_kit
from mendbook.terms.docket import Docket
from mendbook.terms.document import read_document
from mendbook.terms.plan import Step
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, but, triage

PSI = 0.0689475729  # bar; NIST SP 811, from memory
COMMON = "common practice, no source"


@pytest.fixture(scope="module")
def docket(shop: Shop) -> Docket:
    return triage(but(LOADER, injuries=[CUT]), shop)


def place(docket: Docket, words: str) -> tuple[int, Step]:
    """Return number and step of the one step that says `words`."""
    assert docket.plan is not None
    ((number, step),) = ((s.number, s) for s in docket.plan.repairs[0].steps if words in s.do)
    return number, step


def test_pads_are_warmed_to_about_fifty_degrees_before_they_are_bent(docket: Docket) -> None:
    """Common practice, no source."""
    warm, step = place(docket, "Warm the pads before they are bent")
    laid, _ = place(docket, "Use pads whose heated face")
    assert warm < laid
    assert (step.figures, step.basis) == ("about 50 °C", COMMON)
    pads = read_document(folder("knowledge") / "kit" / "heated_pads.yaml").tree["items"]
    assert isinstance(pads, list)
    assert {pad["warm before bending"] for pad in pads if isinstance(pad, dict)} == {"50 °C"}


def test_the_bags_carry_28_to_32_psi_and_the_inside_leads(docket: Docket) -> None:
    """Common practice, no source: about 2 bar, the inner support first and never lower than the outside."""
    assert docket.cure_order is not None
    assert 28 * PSI <= docket.cure_order.clamp_bar <= 32 * PSI
    seat, step = place(docket, "Seat the inside first")
    heat, _ = place(docket, "Switch on")
    assert seat < heat
    assert "inside never lower than outside" in step.figures
    assert step.basis == COMMON


def test_work_is_done_at_about_140_degrees(shop: Shop) -> None:
    """Common practice, no source: the plan starts from 140 °C and goes lower only to spare the faces."""
    thin = triage(but(LOADER, injuries=[but(CUT, depth="20 mm", length="30 mm", width="60 mm", cords_cut="8")]), shop)
    assert thin.cure_order is not None
    assert (thin.cure_order.outside.setpoint_C, thin.cure_order.inside.setpoint_C) == (140.0, 140.0)


def test_the_clock_starts_twenty_degrees_below_the_setpoint_at_both_pads(shop: Shop) -> None:
    """Common practice, no source: about 120 °C at both pads where the setpoint is 140 °C."""
    thin = triage(but(LOADER, injuries=[but(CUT, depth="20 mm", length="30 mm", width="60 mm", cords_cut="8")]), shop)
    _, step = place(thin, "Start the clock")
    assert "slower of the pads" in step.do
    assert "clock starts at 120 °C" in step.figures
    assert thin.cure is not None
    assert thin.cure_order is not None
    rise = 120.0 - thin.cure_order.ambient_C
    by_ramp = rise / (thin.cure_order.outside.heating_rate_C_min or 1.0)
    assert thin.cure.timer_starts_at_min == pytest.approx(by_ramp, abs=0.1)


def test_one_clock_is_named_and_no_other(docket: Docket) -> None:
    """Common practice, no source: the time counts from the pads; a clock on the core would run far past the faces."""
    assert docket.plan is not None
    clocks = [step.do for step in docket.plan.repairs[0].steps if "the clock" in step.do.lower()]
    assert len(clocks) == 1
    assert "pads" in clocks[0]


def test_pressure_stays_until_all_is_below_100_degrees(docket: Docket) -> None:
    """Common practice, no source."""
    _, step = place(docket, "Hold full pressure until")
    assert step.hold_point == "Slowest point below 100 °C."
    assert docket.cure is not None
    assert docket.cure.release_C == 100.0
    assert f"at least {-(-docket.cure.minutes_to_release // 1):.0f} min" in step.figures


def test_one_flexible_wrap_serves_widths_of_13_to_29_and_a_half_inches() -> None:
    """Common practice, no source."""
    kit = read_kit(folder("knowledge") / "kit")
    wraps = [pad for pad in kit.pads if pad.is_wrap]
    for inches, served in ((12.9, False), (13.0, True), (20.5, True), (29.5, True), (29.6, False)):
        assert any(wrap.serves(inches * 25.4) for wrap in wraps) is served
