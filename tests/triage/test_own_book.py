"""A shop's own book over the shipped one: what it changes, what it may not, and what the docket says of it."""

import shutil
from pathlib import Path

import pytest

from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.folders import folder
from mendbook.proof.permission import open_permitted
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.case_file import read_case
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, judge, open_shop
from mendbook.triage.shop import set_up

COVER = "rulebook: own\nedition: first\ndate: 2026-11-20\nowner: a foreman\n"
SHIPPED = Path(str(folder("rules")))


@pytest.fixture(scope="module")
def own_shop(root: Path) -> Shop:
    return open_shop(root / "shop_books/fell_hollow")


@pytest.fixture(scope="module")
def docket(own_shop: Shop, root: Path) -> Docket:
    return judge(read_case(root / "examples/quarry/loader_sidewall_cut.yaml", own_shop.book.vocabulary), own_shop)


def test_every_file_of_the_example_says_that_it_is_invented(root: Path) -> None:
    files = sorted((root / "shop_books").rglob("*.yaml"))
    assert len(files) == 6
    assert all(file.read_text(encoding="utf-8").startswith("# Invented") for file in files)


def opened(own: Path, files: dict[str, str], cover: str = COVER) -> Rulebook:
    for place, text in {"rulebook.yaml": cover, **files}.items():
        (own / place).parent.mkdir(parents=True, exist_ok=True)
        (own / place).write_text(text, encoding="utf-8")
    return open_permitted(folder("rules"), folder("knowledge"), own)


def shipped(place: str, before: str, after: str) -> dict[str, str]:
    """Return one file of the shipped rulebook with one change."""
    text = (SHIPPED / place).read_text(encoding="utf-8")
    assert before in text
    return {place: text.replace(before, after, 1)}


def test_the_docket_names_the_own_book_and_who_answers(docket: Docket, own_shop: Shop) -> None:
    own = docket.rulebook.own
    assert own is not None
    assert (own.name, own.owner) == ("Fell Hollow workshop book", "foreman of the Fell Hollow tyre workshop")
    assert docket.rulebook.digest != own.digest
    assert [(one.place, one.approved_by, one.on) for one in own.looser] == [
        ("limits/cords_steel_radial", "tyre engineer of the quarry", "2026-11-18")
    ]
    assert own_shop.book.own is not None
    assert own_shop.book.own.digest == own.digest


def test_a_finding_says_whose_it_is_and_what_is_looser_behind_it(docket: Docket) -> None:
    found = {finding.rule: finding for finding in docket.findings}
    assert found["identity/photograph"].own
    assert found["identity/photograph"].looser == ()
    assert not found["sidewall/through_steel_radial"].own
    assert [one.place for one in found["sidewall/through_steel_radial"].looser] == ["limits/cords_steel_radial"]


def test_the_report_says_it_in_the_head_beside_the_finding_and_in_the_record(docket: Docket) -> None:
    printed = " ".join(as_text(report(docket, 100), 100).split())
    assert (
        "Own book Fell Hollow workshop book, second edition, laid over the shipped book: looser in 1 place" in printed
    )
    assert "Looser than the shipped book, limits/cords_steel_radial: approved by tyre engineer of the quarry" in printed
    assert "Looser limits/cords_steel_radial: approved by tyre engineer of the quarry, 2026-11-18: Two years" in printed
    assert "identity/photograph:1, the shop's own" in printed


def test_a_docket_of_the_shipped_book_says_nothing_of_it(shop: Shop, root: Path) -> None:
    docket = judge(read_case(root / "examples/quarry/loader_sidewall_cut.yaml", shop.book.vocabulary), shop)
    assert docket.rulebook.own is None
    assert not any(finding.own or finding.looser for finding in docket.findings)


def test_a_whole_copy_with_one_number_changed_is_an_own_book(tmp_path: Path) -> None:
    own = shutil.copytree(SHIPPED, tmp_path / "own")
    assert open_permitted(folder("rules"), folder("knowledge"), own).own is not None
    changed = shipped("limits/size_radial.yaml", "W6: 60 x 150 mm", "W6: 60 x 140 mm")
    book = opened(own, changed, (SHIPPED / "rulebook.yaml").read_text(encoding="utf-8"))
    assert book.own is not None
    assert book.own.places == {"limits/size_radial"}
    [table] = [table for table in book.tables if table.id == "limits/size_radial"]
    facts = {"construction": "radial", "zone": "upper sidewall", "width class": "W6"}
    assert table.look_up("table width", facts) == 140


@pytest.mark.parametrize(
    ("place", "before", "after", "said"),
    [
        ("law/us/tread.yaml", "below 1.5875 mm", "below 1.5 mm", "Law cannot be loosened, by nobody: "),
        ("people/valve_core.yaml", "stop:", "caution:", "lacks the stop for valve core: in"),
        ("limits/duty_factor.yaml", "scraper: 0.85", "scraper: 0.90", "goes from 0.85 to 0.9 for duty: scraper"),
        ("limits/spacing.yaml", "W1: 60 mm", "W1: 50 mm", "goes from 60 to 50 mm for width class: W1, looser"),
        ("limits/round_down.yaml", "5 mm", "4 mm", "so it counts as looser"),
        ("service/mobile_crane.yaml", "{speed: 50", "{speed: 60", "the cap on speed of 50 km/h (it says 60 km/h)"),
    ],
)  # fmt: skip
def test_looser_than_the_shipped_book_is_refused(
    place: str, before: str, after: str, said: str, tmp_path: Path
) -> None:
    with pytest.raises(RulebookError) as refused:
        opened(tmp_path, shipped(place, before, after))
    assert said in str(refused.value)
    assert f"{tmp_path}/" in str(refused.value)


def test_law_stays_whoever_answers(tmp_path: Path) -> None:
    entry = "{rule: law/us/tread, approved by: the owner, on: 2026-11-20, why: It is worn here anyway.}"
    with pytest.raises(RulebookError, match="Law cannot be loosened") as refused:
        opened(tmp_path, {}, f"{COVER}withdraw: [law/us/tread]\nlooser:\n  - {entry}\n")
    assert "rests on 49 cfr 393.75, (c)." in str(refused.value)


RAMP = """\
rule: road ramp
asks: Is the tyre dry where vehicles pass?
applies to: {use: road}
when: {moisture: at least damp}
stop: Bar the ramp before anybody works beside it.
because: A wet tyre slides off its stand, and vehicles pass there.
source: common practice, handling of heavy tyres
examples:
  - {use: road, moisture: damp, says: stop}
  - {use: road, moisture: dry, says: nothing}
"""


@pytest.mark.parametrize(("use", "outcome"), [("road", "stop"), ("off-road", "hold")])
def test_a_stop_of_another_use_stops_nobody(use: str, outcome: str, tmp_path: Path, root: Path) -> None:
    own = set_up(opened(tmp_path, {"people/road_ramp.yaml": RAMP}))
    case = read_case(root / "examples/quarry/loader_sidewall_cut.yaml", own.book.vocabulary)
    damp = case.found.model_copy(update={"moisture": "damp"})
    service = case.service.model_copy(update={"use": use})
    assert judge(case.model_copy(update={"service": service, "found": damp}), own).outcome == outcome
