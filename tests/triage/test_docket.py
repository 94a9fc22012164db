"""The docket as a contract: same case, same bytes; reads back; fits its own schema."""

import json
from datetime import UTC, datetime
from pathlib import Path

import jsonschema
import pytest

from mendbook.terms.case_file import read_case
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, judge
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, read, triage

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
CASES: dict[str, Tree] = {
    "repair": but(LOADER, injuries=[CUT]),
    "reject": but(LOADER, injuries=[but(CUT, length="200 mm")]),
    "hold": but(LOADER, found={"pressure at removal": "unknown"}, injuries=[CUT]),
    "serve": LOADER,
    "stop": but(LOADER, found={"valve core": "in"}),
}


@pytest.mark.parametrize("outcome", CASES)
def test_the_outcome_is_one_word(outcome: str, shop: Shop) -> None:
    assert triage(CASES[outcome], shop).outcome == outcome


@pytest.mark.parametrize("outcome", CASES)
def test_the_same_case_gives_the_same_bytes_but_for_the_time(outcome: str, shop: Shop) -> None:
    case = read(CASES[outcome], shop.book.vocabulary)
    first = judge(case, shop, now=NOON).model_dump_json()
    later = judge(case, shop, now=datetime(2027, 1, 2, 3, 4, tzinfo=UTC)).model_dump_json()
    assert judge(case, shop, now=NOON).model_dump_json() == first
    assert later.replace("2027-01-02T03:04:00+00:00", NOON.isoformat()) == first


@pytest.mark.parametrize("outcome", CASES)
def test_a_docket_reads_back_and_fits_its_schema(outcome: str, shop: Shop) -> None:
    docket = triage(CASES[outcome], shop)
    written = docket.model_dump_json()
    assert Docket.model_validate_json(written) == docket
    schema = Docket.model_json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(written))


def test_ages_are_counted_to_the_day_the_case_was_judged(shop: Shop) -> None:
    dated = read(CASES["serve"], shop.book.vocabulary)
    assert judge(dated, shop, now=datetime(2036, 1, 1, tzinfo=UTC)).tyre.age == "3.3 years"
    undated = read(but(LOADER, judged_on=None), shop.book.vocabulary)
    assert judge(undated, shop, now=datetime(2036, 1, 1, tzinfo=UTC)).tyre.age == "12.4 years"


def test_every_finding_names_its_rule_its_line_and_a_source_of_a_kind(shop: Shop) -> None:
    docket = triage(CASES["repair"], shop)
    rules = {rule.id: rule for rule in shop.book.rules}
    assert docket.findings
    for finding in docket.findings:
        assert finding.line in [line.at for line in rules[finding.rule].lines]
        assert finding.because
        assert {source.kind for source in finding.sources} <= {"law", "standard", "guidance", "practice", "house"}


def test_what_the_case_leaves_out_is_listed_with_how_it_was_read(shop: Shop) -> None:
    assumed = triage(CASES["repair"], shop).assumed
    assert assumed["zipper signs"] == "none"
    assert assumed["A: separation halo"] == "0 mm"
    assert "valve core" not in assumed


def test_the_law_of_the_country_speaks_unless_another_is_asked_for(shop: Shop) -> None:
    worn = but(TRUCK, service={"country": "us"}, tyre={"tread depths": ["1.2 mm"] * 4})
    by_country, uk, none = (triage(worn, shop, law=law) for law in (None, "uk", "none"))
    assert (by_country.law, uk.law, none.law) == ("us", "uk", "none")
    # 1.2 mm is under the 2/32 in of the one and over the millimetre of the other.
    assert (by_country.verdict, uk.verdict, none.verdict) == ("reject", "leave", "leave")
    assert by_country.basis == "law"


def test_road_law_is_silent_off_the_road(shop: Shop) -> None:
    worn = but(LOADER, service={"country": "us"}, tyre={"tread depths": ["1.2 mm"] * 4})
    docket = triage(worn, shop)
    assert (docket.law, docket.verdict, docket.uses) == ("us", "leave", {"off-road": "leave", "road": "reject"})


def test_a_case_is_judged_from_a_file(tmp_path: Path, shop: Shop) -> None:
    path = tmp_path / "case.yaml"
    path.write_text('case: from a file\nfound: {valve core: out, heat event: none}\ntyre: {date code: "3123"}\n')
    docket = judge(read_case(path, shop.book.vocabulary), shop)
    assert docket.case == "from a file"


def test_a_nail_says_which_kind_of_source_decided(shop: Shop) -> None:
    docket = triage(but(TRUCK, injuries=[NAIL]), shop)
    assert (docket.verdict, docket.basis) == ("spot", "house")
