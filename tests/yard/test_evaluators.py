"""Two evaluators, one answer: a yard judged by columns, its rows by durable-rules, and its tyres one by one.

The long run: python -m pytest -m long tests/yard/test_evaluators.py
"""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from functools import cache

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.columns.speak import HOLDS, SEVERITY, STOPS
from mendbook.facts.scenarios import TooManyChoices
from mendbook.rulebook.book import Rulebook
from mendbook.terms.docket import Docket
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop, judge
from mendbook.triage.evaluators import Asked, RuleEvaluator, rule_engine_is_available
from mendbook.triage.places import ImpossibleCase
from mendbook.yard.batch import Batch
from mendbook.yard.judging import YardEvaluator, YardJudged
from mendbook.yard.review import Reviewer
from tests.triage.cases import Tree, read
from tests.yard.decisions import unlike_rows
from tests.yard.made import Made, make, pieces
from tests.yard.single import trees
from tests.yard.spine import Spine, differences
from tests.yard.written import as_yard, draw_trees

DAY = date(2026, 11, 25)

needs_rule_engine = pytest.mark.skipif(not rule_engine_is_available(), reason="durable-rules cannot be imported here")


class AskedTwice(YardEvaluator):
    """The columns of a yard, where durable-rules must say the same of every row."""

    def __init__(self, columns: YardEvaluator, book: Rulebook) -> None:
        self.__dict__ |= columns.__dict__
        self._rules = RuleEvaluator(book)
        self.rows = 0

    def fold(self, stages: Sequence[str], subject: Subject, frame: pl.DataFrame, asked: Asked) -> pl.DataFrame:
        columns = super().fold(stages, subject, frame, asked)
        rules = self._rules.fold(stages, subject, frame, Asked())
        said = columns.select(pl.col(SEVERITY, HOLDS, STOPS).cast(pl.Int16))
        assert said.equals(rules), frame.filter(said.hash_rows() != rules.hash_rows()).to_dicts()[:1]
        self.rows += frame.height
        return columns


def judged_twice(made: Made, shop: Shop) -> int:
    """Judge a yard by both evaluators; return how many rows they agreed on."""
    spine = Spine(shop, lambda columns: AskedTwice(columns, shop.book))
    sound, faults = spine.read(made.tyres, made.injuries)
    assert faults.is_empty()
    spine.judge(sound)
    assert isinstance(spine.evaluator, AskedTwice)
    return spine.evaluator.rows


def judged_alone(tree: Tree, shop: Shop) -> Docket | None:
    """Return the docket of a tyre; None where it is refused."""
    try:
        return judge(read(tree, shop.book.vocabulary), shop)
    except (ImpossibleCase, TooManyChoices):
        return None


def compare(
    tyres: pl.DataFrame, injuries: pl.DataFrame, alone: Sequence[Docket | None], shop: Shop, spine: Spine
) -> int:
    """Compare what is heard of each tyre of a yard, and its rows in a review, with its docket; return how many were."""
    sound, _ = spine.read(tyres, injuries)
    told = spine.told(sound, spine.judge(sound))
    uses = dict(sound.tyres.select("tyre", "uses").iter_rows())
    stages = {rule.id: rule.stage for rule in spine.book.rules}
    rows = Reviewer(shop, DAY).review(Batch(tyres, injuries)).decisions.partition_by("tyre", as_dict=True)
    for number, docket in enumerate(alone):
        if docket is None:
            assert (number,) not in rows, f"tyre {number} is refused alone and decided in the yard"
            continue
        assert number in told, f"tyre {number} is judged alone and not in the yard"
        unlike = differences(told[number], docket, stages, uses[number])
        assert not unlike, f"tyre {number}: {unlike}"
        unlike = unlike_rows(rows.get((number,), pl.DataFrame()), docket, shop)
        assert not unlike, f"row of tyre {number}: {unlike}"
    return sum(docket is not None for docket in alone)


def all_alone(alone: Iterable[Tree], shop: Shop) -> list[Docket | None]:
    """Return the docket of each tyre."""
    return [judged_alone(tree, shop) for tree in alone]


@pytest.fixture(scope="module")
def spine(shop: Shop) -> Spine:
    return Spine(shop)


@pytest.fixture
def without_plans(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out what no part of a verdict or finding hangs on: cure minutes, and what better measuring would change."""
    monkeypatch.setattr("mendbook.triage.planning.plan_repairs", lambda *_: None)
    monkeypatch.setattr("mendbook.triage.outlook.handles", lambda *_: iter(()))


@needs_rule_engine
@pytest.mark.parametrize("seed", [1])
def test_durable_rules_says_the_same_of_every_row_of_a_yard(seed: int, shop: Shop) -> None:
    made = make(380, seed)
    assert made.injuries.height > 500
    assert judged_twice(made, shop) > 5_000


@needs_rule_engine
@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 120))
def test_durable_rules_says_the_same_of_every_row_of_a_yard_at_length(seed: int, shop: Shop) -> None:
    made = make(800, seed)
    assert made.injuries.height > 1_000
    assert judged_twice(made, shop) > 10_000


@cache
def fifty(seed: int, shop: Shop) -> tuple[Made, list[Docket | None]]:
    """Return a yard and the docket of each of its tyres, for tests without plans."""
    made = make(50, seed)
    return made, all_alone(trees(made), shop)


@pytest.mark.usefixtures("without_plans")
@pytest.mark.parametrize("seed", [21])
def test_a_tyre_of_a_yard_is_judged_as_it_is_alone(seed: int, shop: Shop, spine: Spine) -> None:
    made, alone = fifty(seed, shop)
    assert compare(made.tyres, made.injuries, alone, shop, spine) == 50


@pytest.mark.long
@pytest.mark.usefixtures("without_plans")
@pytest.mark.parametrize("seed", range(200, 220))
def test_a_tyre_of_a_yard_is_judged_as_it_is_alone_at_length(seed: int, shop: Shop, spine: Spine) -> None:
    made = make(150, seed)
    assert compare(made.tyres, made.injuries, all_alone(trees(made), shop), shop, spine) == 150


def draw_and_compare(data: st.DataObject, number: int, shop: Shop, spine: Spine) -> None:
    drawn = draw_trees(data, shop, number)
    compare(*as_yard(drawn), all_alone(drawn, shop), shop, spine)


@pytest.mark.usefixtures("without_plans")
@settings(max_examples=4, deadline=None)
@given(data=st.data())
def test_drawn_tyres_are_judged_as_they_are_alone(data: st.DataObject, shop: Shop, spine: Spine) -> None:
    draw_and_compare(data, 4, shop, spine)


@pytest.mark.long
@pytest.mark.usefixtures("without_plans")
@settings(max_examples=600, deadline=None)
@given(data=st.data())
def test_drawn_tyres_are_judged_as_they_are_alone_at_length(data: st.DataObject, shop: Shop, spine: Spine) -> None:
    draw_and_compare(data, 6, shop, spine)


@pytest.mark.usefixtures("without_plans")
def test_a_difference_would_be_told(shop: Shop, spine: Spine) -> None:
    """The comparison itself: a yard in which every injury is twice as long is not judged as it is alone."""
    made, alone = fifty(21, shop)
    wrong = made.injuries.with_columns(pl.lit("800 mm").alias("length"))
    with pytest.raises(AssertionError, match="verdict"):
        compare(made.tyres, wrong, alone, shop, spine)


def in_order(yard: YardJudged) -> pl.DataFrame:
    """Return the verdicts of a yard in an order that hangs on nothing but the tyres."""
    return yard.judged.verdicts.sort("variant", "use", "end")


def chunks(made: Made, size: int) -> list[Callable[[pl.DataFrame], pl.DataFrame]]:
    """Return the filters that take a yard apart into chunks of `size` tyres, the last of them first."""
    first, last = made.tyres["tyre"].min(), made.tyres["tyre"].max()
    return [
        lambda frame, start=start: frame.filter(pl.col("tyre").is_between(start, start + size, closed="left"))
        for start in reversed(range(first, last + 1, size))
    ]


def verdicts_of(made: Made, spine: Spine, size: int) -> pl.DataFrame:
    """Return the verdicts of a yard, judged in chunks of `size` tyres."""
    parts = []
    for chunk in chunks(made, size):
        sound, _ = spine.read(chunk(made.tyres), chunk(made.injuries))
        parts.append(in_order(spine.judge(sound)))
    return pl.concat(parts).sort("variant", "use", "end")


def test_how_a_yard_is_cut_up_changes_nothing(spine: Spine) -> None:
    made = make(600, seed=31)
    whole = verdicts_of(made, spine, 600)
    assert whole.equals(verdicts_of(made, spine, 97))
    assert whole.height > 3 * 500


@pytest.mark.long
def test_how_a_million_injuries_are_cut_up_changes_nothing(shop: Shop) -> None:
    injuries, spines = 0, (Spine(shop), Spine(shop))
    for made in pieces(700_000, seed=41, size=20_000):
        one, other = (verdicts_of(made, spine, size) for spine, size in zip(spines, (20_000, 3_001), strict=True))
        assert one.equals(other)
        injuries += made.injuries.height
    assert injuries > 1_000_000
