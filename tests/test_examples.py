"""Every example case stands beside the report that it gives. UPDATE_EXAMPLES=1 writes the reports anew."""

import os
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.card.worth import worth_page
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
CASES = sorted(path.relative_to(EXAMPLES).as_posix() for path in EXAMPLES.rglob("*.yaml"))
STAMP = datetime(2026, 11, 25, 12, tzinfo=UTC)

EXPECTED = {
    "container_yard/reach_handler_shoulder.yaml": ("repair", "reinforce"),
    "container_yard/straddle_apart.yaml": ("repair", "section"),
    "container_yard/straddle_pair.yaml": ("reject", "reject"),
    "quarry/grader_scuff.yaml": ("serve", "leave"),
    "quarry/haul_truck_crown_edge.yaml": ("reject", "reject"),
    "quarry/loader_before_skive.yaml": ("hold", "section"),
    "quarry/loader_lightning.yaml": ("stop", None),
    "quarry/loader_overruled.yaml": ("repair", "section"),
    "quarry/loader_ran_low.yaml": ("hold", "spot"),
    "quarry/loader_ran_low_x_rayed.yaml": ("repair", "spot"),
    "quarry/loader_sidewall_cut.yaml": ("repair", "section"),
    "quarry/loader_worth.yaml": ("repair", "section"),
    "road/drive_axle_nail.yaml": ("reject", "reject"),
}


def test_every_example_is_expected() -> None:
    assert set(CASES) == set(EXPECTED)


@pytest.mark.parametrize("name", CASES)
def test_the_report_beside_it_is_what_it_gives(name: str, shop: Shop) -> None:
    docket = judge(read_case(EXAMPLES / name, shop.book.vocabulary, name=name), shop, now=STAMP)
    printed = as_text(report(docket, width=100), width=100)
    beside = (EXAMPLES / name).with_suffix(".txt")
    if os.environ.get("UPDATE_EXAMPLES"):
        beside.write_text(printed, encoding="utf-8")
    assert (docket.outcome, docket.verdict) == EXPECTED[name]
    assert printed == beside.read_text(encoding="utf-8"), "run with UPDATE_EXAMPLES=1 and read what changed"


def test_the_page_of_worth_beside_it_is_what_it_gives(shop: Shop) -> None:
    name = "quarry/loader_worth.yaml"
    docket = judge(read_case(EXAMPLES / name, shop.book.vocabulary, name=name), shop, now=STAMP)
    printed = as_text(worth_page(docket, width=100), width=100)
    beside = (EXAMPLES / name).with_suffix(".worth.txt")
    if os.environ.get("UPDATE_EXAMPLES"):
        beside.write_text(printed, encoding="utf-8")
    assert printed == beside.read_text(encoding="utf-8"), "run with UPDATE_EXAMPLES=1 and read what changed"


@pytest.mark.parametrize("name", CASES)
def test_every_example_says_that_it_is_invented(name: str) -> None:
    assert (EXAMPLES / name).read_text(encoding="utf-8").startswith("# Invented")


@pytest.mark.parametrize("name", CASES)
def test_per_cent_stands_apart_from_its_number(name: str) -> None:
    # ISO 80000-1, 7.1.4: a space between number and unit, and % is one (from memory).
    assert re.findall(r"\d%", (EXAMPLES / name).with_suffix(".txt").read_text(encoding="utf-8")) == []
