"""The summary in a terminal: exact, whole on any width, and plain whatever strangers wrote."""

import pytest

from mendbook.card import as_text
from mendbook.card.wording import STANDING
from mendbook.card.yard import yard_report
from mendbook.yard.summary import Summary
from tests.card.yard.samples import note, rude, summary


def said(found: Summary, width: int = 100) -> str:
    return as_text(yard_report(found, note(), width), width)


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_it_fits_its_width_and_says_the_sums(width: int) -> None:
    found = summary()
    told = said(found, width)
    assert max(map(len, told.splitlines())) <= width
    whole = " ".join(told.split())
    assert (
        f"{found.rows} rows came in: {found.decided} decided, {found.undecided} undecided and {found.quarantined} in "
        "quarantine. They add up; no row is lost."
    ) in whole
    for caution in STANDING:
        assert caution in whole


def test_rows_that_do_not_add_up_are_cried_out() -> None:
    broken = summary().model_copy(update={"rows": summary().rows + 1})
    assert "THE ROWS DO NOT ADD UP" in said(broken)


def test_every_outcome_of_the_summary_stands_in_its_table() -> None:
    lines = [line.split() for line in said(summary()).splitlines()]
    for outcome, number in summary().tyres.outcomes.items():
        assert any(line[:1] == [outcome] and f"{number}" in line for line in lines)


def test_numbers_of_a_table_stand_under_each_other() -> None:
    lines = said(summary()).splitlines()
    head = next(place for place, line in enumerate(lines) if line.split()[:2] == ["Zone", "injuries"])
    zones = [lines[head + 1 + place] for place in range(len(summary().zones))]
    end = lines[head].index("injuries") + len("injuries")
    for line, tally in zip(zones, sorted(summary().zones.values(), key=lambda one: -one.number), strict=True):
        assert line[:end].endswith(f" {tally.number}")


def test_what_strangers_wrote_is_plain() -> None:
    told = said(rude())
    assert "\x1b" not in told
    assert "<script>" in told


def test_nothing_reviewed_is_still_a_report() -> None:
    told = said(Summary())
    assert "0 rows came in" in told
    assert "Verdicts by" not in told
