"""Old decisions under another book: the flips are those that judging both ways finds."""

import json
from pathlib import Path

import orjson
import pytest

from mendbook.cli.entry import run
from mendbook.record import Decision, Record, Withdrawal, open_record
from mendbook.record.rejudging import rejudge
from mendbook.terms.case_file import check_case
from mendbook.terms.document import parse_document
from mendbook.triage import Shop, judge, open_shop
from tests.record.made import WHEN, decision

ROOT = Path(__file__).resolve().parents[2]
CUT = ROOT / "examples/quarry/loader_sidewall_cut.yaml"


def judged(shop: Shop, text: str) -> Decision:
    docket = judge(check_case(parse_document(text, "case.yaml"), shop.book.vocabulary), shop)
    return Decision(by="a", recorded=WHEN, docket=orjson.loads(docket.model_dump_json(by_alias=True)))


@pytest.fixture(scope="module")
def cuts(shop: Shop) -> tuple[Decision, Decision]:
    """A cut of 48 mm, and one of 28 mm."""
    text = CUT.read_text(encoding="utf-8")
    return judged(shop, text), judged(shop, text.replace("FH-117", "FH-118").replace("48 mm", "28 mm"))


@pytest.fixture
def kept(cuts: tuple[Decision, Decision], tmp_path: Path) -> Record:
    """Two cuts, a docket that holds no case, and one that was withdrawn."""
    record = open_record(str(tmp_path / "record.sqlite"), is_new_allowed=True)
    record.add_all([*cuts, decision("FH-119"), cuts[0]])
    record.add(Withdrawal(by="a", recorded=WHEN, corrects=4, note="twice"))
    return record


def test_the_same_book_gives_the_same_answers(kept: Record, shop: Shop) -> None:
    found = list(rejudge(kept, shop))
    assert [(one.decision, one.tag, one.is_same) for one in found] == [
        (1, "FH-117", True),
        (2, "FH-118", True),
        (3, "FH-119", False),
    ]
    assert "does not hold its case" in found[2].fault
    assert [one.decision for one in rejudge(kept, shop, tag="FH-118")] == [2]


def test_another_book_is_told_by_what_it_flips(
    kept: Record, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A limit is set between the two cuts; the shop's book says so, and only the longer cut flips."""
    own = tmp_path / "own"
    (own / "limits").mkdir(parents=True)
    (own / "rulebook.yaml").write_text(
        "rulebook: invented\nedition: first\ndate: 2026-11-26\nowner: nobody\n", encoding="utf-8"
    )
    table = (ROOT / "rules/limits/size_radial.yaml").read_text(encoding="utf-8")
    assert "W6: 60 x 150 mm, W7: 70 x 185 mm" in table
    (own / "limits/size_radial.yaml").write_text(table.replace("60 x 150 mm", "40 x 150 mm"), encoding="utf-8")
    (found,) = rejudge(kept, open_shop(own), tag="FH-117")
    assert found.flip is not None
    assert (found.flip.then.outcome, found.flip.now.outcome) == ("repair", "reject")
    assert run(["record", "replay", "--record", kept.name, "--rulebook", str(own)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert "1 come out the same, 1 otherwise, 1 cannot be judged again" in told
    assert "outcome repair -> reject" in told
    assert run(["record", "replay", "--record", kept.name, "--tag", "FH-118", "--json"]) == 0
    assert [one["same"] for one in json.loads(capsys.readouterr().out)] == [True]


def test_a_docket_of_another_program_is_told_and_the_rest_goes_on(
    cuts: tuple[Decision, Decision], shop: Shop, tmp_path: Path
) -> None:
    record = open_record(str(tmp_path / "record.sqlite"), is_new_allowed=True)
    good = cuts[1]
    record.add(good.model_copy(update={"docket": good.docket | {"of_a_later_program": 1}}))
    record.add(good)
    found = list(rejudge(record, shop))
    assert "is of another program (of_a_later_program" in found[0].fault
    assert found[1].is_same
