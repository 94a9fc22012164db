"""Which way derived columns are worse: what rises is proven, what turns is told with the inputs that show it."""

from collections.abc import Callable, Iterable

import polars as pl
import pytest

from mendbook.proof.directions import Column, Directions, Turn
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary, Worse

long, left, where, damaged, maybe, free = (pl.col(n) for n in ("long", "left", "where", "damaged", "maybe", "free"))
GIVEN = (
    Column("long", Worse.BIGGER, low=0.0, high=100.0),
    Column("left", Worse.SMALLER, low=0.0, high=50.0),
    Column("damaged", Worse.LATER, values=("none", "some", "all")),
    Column("where", Worse.NEITHER, values=("top", "foot")),
    Column("maybe", Worse.BIGGER, low=0.0, high=10.0, is_nullable=True),
    Column("free", Worse.NEITHER, low=-10.0, high=10.0),
)
MARK = Fact("mark", "mark", Subject.INJURY, Worse.LATER, values=("good", "fair", "bad"))
SHARE = Fact("share", "share", Subject.INJURY, Worse.BIGGER, unit="%", low=0.0, high=200.0)
ROOM = Fact("room", "room", Subject.INJURY, Worse.SMALLER, unit="mm", low=0.0, high=200.0)


def directions(*facts: Fact, given: Iterable[Column] = GIVEN) -> Directions:
    return Directions(given, Vocabulary({fact.name: fact for fact in facts}, {}))


def followed(expression: pl.Expr, *facts: Fact, name: str = "found") -> Directions:
    found = directions(*facts)
    found.follow(name, expression)
    return found


@pytest.mark.parametrize(
    ("expression", "worse"),
    [
        (long + 3.0, Worse.BIGGER),
        (long - left, Worse.BIGGER),
        (left - long, Worse.SMALLER),
        (left * 2.0 - long, Worse.SMALLER),
        (pl.max_horizontal(long, 100.0 - left).clip(5.0, 60.0).round(1), Worse.BIGGER),
        (long * long, Worse.BIGGER),
        (long / (left + 1.0), Worse.BIGGER),
        ((left + 1.0) / (long + 1.0), Worse.SMALLER),
        (pl.when(where == "top").then(long).otherwise(long * 2.0), Worse.BIGGER),
        (pl.when(damaged == "all").then(100.0).otherwise(long), Worse.BIGGER),
        (pl.when(damaged == "none").then(9.0).when(damaged == "some").then(7.0).otherwise(2.0), Worse.SMALLER),
        (long.floor() + (long + 1.0).sqrt(), Worse.BIGGER),
        (damaged == "all", Worse.BIGGER),
        (free + 1.0, Worse.NEITHER),
        (pl.when(where == "top").then(2.0).otherwise(-1.0), Worse.NEITHER),
    ],
)
def test_what_keeps_its_direction_is_proven(expression: pl.Expr, worse: Worse) -> None:
    found = followed(expression)
    assert found.turns == []
    assert found.columns["found"].worse is worse
    assert found.proven == ([] if worse is Worse.NEITHER else ["found"])


@pytest.mark.parametrize(
    "expression",
    [
        long + left,
        long * free,
        (long - 20.0).abs(),
        (long - 50.0) ** 2,
        pl.when(long > 20.0).then(1.0).when(long > 10.0).then(2.0).otherwise(0.0),
        pl.when(damaged == "some").then(1.0).otherwise(0.0),
        pl.when(where == "top").then(long).otherwise(0.0 - long),
        damaged == "some",
    ],
)
def test_what_turns_is_told(expression: pl.Expr) -> None:
    found = followed(expression)
    assert found.proven == []
    assert {turn.column for turn in found.turns} == {"found"}
    assert not any(turn.is_unsettled for turn in found.turns)


def test_a_turn_shows_inputs_in_order_with_results_that_are_not() -> None:
    found = followed(pl.when(long > 20.0).then(50.0).otherwise(long * 5.0), SHARE, name="share")
    [turn] = found.turns
    assert turn.wanted is Worse.BIGGER
    first, second = (float(side["long"]) for side in (turn.first, turn.second))
    assert first < second

    def share(length: float) -> float:
        return 50.0 if length > 20.0 else length * 5.0

    assert share(first) > share(second)


def test_the_vocabulary_names_the_direction_that_is_proven() -> None:
    assert followed(100.0 - left, SHARE, name="share").proven == ["share"]
    wrong = followed(100.0 - long, SHARE, name="share")
    assert [turn.wanted for turn in wrong.turns] == [Worse.BIGGER]
    assert followed(100.0 - long, ROOM, name="room").proven == ["room"]
    assert followed(free + long, replaced(ROOM, Worse.NEITHER), name="room").turns != []


def replaced(fact: Fact, worse: Worse) -> Fact:
    return Fact(fact.name, fact.means, fact.subject, worse, unit=fact.unit, low=fact.low, high=fact.high)


@pytest.mark.parametrize(("middle", "is_proven"), [("fair", True), ("bad", True), ("good", False)])
def test_a_list_from_good_to_bad_is_followed(middle: str, is_proven: bool) -> None:
    bad = pl.when(long > 60.0).then(pl.lit("bad"))
    expression = bad.when(long > 30.0).then(pl.lit(middle)).when(long > 10.0).then(pl.lit("fair"))
    found = followed(expression.otherwise(pl.lit("good")), MARK, name="mark")
    assert (found.proven == ["mark"]) is is_proven
    assert found.columns["mark"].values == MARK.values


@pytest.mark.parametrize(("near", "far"), [("good", "bad"), ("bad", "good")])
def test_a_list_that_is_worse_in_neither_direction_may_not_change(near: str, far: str) -> None:
    """Else the two cases could stand in different lists of a rule or table, and nobody would look."""
    plain = Fact("mark", "mark", Subject.INJURY, Worse.NEITHER, values=MARK.values)
    moved = followed(pl.when(long > 60.0).then(pl.lit(far)).otherwise(pl.lit(near)), plain, name="mark")
    assert [turn.wanted for turn in moved.turns] == [Worse.NEITHER]
    assert moved.proven == []
    still = followed(pl.when((long > 60.0) & (where == "top")).then(pl.lit(near)).otherwise(pl.lit(near)), plain,
                     name="mark")  # fmt: skip
    assert still.turns == []


def test_steps_are_followed_one_after_another() -> None:
    found = directions()
    found.follow("size", long * 2.0)
    found.follow("room left", left * 3.0 - pl.col("size"))
    found.follow("turned", pl.col("size") + left)
    assert found.proven == ["size", "room left"]
    assert [found.columns[name].worse for name in ("size", "room left")] == [Worse.BIGGER, Worse.SMALLER]
    assert {turn.column for turn in found.turns} == {"turned"}


def test_columns_that_hang_together_are_looked_into() -> None:
    """Taken alone, size and room left pull against each other; from what they follow, one outweighs the other."""
    found = directions()
    found.follow("size", long * 2.0)
    found.follow("room left", 300.0 - long)
    assert found.columns["room left"].worse is Worse.SMALLER
    found.follow("both", pl.col("size") + pl.col("room left"))
    assert found.turns == []
    assert found.columns["both"].worse is Worse.BIGGER


@pytest.mark.parametrize("stand_in", [0.0, 99.0])
def test_a_null_is_judged_where_it_is_used(stand_in: float) -> None:
    """What a table leaves out is left out of both cases; a share of it is then null in both, never in one."""
    found = directions()
    found.table("limit", ["where"], [10.0, None])
    found.follow("share", long / pl.col("limit"))
    assert found.columns["share"].is_nullable
    found.follow("taken", pl.col("share").fill_null(stand_in))
    assert found.proven == ["share", "taken"]
    assert not found.columns["taken"].is_nullable
    found.expect("expected", pl.col("share").fill_null(stand_in), Worse.BIGGER, long > 0.0)
    assert found.turns == []


def test_whether_a_given_column_is_null_may_differ_between_the_cases() -> None:
    assert followed(maybe.fill_null(3.0)).turns != []


def test_ends_of_what_is_derived_are_known() -> None:
    assert followed(long + 1.0).columns["found"].low == 0.0
    assert followed(long - 1.0).columns["found"].low is None
    assert followed(long + 1.0, SHARE, name="share").columns["share"].high == SHARE.high


def test_a_condition_is_worse_where_it_holds() -> None:
    found = directions()
    found.follow("is long", long > 50.0)
    assert found.columns["is long"].is_condition
    found.follow("cost", pl.when(pl.col("is long")).then(9.0).otherwise(4.0))
    found.follow("gain", pl.when(pl.col("is long")).then(4.0).otherwise(9.0))
    assert found.turns == []
    assert [found.columns[name].worse for name in ("cost", "gain")] == [Worse.BIGGER, Worse.SMALLER]


def test_a_table_of_listed_keys_gives_its_numbers() -> None:
    found = directions()
    found.table("limit", ["where"], [10.0, 20.0, None, 10.0])
    assert found.columns["limit"] == Column("limit", Worse.NEITHER, values=(10.0, 20.0, None), is_nullable=True)
    found.follow("used", long / pl.col("limit").fill_null(5.0))
    assert found.proven == ["used"]
    assert found.turns == []


def test_a_table_by_what_has_a_direction_is_refused() -> None:
    with pytest.raises(ValueError, match="'limit' hangs on 'damaged', which has a direction"):
        directions().table("limit", ["where", "damaged"], [10.0, 20.0])


@pytest.mark.parametrize(
    ("given", "is_proven"),
    [(lambda: long > 20.0, True), (lambda: long > 10.0, False), (lambda: where == "top", False)],
)
def test_an_expectation_holds_where_its_condition_does(given: Callable[[], pl.Expr], is_proven: bool) -> None:
    found = directions()
    found.expect("beyond", (long - 20.0).abs(), Worse.BIGGER, given())
    assert found.proven == (["beyond"] if is_proven else [])
    assert [turn.column for turn in found.turns] == ([] if is_proven else ["beyond"])


def test_an_expectation_of_the_other_direction_fails() -> None:
    found = directions()
    found.expect("beyond", long + 1.0, Worse.SMALLER, long > 0.0)
    [turn] = found.turns
    assert isinstance(turn, Turn)
    assert float(turn.first["long"]) < float(turn.second["long"])
