"""Where durable-rules cannot be imported the columns decide alone, give the same answer, and the docket says so."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge
from mendbook.triage.shop import set_up

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
STAMP = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def bare_shop(shop: Shop) -> Shop:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("mendbook.triage.shop.rule_engine_is_available", lambda: False)
        return set_up(shop.book)


@pytest.mark.parametrize("case", sorted(EXAMPLES.rglob("*.yaml")), ids=lambda path: path.stem)
def test_columns_alone_give_the_same_docket(case: Path, shop: Shop, bare_shop: Shop) -> None:
    both = judge(read_case(case, shop.book.vocabulary), shop, now=STAMP)
    alone = judge(read_case(case, bare_shop.book.vocabulary), bare_shop, now=STAMP)
    assert alone.evaluator == "columns"
    one, other = both.model_dump(exclude={"evaluator", "findings"}), alone.model_dump(exclude={"evaluator", "findings"})
    assert one == other
    assert sorted(both.findings, key=repr) == sorted(alone.findings, key=repr)
