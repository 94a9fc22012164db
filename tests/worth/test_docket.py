"""Money never changes a verdict, and where it has no say its sum is struck out."""

import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from mendbook.card.printing import as_text
from mendbook.card.worth import worth_page
from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.docket import Docket
from mendbook.terms.document import Document, read_document
from mendbook.triage import Shop, judge
from mendbook.triage.replay import replay
from tests.worth.invented import WRITTEN, case

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CASES = sorted(path for path in EXAMPLES.rglob("*.yaml"))
STAMP = datetime(2026, 11, 25, 12, tzinfo=UTC)


def read(path: Path, shop: Shop, money: dict[str, Any] | None) -> Case:
    document = read_document(path)
    tree = {key: part for key, part in document.tree.items() if key != "money"}
    return check_case(
        Document(document.name, tree | ({} if money is None else {"money": money}), {(): 1}), shop.book.vocabulary
    )


def bare(docket: Docket) -> dict[str, Any]:
    """Return the docket without worth, and without the money among what was written."""
    told = docket.model_dump(mode="json", exclude={"worth"})
    told["written"].pop("money", None)
    return told


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_money_changes_nothing_but_the_worth(path: Path, shop: Shop) -> None:
    poor = judge(read(path, shop, None), shop, now=STAMP)
    rich = judge(read(path, shop, WRITTEN | {"new price": "9000000"}), shop, now=STAMP)
    assert poor.worth is None
    assert rich.worth is not None
    assert bare(poor) == bare(rich)


@pytest.mark.parametrize(
    ("name", "struck"),
    [
        ("quarry/loader_lightning", "stop: people first"),
        ("road/drive_axle_nail", "rejected by"),
        ("quarry/haul_truck_crown_edge", "rejected by the rulebook"),
        ("quarry/loader_sidewall_cut", ""),
    ],
)
def test_what_is_stopped_or_rejected_is_struck_out(name: str, struck: str, shop: Shop) -> None:
    docket = judge(read(EXAMPLES / f"{name}.yaml", shop, WRITTEN), shop, now=STAMP)
    assert docket.worth is not None
    assert docket.worth.struck.startswith(struck)
    assert bool(docket.worth.struck) == bool(struck)
    assert (docket.worth.best is None) == bool(struck)
    assert docket.worth.answer.startswith("Struck out. The sum alone would say: " if struck else "Repair it")


def test_a_rejection_by_law_says_that_nobody_may_waive_it(shop: Shop) -> None:
    worn = read_document(EXAMPLES / "road/drive_axle_nail.yaml").tree
    found = {"valve core": "out", "heat event": "none", "inside inspected": "yes", "pressure at removal": "8.2 bar",
             "worn to cord": "yes"}  # fmt: skip
    tree = worn | {"found": found, "money": WRITTEN}
    docket = judge(check_case(Document("invented", tree, {(): 1}), shop.book.vocabulary), shop, now=STAMP)
    assert (docket.outcome, docket.basis) == ("reject", "law")
    assert docket.worth is not None
    assert "nobody may waive it" in docket.worth.struck
    page = as_text(worth_page(docket, 100), 100)
    assert page.index("STRUCK OUT") < page.index("[x]")


def test_a_triage_without_money_does_not_wait_for_the_sum() -> None:
    told = (
        "import sys; from mendbook.cli.judging import judge_case; import mendbook.card.report;"
        f"judge_case({str(EXAMPLES / 'quarry/grader_scuff.yaml')!r}, None, law=None);"
        "print([name for name in ('mendbook.worth', 'scipy.stats', 'scipy.optimize') if name in sys.modules])"
    )
    path = os.pathsep.join(sys.path)
    done = subprocess.run(
        [sys.executable, "-c", told], capture_output=True, text=True, check=True, env=os.environ | {"PYTHONPATH": path}
    )
    assert done.stdout.strip() == "[]"


def test_what_is_held_counts_once_it_is_cleared(shop: Shop) -> None:
    docket = judge(read(EXAMPLES / "quarry/loader_ran_low.yaml", shop, WRITTEN), shop, now=STAMP)
    assert docket.worth is not None
    assert docket.worth.held
    assert not docket.worth.struck


def test_what_runs_on_needs_no_sum(shop: Shop) -> None:
    docket = judge(read(EXAMPLES / "quarry/grader_scuff.yaml", shop, WRITTEN), shop, now=STAMP)
    assert docket.worth is not None
    assert docket.worth.answer.startswith("Nothing is to be repaired")
    assert docket.worth.best is None


def test_a_docket_with_money_replays_to_the_letter(shop: Shop) -> None:
    money = WRITTEN | {"new price": "14800 ± 5 %", "mean life": "5000 to 13000 h"}
    docket = judge(case(shop.book.vocabulary, money), shop, now=STAMP)
    again = Docket.model_validate_json(docket.model_dump_json(by_alias=True))
    assert replay(again, shop).docket == docket
