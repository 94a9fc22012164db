import pytest

from mendbook.card.clearing import clearing_words
from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.terms.docket import Entry, Finding
from tests.card.samples import CUT, DOCKET

HOLD = "A look is missing."
XRAY = Entry(section="found", field="casing X-ray", value="sound", fact="casing X-ray")
SPEED = Entry(section="service", field="speed", value="up to 80 km/h", fact="speed")
TUBE = Entry(section="tyre", field="tube", value="tubeless or tube fitted", fact="tube")
MAP = Entry(section="", field="earlier repairs", value="none or mapped", fact="earlier repairs")
SKIVED = Entry(section="injuries", field="skived", value="yes", fact="skived")
CODE = Entry(section="tyre", field="date code", value="read", fact="serial")


def held(*ways: tuple[Entry, ...], about: str = "tyre") -> Finding:
    return CUT.model_copy(update={"says": ("hold",), "text": HOLD, "cleared_by": ways, "about": about})


@pytest.mark.parametrize(
    ("ways", "words"),
    [
        (((XRAY,),), "write 'casing X-ray: sound' under 'found:' in the case."),
        (((SPEED,),), "write 'speed:' anew under 'service:' (up to 80 km/h) in the case."),
        (((TUBE,),), "write 'tube:' anew under 'tyre:' (tubeless or tube fitted) in the case."),
        (((MAP,),), "write 'earlier repairs:' anew (none or mapped) in the case."),
        (((CODE,),), "write 'date code:' anew under 'tyre:' (serial: read) in the case."),
        (((XRAY, SPEED),), "write 'casing X-ray: sound' under 'found:' and 'speed:' anew under"),
        (((XRAY,), (SPEED,)), "write 'casing X-ray: sound' under 'found:', or 'speed:' anew under"),
    ],
)
def test_how_a_look_is_recorded(ways: tuple[tuple[Entry, ...], ...], words: str) -> None:
    assert clearing_words([held(*ways)], HOLD).startswith(f"When done, {words}")


def test_one_sentence_for_all_injuries_that_are_held_alike() -> None:
    both = [held((SKIVED,), about="A"), held((SKIVED,), about="B")]
    assert clearing_words(both, HOLD) == "When done, write 'skived: yes' for injury A and B in the case."


def test_a_hold_of_the_plan_says_nothing_of_its_own() -> None:
    assert clearing_words([held((XRAY,))], "Settle the plan for A: no pad.") == ""


def test_the_report_says_it_behind_the_hold() -> None:
    docket = DOCKET.model_copy(update={"outcome": "hold", "holds": (HOLD,), "findings": (held((XRAY,)),)})
    said = " ".join(as_text(report(docket, width=100), width=100).split())
    assert f"Hold. {HOLD} When done, write 'casing X-ray: sound' under 'found:' in the case." in said
